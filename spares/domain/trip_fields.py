"""What fields of a trip, of failure figures and of trails hold that hold more than one value.

One place says it for the door, the importer, the forms and the export.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

from spares.domain.document_kinds import RATES
from spares.domain.shapes import (
    Day,
    Decimals,
    Either,
    Flag,
    Maybe,
    Named,
    Parts,
    Renamed,
    Rows,
    Shape,
    Text,
    Whole,
    Wrong,
)

THIRDS = "thirds"


class Reserve(Decimals):
    """Fuel kept back: the rule of thirds, or a share of the plan [1]."""

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        return iter(()) if value == THIRDS else (
            (at, f"{THIRDS}, or a share of the plan: {detail}")
            for at, detail in super().wrong(value, path))


_MACHINE = Named(("machine",))
_SHARE, _ABOVE_0, _AT_LEAST_0 = Decimals("0", "1"), Decimals(above=True), Decimals()
_PART_OF_ONE = Decimals("0", "1", above=True)
_DAILY_H = Decimals("0", "24")
_PAIRS = Rows(Rows(_AT_LEAST_0, 2, 2), 1, 50)
_ANY_TEXT = Text()

LEGS = Rows(Parts({
    "name": _ANY_TEXT, "distance_nm": _AT_LEAST_0, "speed_kn": _ABOVE_0, "hours": _AT_LEAST_0,
    "machines": Rows(_MACHINE, 1, 20), "motor_share": _SHARE, "manoeuvring_h": _DAILY_H,
    "day": Whole(0, 3660)}, ("machines",)))
AT_ANCHOR = Parts({
    "days": Whole(0, 3660),
    "run": Rows(Parts({"machine": _MACHINE, "hours_per_day": _DAILY_H},
                      ("machine", "hours_per_day")))}, ("days", "run"))
ENERGY = Parts({
    "machine": _MACHINE, "use_kwh": _AT_LEAST_0, "charger_kw": _ABOVE_0,
    "efficiency": _PART_OF_ONE, "inverter_efficiency": _PART_OF_ONE,
    "loads": Rows(Parts({"name": _ANY_TEXT, "watts": _AT_LEAST_0, "hours_per_day": _DAILY_H,
                         "count": Whole(0, 1000), "ac": Flag()}, ("watts", "hours_per_day"))),
    "solar": Parts({"peak_w": _AT_LEAST_0, "sun_hours": _DAILY_H, "derate": _PART_OF_ONE},
                   ("peak_w", "sun_hours")),
    "alternator": Parts({"machine": _MACHINE, "net_a": _AT_LEAST_0, "efficiency": _PART_OF_ONE},
                        ("machine", "net_a")),
    "bank": Parts({"volts": _ABOVE_0, "ah": _ABOVE_0, "from": _SHARE, "to": _SHARE,
                   "knee": _PART_OF_ONE, "efficiency": _PART_OF_ONE},
                  ("volts", "ah", "from", "to")),
    "charger": Parts({"net_a": _ABOVE_0}, ("net_a",)),
    "generator": Parts({"rated_kw": _ABOVE_0, "load": _PART_OF_ONE,
                        "fuel_l_per_h": Either(_PAIRS, _AT_LEAST_0)})}, ("machine",))
WATER = Parts({"machine": _MACHINE, "litres_per_person": _AT_LEAST_0, "output_l_per_h": _ABOVE_0,
               "needs_generator": Flag()}, ("machine", "litres_per_person", "output_l_per_h"))
FUEL = Parts({"tank_l": _ABOVE_0, "reserve": Reserve("0", "5")})
STOPS = Rows(Parts({
    "name": _ANY_TEXT, "arrives_on": Day(), "leaves_on": Day(), "all": Flag(),
    "sellers": Rows(_ANY_TEXT), "kinds": Rows(_ANY_TEXT), "parts": Rows(Named(("part",))),
    "bunkers": Flag()}, ("name", "arrives_on")), 0, 50)
LIMITS = Parts({"cost": _AT_LEAST_0, "mass_kg": _AT_LEAST_0, "currency": _ANY_TEXT})
PRICES = Parts({"currency": _ANY_TEXT, "rates": Parts({}, (), _ABOVE_0)}, ("currency",))
_LEVEL = Decimals("0", "0.999999", above=True)
PROTECTION = Parts({"level": _LEVEL, "A": _LEVEL, "B": _LEVEL, "C": _LEVEL})
BURNS = Parts({"table": _PAIRS, "at_kn": _ABOVE_0, "l_per_h": _AT_LEAST_0,
               "idle_l_per_h": _AT_LEAST_0, "manoeuvring_l_per_h": _AT_LEAST_0})
FIGURES = Parts({
    "mtbf_h": _ABOVE_0, "mtbf_days": _ABOVE_0, "units": Whole(0, 10_000),
    "own_log": Parts({"failures": Whole(), "hours": _ABOVE_0, "until": Day()},
                     ("failures", "hours")),
    "weibull": Parts({"beta": _ABOVE_0, "eta_h": _ABOVE_0,
                      "ages_h": Rows(Maybe(_AT_LEAST_0))}, ("beta", "eta_h")),
    "pieces": Either(Rows(Rows(_AT_LEAST_0, 2, 2), 1), _AT_LEAST_0),
    "spread": Decimals("1")})
ORIGINS = ("maker", "handbook", "own-log", "seller", "memory", "assumed")
ORIGIN = Parts({"how": Text(ORIGINS), "by": _ANY_TEXT, "when": _ANY_TEXT}, ("how",))
TRAIL_LOOK = Parts({"found": Whole(0, 1000), "by": _ANY_TEXT, "on": Day()}, ("found", "on"))
TRAIL_ACCEPTED = Parts({"by": _ANY_TEXT, "why": Text(most=2000), "on": Day(),
                        "pieces": Whole(0, 1000)}, ("by", "why", "on"))
TRAIL_FIRST_RUN = Parts({"flow": _ANY_TEXT, "temperature_c": Decimals("-50", "1000"),
                         "by": _ANY_TEXT, "on": Day()}, ("on",))

SHAPES: dict[str, Shape] = {
    "legs": LEGS, "at-anchor": AT_ANCHOR, "energy": ENERGY, "water": WATER, "fuel": FUEL,
    "stops": STOPS, "limits": LIMITS, "prices": PRICES, "protection": PROTECTION, "burns": BURNS,
    "figures": FIGURES, "origin": ORIGIN,
    "trail-look": TRAIL_LOOK, "trail-accepted": TRAIL_ACCEPTED,
    "trail-first-run": TRAIL_FIRST_RUN}
BALANCE, SHORT_FORM = ("bank", "charger"), ("use_kwh", "charger_kw")
MISSES = Decimal("0.000000001")


def wrongs(shape: str, value: Any) -> list[tuple[str, str]]:
    """Say everything that is wrong with a stored value, as pairs of JSON path and words.

    Args:
        shape: Which of `SHAPES` [-].
        value: The stored value: decimals as text, things by their documents' names [-].

    Returns:
        Paths below the field, and what is needed there [-].

    Source:
        Counting rule of this project.

    Example:
        >>> wrongs("legs", [{"distance_nm": "20", "speed_kn": "0", "machines": ["machine/x"]}])
        [('/0/speed_kn', 'must be above 0')]
    """
    found = list(SHAPES[shape].wrong(value, ""))
    further = _FURTHER.get(shape)
    return found if found or further is None else list(further(value))


def stored(shape: str, value: Any, name: Renamed) -> Any:
    """Bring what people wrote into the stored form; *name* finds the documents."""
    return SHAPES[shape].stored(value, "", name)


def shown(shape: str, value: Any, name: Renamed) -> Any:
    """Bring a stored value into the form that people read; *name* gives short names."""
    return None if value is None else SHAPES[shape].shown(value, name)


def _legs(legs: list[dict[str, Any]]) -> Wrong:
    for place, leg in enumerate(legs):
        if leg.get("hours") is None:
            for name in ("distance_nm", "speed_kn"):
                if leg.get(name) is None:
                    yield f"/{place}/{name}", "distance and speed, or hours, are needed"
        elif leg.get("distance_nm") is not None:
            yield f"/{place}/hours", "distance and speed, or hours, not both"


def _energy(energy: dict[str, Any]) -> Wrong:
    short = energy.get("use_kwh") is not None
    for name in SHORT_FORM if short else ("loads", *BALANCE):
        if energy.get(name) is None:
            yield f"/{name}", "is needed"
    others = ("loads", "solar", "alternator", "inverter_efficiency", *BALANCE) if short else (
        "charger_kw", "efficiency")
    for name in others:
        if energy.get(name) is not None:
            yield f"/{name}", "belongs to the other form"
    bank = energy.get("bank")
    if bank and Decimal(bank["from"]) >= Decimal(bank["to"]):
        yield "/bank/to", "must be above what it is charged from"


def _stops(stops: list[dict[str, Any]]) -> Wrong:
    for place, stop in enumerate(stops):
        leaves = stop.get("leaves_on")
        if leaves and date.fromisoformat(leaves) < date.fromisoformat(stop["arrives_on"]):
            yield f"/{place}/leaves_on", "is before the arrival"


def _currency(given: dict[str, Any]) -> Wrong:
    for path, one in (("/currency", given.get("currency")),
                      *((f"/rates/{name}", name) for name in given.get("rates") or {})):
        if one is not None and not (len(one) == 3 and one.isascii() and one.isupper()):
            yield path, "three capital letters such as EUR are needed"


def _protection(levels: dict[str, Any]) -> Wrong:
    if levels.get("level") is not None and len(levels) > 1:
        yield "/level", "one level, or one for each weight, not both"


def _burns(burns: dict[str, Any]) -> Wrong:
    table = burns.get("table")
    if not table and (burns.get("at_kn") is None or burns.get("l_per_h") is None):
        yield "", "a table, or at_kn with l_per_h, is needed"
    speeds = [Decimal(row[0]) for row in table or []]
    if any(later <= one for one, later in zip(speeds, speeds[1:], strict=False)):
        yield "/table", "speeds must rise"


def _figures(figures: dict[str, Any]) -> Wrong:
    if sum(figures.get(name) is not None for name in RATES) != 1:
        yield "", f"exactly one of {', '.join(RATES)} is needed"
    pieces = figures.get("pieces")
    if isinstance(pieces, list) and abs(sum(Decimal(row[1]) for row in pieces) - 1) > MISSES:
        yield "/pieces", "the probabilities must add up to 1"


_FURTHER: dict[str, Callable[[Any], Wrong]] = {
    "legs": _legs, "energy": _energy, "stops": _stops, "limits": _currency,
    "prices": _currency, "protection": _protection, "burns": _burns,
    "figures": _figures}
