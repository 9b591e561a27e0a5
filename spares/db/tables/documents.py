"""One table for each kind of document: the value shown of each of its fields.

The columns follow `domain.documents.DOCUMENTS`, and a test holds the two alike.
Texts that name another document (`kind/uuid`) have no foreign key: a change may
name a thing that has not arrived yet, and reality is never refused for it.
"""

from sqlalchemy import BigInteger, Column, Index, Text, text
from sqlmodel import JSON, Field

from spares.db.tables.base import Document
from spares.db.tables.trails import TrailDoc, TrailPlaceDoc


class VesselDoc(Document, table=True):
    __tablename__ = "vessel"
    mark: str | None = Field(default=None, index=True)
    name: str | None = None
    about: str | None = Field(default=None, sa_type=Text)
    base: str | None = None
    baseline_on: str | None = None


class MachineDoc(Document, table=True):
    __tablename__ = "machine"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    model: str | None = None
    maker: str | None = None
    serial: str | None = None
    place: str | None = None
    counter: str | None = None
    counter_of: str | None = None
    code: str | None = Field(default=None, index=True)
    hazards: str | None = None
    weight: str | None = None
    burns: dict | None = Field(default=None, sa_column=Column(JSON))
    note: str | None = Field(default=None, sa_type=Text)


class PointDoc(Document, table=True):
    __tablename__ = "point"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    machine: str | None = Field(default=None, index=True)
    parent: str | None = Field(default=None, index=True)
    as_part: str | None = None
    template: str | None = None
    pieces: int | None = None
    weight: str | None = None
    kind: str | None = None
    place: dict | None = Field(default=None, sa_column=Column(JSON))
    hazards: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class InnerDoc(Document, table=True):
    __tablename__ = "inner_point"
    no: str | None = None
    name: str | None = None
    part: str | None = Field(default=None, index=True)
    pieces: int | None = None
    weight: str | None = None
    kind: str | None = None
    place: dict | None = Field(default=None, sa_column=Column(JSON))


class RequirementDoc(Document, table=True):
    __tablename__ = "requirement"
    subject: str | None = Field(default=None, index=True)
    attribute: str | None = None
    claim: dict | None = Field(default=None, sa_column=Column(JSON))


class SpecDoc(Document, table=True):
    __tablename__ = "spec"
    part: str | None = Field(default=None, index=True)
    attribute: str | None = None
    claim: dict | None = Field(default=None, sa_column=Column(JSON))


class PartDoc(Document, table=True):
    __tablename__ = "part"
    __table_args__ = (Index("ix_part_no_upper", "vessel", text("upper(no)")),)
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    maker: str | None = None
    number: str | None = None
    kind: str | None = None
    unit: str | None = None
    made: str | None = None
    dropped_on: str | None = None
    taken_over_by: str | None = None
    price: dict | None = Field(default=None, sa_column=Column(JSON))
    lead_days: int | None = None
    pack: int | None = Field(default=None, sa_type=BigInteger)
    mass_g: int | None = Field(default=None, sa_type=BigInteger)
    seller: str | None = None
    use: str | None = None
    note: str | None = Field(default=None, sa_type=Text)
    left_over: str | None = None
    left_over_note: str | None = Field(default=None, sa_type=Text)


class NumberDoc(Document, table=True):
    __tablename__ = "cross_number"
    part: str | None = Field(default=None, index=True)
    maker: str | None = None
    number: str | None = None
    what: str | None = None


class LinkDoc(Document, table=True):
    __tablename__ = "link"
    part: str | None = Field(default=None, index=True)
    to: str | None = Field(default=None, index=True)
    use: str | None = None
    role: str | None = None
    proof: str | None = None
    with_part: str | None = None
    note: str | None = Field(default=None, sa_type=Text)
    on: str | None = None


