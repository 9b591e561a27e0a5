"""JSON in, JSON out for the best kit."""

from __future__ import annotations

from typing import Any

from marshmallow import ValidationError, fields, validate, validates_schema

from spares.domain.provision import Limits, Line, best_kit
from spares.domain.provision.counts import poisson
from spares.errors import OutOfRange
from spares.transfer.compute.figures import kilograms, money
from spares.transfer.compute.numbers import Exact, Grams, Minor, Shape, Whole

_AT_LEAST_0 = validate.Range(min=0)
_MOST_MEAN = 10_000


class LineShape(Shape):
    """A part: expected failures or their probabilities, price, mass, pieces aboard."""

    part = fields.String(required=True)
    mu = Exact(validate=validate.Range(min=0, max=_MOST_MEAN))
    pmf = fields.List(Exact(validate=validate.Range(min=0, max=1)),
                      validate=validate.Length(min=1))
    cost = Minor(allow_none=True, load_default=None, validate=_AT_LEAST_0)
    mass_kg = Grams(allow_none=True, load_default=None, validate=_AT_LEAST_0)
    aboard = Whole(load_default=0, validate=_AT_LEAST_0)

    @validates_schema
    def one_figure(self, data: dict[str, Any], **kwargs: Any) -> None:
        """Let exactly one failure figure stand."""
        if ("mu" in data) == ("pmf" in data):
            raise ValidationError("exactly one of mu and pmf is needed", "mu")
        if sum(data.get("pmf", ())) > 1 + 1e-9:
            raise ValidationError("probabilities add up to more than 1", "pmf")


class LimitsShape(Shape):
    """What may be spent, inclusive."""

    cost = Minor(allow_none=True, load_default=None, validate=_AT_LEAST_0)
    mass_kg = Grams(allow_none=True, load_default=None, validate=_AT_LEAST_0)


class Request(Shape):
    """Lines, and either limits or a level of the whole kit."""

    lines = fields.List(fields.Nested(LineShape), required=True)
    limits = fields.Nested(LimitsShape, allow_none=True, load_default=None)
    level = Exact(allow_none=True, load_default=None, validate=validate.Range(
        min=0, max=1, min_inclusive=False, max_inclusive=False))

    @validates_schema
    def one_question(self, data: dict[str, Any], **kwargs: Any) -> None:
        """Let exactly one question stand, and no line without what it turns on."""
        limits, level = data["limits"], data["level"]
        if (limits is None) == (level is None):
            raise ValidationError("exactly one of limits and level is needed", "limits")
        if limits is not None and limits["cost"] is None and limits["mass_kg"] is None:
            raise ValidationError("a limit of cost or mass_kg is needed", "limits")
        turns_on = ["cost"] if limits is None else [k for k in limits if limits[k] is not None]
        missing = {place: {key: ["is needed"] for key in turns_on if line[key] is None}
                   for place, line in enumerate(data["lines"])}
        missing = {place: keys for place, keys in missing.items() if keys}
        if missing:
            raise ValidationError({"lines": missing})
        names = [line["part"] for line in data["lines"]]
        twice = {place: {"part": ["stands here twice"]} for place, name in enumerate(names)
                 if name in names[:place]}
        if twice:
            raise ValidationError({"lines": twice})


def answer(loaded: dict[str, Any]) -> dict[str, Any]:
    """Give what to buy, what it takes, what it protects.

    Raises:
        OutOfRange: the level cannot be reached.
    """
    given = loaded["lines"]
    lines = [Line.of(line["part"], _pmf(line), line["aboard"], line["cost"] or 0,
                     line["mass_kg"] or 0) for line in given]
    limits, level = loaded["limits"], loaded["level"]
    try:
        kit = best_kit(
            lines, None if limits is None else Limits(limits["cost"], limits["mass_kg"]),
            None if level is None else float(level))
    except OutOfRange as err:
        raise err.at("#/level") from err
    return {
        "buy": {line["part"]: units for line, units in zip(given, kit.buy, strict=True)},
        "spent": {"cost": money(kit.cost), "mass_kg": kilograms(kit.mass_g)},
        "protection": {"start": kit.start, "reached": kit.reached,
                       "upper_bound": kit.upper_bound, "proven": kit.proven},
        "curve": [{"cost": money(point.cost), "mass_kg": kilograms(point.mass_g),
                   "protection": point.protection} for point in kit.curve]}


def _pmf(line: dict[str, Any]) -> tuple[float, ...]:
    if "mu" in line:
        return poisson(float(line["mu"]))
    return tuple(float(chance) for chance in line["pmf"])
