"""Gauges, what they showed, test runs and daily runs: requests and answers."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.domain.daily_log import CODES
from spares.domain.gauges import STATES, TRENDS
from spares.web.schemas.base import (
    Answer,
    Asked,
    VesselQuery,
    a_number,
    a_text,
    a_whole,
    many,
    maybe,
    one,
    one_of,
)
from spares.web.schemas.do import Change
from spares.web.schemas.values import Day, PlainText, hours, reference, remark


def _figure(about: str, *, required: bool = False) -> fields.Raw:
    return fields.Raw(required=required, allow_none=not required, metadata={
        "type": ["number", "string"], "description": about})


def _whole(most: int, about: str) -> fields.Integer:
    return fields.Integer(strict=True, allow_none=True, validate=validate.Range(0, most),
                          metadata={"description": about})


class Gauge(Change):
    """gauge: what is read at a machine, and the limits of the maker's book."""

    machine = reference("machine", required=True)
    name = PlainText(longest=100, shortest=1, required=True)
    unit = PlainText(longest=20, allow_none=True)
    place = PlainText(longest=200, allow_none=True)
    low = _figure("lower limit, in the gauge's unit; empty text: none")
    high = _figure("upper limit, in the gauge's unit; empty text: none")
    source = PlainText(longest=300, allow_none=True, metadata={
        "description": "where the limits stand: book and page"})
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    cleaned_by = PlainText(longest=200, allow_none=True, metadata={
        "description": "service after which a trend begins anew; empty text: none"})
    note = remark()


class Gauged(Change):
    """gauged: what a gauge of a machine shows."""

    machine = reference("machine", required=True)
    name = PlainText(longest=100, shortest=1, required=True)
    value = _figure("in the gauge's unit, comma or point", required=True)
    unit = PlainText(longest=20, allow_none=True, metadata={
        "description": "needed for a gauge that nobody wrote down yet"})
    run = hours(data_key="hours", allow_none=True)
    rpm = _whole(100_000, "speed [1/min]")
    load_percent = _whole(200, "load [%]")
    place = PlainText(longest=200, allow_none=True)
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    note = remark()


class RunFigure(Asked):
    """A figure of a test run."""

    name = PlainText(longest=100, shortest=1, required=True)
    unit = PlainText(longest=20, allow_none=True)
    minute = _whole(10_000, "minute mark [min]")
    value = _figure("in the gauge's unit", required=True)


class TestRun(Change):
    """test-run: the first run after work: figures by minute, leaks, who accepted it."""

    machine = reference("machine", required=True)
    service = reference("service that it followed", allow_none=True)
    readings = fields.List(fields.Nested(RunFigure), validate=validate.Length(max=200))
    leaks = remark()
    accepted_by = PlainText(longest=100, allow_none=True)
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    note = remark()


class Shown(Answer):
    """What a gauge showed."""

    on = a_text()
    value = a_number()
    hours = a_number("[h]", null=True)
    rpm = a_whole("[1/min]", null=True)
    load_percent = a_whole("[%]", null=True)
    minute = a_whole("minute mark of a test run [min]", null=True)
    service = maybe("that the test run followed")


class Since(Answer):
    """From when a trend is reckoned."""

    on = a_text()
    what = a_text()


class Trend(Answer):
    """Where a gauge is going, by the median of the slopes between all pairs of readings."""

    code = one_of(TRENDS)
    slope = a_number("per hour or day [the gauge's unit]", null=True)
    step = a_whole("10 h or 30 d, for which it is said")
    step_unit = one_of(("h", "d"))
    readings = a_whole("how many speak")
    agreeing = a_whole("pairs that go the way of most")
    pairs = a_whole("all pairs")
    now = a_number("the line at the last reading", null=True)
    left = a_number("until the limit, in step_unit", null=True)


class GaugeLine(Answer):
    """A gauge with its limits, last readings and trend."""

    gauge = a_text()
    machine = a_text()
    name = a_text()
    unit = maybe()
    place = maybe()
    low = a_number(null=True)
    high = a_number(null=True)
    source = maybe("where the limits stand")
    by = maybe("who entered them")
    on = maybe("when they were entered")
    cleaned_by = maybe("service")
    state = one_of(STATES)
    last = one(Shown, null=True)
    readings = many(Shown, "newest first")
    since = one(Since, null=True)
    trend = one(Trend)
    says = a_text("the trend and the limits in a sentence")


class RunShown(Answer):
    """A figure of a test run."""

    name = a_text()
    unit = maybe()
    minute = a_whole("[min]")
    value = a_number()


class TestRunLine(Answer):
    """What was seen and accepted at a test run."""

    machine = a_text()
    on = a_text()
    service = maybe()
    leaks = maybe()
    accepted_by = maybe()
    by = maybe()
    readings = many(RunShown)


class GaugesQuery(VesselQuery):
    """Whose gauges are asked for."""

    machine = PlainText(longest=200)


class GaugesAnswer(Answer):
    """Gauges and test runs."""

    gauges = many(GaugeLine)
    test_runs = many(TestRunLine)


class DailyRun(Change):
    """daily-run: what a machine ran, burned and put back on one day."""

    machine = reference("machine", required=True)
    trip = reference("trip whose plan it is held to", allow_none=True)
    run = hours(data_key="hours", allow_none=True)
    litres = _figure("fuel burned that day [L]")
    charge_ah = _figure("charge put back [Ah]")
    amps = _figure("current while it charged [A]")
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    note = remark()


class Tightened(Change):
    """tightened: the torque used at a joint, and when it is tightened again."""

    joint = reference("joint sheet", required=True)
    torque_used = PlainText(longest=200, shortest=1, required=True)
    again_on = Day(allow_none=True)
    again_at = hours(allow_none=True)
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    note = remark()


class ADay(Answer):
    """The hours, litres and charge of a day, planned or as a mean."""

    hours_per_day = a_number("[h]", null=True)
    litres_per_day = a_number("[L]", null=True)
    charge_ah_per_day = a_number("[Ah]", null=True)


class MeanDay(ADay):
    """What the recorded days come to."""

    days = a_whole("how many")
    litres_per_hour = a_number("[L/h]", null=True)
    amps = a_number("[A]", null=True)


class Beside(Answer):
    """How each stands to the plan."""

    hours_per_day = one_of(CODES)
    litres_per_day = one_of(CODES)
    charge_ah_per_day = one_of(CODES)


class DayRun(Answer):
    """One recorded day."""

    on = a_text()
    machine = a_text()
    hours = a_number("[h]", null=True)
    litres = a_number("[L]", null=True)
    charge_ah = a_number("[Ah]", null=True)
    amps = a_number("[A]", null=True)
    by = maybe()
    note = maybe()


class DaysAnswer(Answer):
    """The daily run of a trip as it was, beside the plan."""

    trip = a_text()
    name = maybe()
    machine = maybe("that charges, by the plan")
    planned = one(ADay, null=True)
    real = one(MeanDay)
    beside = one(Beside)
    days = many(DayRun, "newest first")


class Lesson(Change):
    """lesson: who learned a job, what was seen, which adult confirms it."""

    service = reference("service", required=True)
    learner = PlainText(longest=100, shortest=1, required=True)
    seen = remark()
    confirmed_by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    note = remark()