class StandInDoc(Document, table=True):
    __tablename__ = "stand_in"
    part: str | None = Field(default=None, index=True)
    for_part: str | None = Field(default=None, index=True)
    proof: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class LockerDoc(Document, table=True):
    __tablename__ = "locker"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    parent: str | None = None
    code: str | None = Field(default=None, index=True)
    aboard: bool | None = None
    reachable: bool | None = None
    lent_to: str | None = None
    climate: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class LotDoc(Document, table=True):
    __tablename__ = "lot"
    part: str | None = Field(default=None, index=True)
    condition: str | None = None
    expires: str | None = None
    batch: str | None = None
    reserved: int | None = Field(default=None, sa_type=BigInteger)
    code: str | None = Field(default=None, index=True)
    lies_in: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class ServiceDoc(Document, table=True):
    __tablename__ = "service"
    no: str | None = Field(default=None, index=True)
    what: str | None = None
    machine: str | None = Field(default=None, index=True)
    point: str | None = None
    every_minutes: int | None = None
    every_months: int | None = None
    first_minutes: int | None = None
    weight: str | None = None
    cautions: str | None = None
    in_port: bool | None = None
    not_wanted: bool | None = None
    steps: str | None = Field(default=None, sa_type=Text)
    note: str | None = Field(default=None, sa_type=Text)


class ServiceAtDoc(Document, table=True):
    __tablename__ = "service_at"
    service: str | None = Field(default=None, index=True)
    point: str | None = None


class KitLineDoc(Document, table=True):
    __tablename__ = "kit_line"
    service: str | None = Field(default=None, index=True)
    part: str | None = None
    q: int | None = Field(default=None, sa_type=BigInteger)
    set_aside: bool | None = None
    share: str | None = None


class KeepDoc(Document, table=True):
    __tablename__ = "keep"
    part: str | None = None
    q: int | None = Field(default=None, sa_type=BigInteger)


class TripDoc(Document, table=True):
    __tablename__ = "trip"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    departs_on: str | None = None
    returns_on: str | None = None
    hours_before_departure: str | None = None
    ready_days: int | None = None
    protection: dict | None = Field(default=None, sa_column=Column(JSON))
    limits: dict | None = Field(default=None, sa_column=Column(JSON))
    crew: int | None = None
    legs: list | None = Field(default=None, sa_column=Column(JSON))
    at_anchor: dict | None = Field(default=None, sa_column=Column(JSON))
    energy: dict | None = Field(default=None, sa_column=Column(JSON))
    water: dict | None = Field(default=None, sa_column=Column(JSON))
    fuel: dict | None = Field(default=None, sa_column=Column(JSON))
    stops: list | None = Field(default=None, sa_column=Column(JSON))
    prices: dict | None = Field(default=None, sa_column=Column(JSON))
    count_failures: bool | None = None
    border: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class TripHoursDoc(Document, table=True):
    __tablename__ = "trip_hours"
    trip: str | None = Field(default=None, index=True)
    machine: str | None = None
    minutes: int | None = None


class TripAcceptDoc(Document, table=True):
    __tablename__ = "trip_accept"
    trip: str | None = Field(default=None, index=True)
    part: str | None = None
    by: str | None = None
    on: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class FailureDoc(Document, table=True):
    __tablename__ = "failure"
    part: str | None = Field(default=None, index=True)
    machine: str | None = None
    point: str | None = None
    figures: dict | None = Field(default=None, sa_column=Column(JSON))
    origin: dict | None = Field(default=None, sa_column=Column(JSON))
    renewed_by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class OrderDoc(Document, table=True):
    __tablename__ = "order_line"
    no: str | None = Field(default=None, index=True)
    part: str | None = Field(default=None, index=True)
    trip: str | None = None
    q: int | None = Field(default=None, sa_type=BigInteger)
    seller: str | None = None
    price: dict | None = Field(default=None, sa_column=Column(JSON))
    wanted_on: str | None = None
    ordered_on: str | None = None
    promised_on: str | None = None
    arrived_on: str | None = None
    stowed_on: str | None = None
    cancelled_on: str | None = None
    locker: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


DOCUMENT_TABLES: dict[str, type[Document]] = {
    "vessel": VesselDoc, "machine": MachineDoc, "point": PointDoc, "inner": InnerDoc,
    "requirement": RequirementDoc, "spec": SpecDoc, "part": PartDoc, "number": NumberDoc,
    "link": LinkDoc, "stand-in": StandInDoc, "locker": LockerDoc, "lot": LotDoc,
    "service": ServiceDoc, "service-at": ServiceAtDoc, "kit-line": KitLineDoc, "keep": KeepDoc,
    "trip": TripDoc, "trip-hours": TripHoursDoc, "trip-accept": TripAcceptDoc,
    "failure": FailureDoc, "order": OrderDoc, "trail": TrailDoc, "trail-place": TrailPlaceDoc,
}
