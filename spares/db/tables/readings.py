"""Tables of documents about how she runs: gauges and what they showed, test runs, daily runs,
what was tightened, counts in doubt, lessons. They follow `domain.document_kinds.DOCUMENTS`.
"""

from sqlalchemy import BigInteger, Text
from sqlmodel import Field

from spares.db.tables.documents import Document


class GaugeDoc(Document, table=True):
    __tablename__ = "gauge"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    machine: str | None = Field(default=None, index=True)
    unit: str | None = None
    place: str | None = None
    low: str | None = None
    high: str | None = None
    source: str | None = Field(default=None, sa_type=Text)
    by: str | None = None
    on: str | None = None
    cleaned_by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class GaugeReadingDoc(Document, table=True):
    __tablename__ = "gauge_reading"
    gauge: str | None = Field(default=None, index=True)
    on: str | None = None
    value: str | None = None
    minutes: int | None = Field(default=None, sa_type=BigInteger)
    rpm: int | None = None
    load_percent: int | None = None
    service: str | None = None
    minute: int | None = None
    by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class TestRunDoc(Document, table=True):
    __test__ = False        # whatever its name, it is none of pytest's
    __tablename__ = "test_run"
    machine: str | None = Field(default=None, index=True)
    service: str | None = None
    on: str | None = None
    leaks: str | None = Field(default=None, sa_type=Text)
    accepted_by: str | None = None
    by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class DailyRunDoc(Document, table=True):
    __tablename__ = "daily_run"
    machine: str | None = Field(default=None, index=True)
    on: str | None = None
    trip: str | None = None
    minutes: int | None = Field(default=None, sa_type=BigInteger)
    litres: str | None = None
    charge_ah: str | None = None
    amps: str | None = None
    by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class JointRecordDoc(Document, table=True):
    __tablename__ = "joint_record"
    joint: str | None = Field(default=None, index=True)
    on: str | None = None
    torque_used: str | None = None
    again_on: str | None = None
    again_at_minutes: int | None = Field(default=None, sa_type=BigInteger)
    by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class CountDoubtDoc(Document, table=True):
    __tablename__ = "count_doubt"
    part: str | None = Field(default=None, index=True)
    locker: str | None = None
    on: str | None = None
    by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class LessonDoc(Document, table=True):
    __tablename__ = "lesson"
    service: str | None = Field(default=None, index=True)
    learner: str | None = None
    on: str | None = None
    seen: str | None = Field(default=None, sa_type=Text)
    confirmed_by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


READING_TABLES: dict[str, type[Document]] = {
    "gauge": GaugeDoc, "gauge-reading": GaugeReadingDoc, "test-run": TestRunDoc,
    "daily-run": DailyRunDoc, "joint-record": JointRecordDoc, "count-doubt": CountDoubtDoc,
    "lesson": LessonDoc,
}
