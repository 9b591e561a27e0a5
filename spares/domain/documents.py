"""What documents there are, which fields each has, and what a field may hold.

This is the one list: the tables, the door, the importer and the forms follow it.
A field that is not listed is kept and passed on, and has no effect here (a newer
device may know it). What is only true together is one field: a claim, a price.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from spares.domain.codes import is_code
from spares.domain.place_fields import place_wrongs
from spares.domain.trip_fields import wrongs

MAX_TEXT = 4000
MAX_WHOLE = 10**12
LONGEST_MONTHS = 1200           # a hundred years
LONGEST_AHEAD_DAYS = 3660       # lead and ready days
DAY = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?\Z")
REF = re.compile(r"[a-z][a-z-]*/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\Z")


@dataclass(frozen=True)
class Field:
    """A field: its type, the choices or the kinds of document it may name, its bounds."""

    type: str = "text"
    among: tuple[str, ...] = ()
    needed: bool = False
    low: int = 0                # 1: a number must be above 0
    high: int | None = None


TEXT, WHOLE, FLAG, DAYS, Q = Field(), Field("whole"), Field("flag"), Field("day"), Field("q")
FULL_DAY = Field("full-day")
MINUTES, MONEY, CODE = Field("minutes"), Field("money"), Field("code")
# an interval of 0 would fall due without end; a store may hold one that came from elsewhere
EVERY_MIN, EVERY_MONTHS = Field("minutes", low=1), Field("whole", low=1, high=LONGEST_MONTHS)
AHEAD_DAYS, SHARE = Field("whole", high=LONGEST_AHEAD_DAYS), Field("decimal", high=1)
FROST_C = Field("temperature", low=-80, high=20)
PLACE, NO, NAME = Field("place"), Field("text", needed=True), Field("text", needed=True)
WEIGHT = Field("choice", ("A", "B", "C"))
PROOF = Field("choice", ("makers-list", "measured", "fitted-before", "hearsay", "candidate",
                         "tried-no"))


def _ref(*kinds: str, needed: bool = False) -> Field:
    return Field("ref", kinds, needed)


def _one_of(*choices: str, needed: bool = False) -> Field:
    return Field("choice", choices, needed)


def _shaped(name: str) -> Field:
    return Field("shaped", (name,))


DOCUMENTS: dict[str, dict[str, Field]] = {
    "vessel": {"mark": NO, "name": NAME, "about": TEXT, "base": TEXT, "baseline_on": FULL_DAY},
    "machine": {"no": NO, "name": NAME, "model": TEXT, "maker": TEXT, "serial": TEXT,
                "place": TEXT, "counter": _one_of("own", "of", "none"),
                "counter_of": _ref("machine"), "code": CODE, "hazards": TEXT, "weight": WEIGHT,
                "burns": _shaped("burns"), "note": TEXT},
    "point": {"no": NO, "name": NAME, "machine": _ref("machine"), "parent": _ref("point"),
              "as_part": _ref("part"), "template": _ref("inner"), "pieces": WHOLE,
              "weight": WEIGHT, "kind": TEXT, "place": PLACE, "hazards": TEXT, "note": TEXT},
    "inner": {"no": TEXT, "name": NAME, "part": _ref("part", needed=True), "pieces": WHOLE,
              "weight": WEIGHT, "kind": TEXT, "place": PLACE},
    "requirement": {"subject": _ref("point", "inner", needed=True),
                    "attribute": Field(needed=True), "claim": Field("claim", needed=True)},
    "spec": {"part": _ref("part", needed=True), "attribute": Field(needed=True),
             "claim": Field("claim", needed=True)},
    "part": {"no": NO, "name": NAME, "maker": TEXT, "number": TEXT, "kind": TEXT, "unit": TEXT,
             "made": _one_of("made", "dropped", "not-known"), "dropped_on": DAYS,
             "taken_over_by": _ref("part"), "price": MONEY, "lead_days": AHEAD_DAYS, "pack": Q,
             "mass_g": WHOLE, "seller": TEXT, "use": TEXT, "note": TEXT,
             "left_over": _one_of("keep", "give", "sell"), "left_over_note": TEXT},
    "number": {"part": _ref("part", needed=True), "maker": TEXT, "number": Field(needed=True),
               "what": _one_of("cross", "superseded", "barcode")},
    "link": {"part": _ref("part", needed=True), "to": _ref("point", "inner", "machine", "part"),
             "use": TEXT, "role": _one_of("takes", "goes-with"), "proof": PROOF,
             "with_part": _ref("part"), "note": TEXT, "on": DAYS},
    "stand-in": {"part": _ref("part", needed=True), "for_part": _ref("part", needed=True),
                 "proof": PROOF, "note": TEXT},
    "locker": {"no": NO, "name": NAME, "parent": _ref("locker"), "code": CODE, "aboard": FLAG,
               "reachable": FLAG, "lent_to": TEXT, "climate": TEXT, "note": TEXT},
    "lot": {"part": _ref("part", needed=True),
            "condition": _one_of("new", "used-good", "suspect"), "expires": DAYS, "batch": TEXT,
            "reserved": Q, "code": CODE, "lies_in": _ref("locker"), "note": TEXT},
    "service": {"no": NO, "what": NAME, "machine": _ref("machine"), "point": _ref("point"),
                "every_minutes": EVERY_MIN, "every_months": EVERY_MONTHS,
                "first_minutes": EVERY_MIN,
                "weight": WEIGHT, "cautions": TEXT, "in_port": FLAG, "not_wanted": FLAG,
                "steps": TEXT, "note": TEXT},
    "service-at": {"service": _ref("service", needed=True), "point": _ref("point", needed=True)},
    "kit-line": {"service": _ref("service", needed=True), "part": _ref("part", needed=True),
                 "q": Q, "set_aside": FLAG, "share": SHARE},
    "keep": {"part": _ref("part", needed=True), "q": Q},
    "trip": {"no": NO, "name": NAME, "departs_on": FULL_DAY, "returns_on": FULL_DAY,
             "hours_before_departure": _one_of("none", "as-usual"), "ready_days": AHEAD_DAYS,
             "protection": _shaped("protection"), "limits": _shaped("limits"), "crew": WHOLE,
             "legs": _shaped("legs"), "at_anchor": _shaped("at-anchor"),
             "energy": _shaped("energy"), "water": _shaped("water"), "fuel": _shaped("fuel"),
             "stops": _shaped("stops"), "prices": _shaped("prices"), "count_failures": FLAG,
             "border": TEXT, "note": TEXT},
    "trip-hours": {"trip": _ref("trip", needed=True), "machine": _ref("machine", needed=True),
                   "minutes": MINUTES},
    "trip-accept": {"trip": _ref("trip", needed=True), "part": _ref("part", needed=True),
                    "by": TEXT, "on": DAYS, "note": TEXT},
    "failure": {"part": _ref("part", needed=True), "machine": _ref("machine"),
                "point": _ref("point"), "figures": _shaped("figures"),
                "origin": _shaped("origin"), "renewed_by": _ref("service"), "note": TEXT},
    "order": {"no": NO, "part": _ref("part", needed=True), "trip": _ref("trip"), "q": Q,
              "seller": TEXT, "price": MONEY, "wanted_on": FULL_DAY, "ordered_on": FULL_DAY,
              "promised_on": FULL_DAY, "arrived_on": FULL_DAY, "stowed_on": FULL_DAY,
              "cancelled_on": FULL_DAY, "locker": _ref("locker"), "note": TEXT},
    "trail": {"no": NO, "machine": _ref("machine", needed=True), "point": _ref("point"),
              "what": NAME, "of_pieces": WHOLE, "missing": WHOLE, "began_on": FULL_DAY,
              "by": TEXT, "accepted": _shaped("trail-accepted"),
              "first_run": _shaped("trail-first-run"), "note": TEXT},
    "trail-place": {"no": NO, "trail": _ref("trail", needed=True), "position": WHOLE,
                    "name": NAME, "opens": TEXT, "seal": TEXT, "point": _ref("point"),
                    "part": _ref("part"), "look": _shaped("trail-look"), "note": TEXT},
    "finding": {"about": _ref("machine", "point", "service", needed=True),
                "question": _one_of("plate", "counter", "fit", "history", needed=True),
                "origin": _one_of("seen", "told", "guessed", needed=True),
                "answer": TEXT, "by": TEXT, "on": DAYS, "note": TEXT},
    "joint": {"no": NO, "name": NAME, "point": _ref("point"), "service": _ref("service"),
              "pieces": TEXT, "fasteners": WHOLE, "rows": WHOLE, "passes": WHOLE,
              "pattern": _one_of("cross", "middle-out", "in-turn"), "thread": TEXT,
              "strength": TEXT, "surface": TEXT, "torque": TEXT, "page": TEXT, "note": TEXT},
    "drain-point": {"no": NO, "name": NAME, "machine": _ref("machine", needed=True),
                    "walk": WHOLE, "way": _one_of("drain", "treat"), "plug": TEXT,
                    "cock": _one_of("open", "shut"), "note": TEXT},
    "drain-record": {"point": _ref("drain-point", needed=True),
                     "turn": _one_of("lay-up", "fitting-out", needed=True),
                     "on": Field("full-day", needed=True),
                     "done": _one_of("drained", "treated", "not-done"), "seen_to_run": FLAG,
                     "protects_to_c": FROST_C, "cock": _one_of("open", "shut"),
                     "plug_in": FLAG, "seal_renewed": FLAG, "no_leak": FLAG, "by": TEXT,
                     "note": TEXT},
}


def fault(kind: str, field: str, value: Any) -> str | None:
    """Say what is wrong with *value* in *field* of a document of *kind*, or None.

    None (not known) is taken everywhere except where the field is needed; a field
    that is not listed is never wrong.

    Example:
        >>> fault("part", "lead_days", "soon")
        'a whole number from 0 is needed'
        >>> fault("part", "lead_days", 7) is None
        True
    """
    if field == "gone":
        return None if isinstance(value, bool) else "true or false is needed"
    spec = DOCUMENTS.get(kind, {}).get(field)
    if spec is None:
        return None
    if value is None or value == "":
        return "must not be empty" if spec.needed else None
    return _CHECKS[spec.type](spec, value)


def _text(_: Field, value: Any) -> str | None:
    if not isinstance(value, str):
        return "text is needed"
    return None if len(value) <= MAX_TEXT else f"at most {MAX_TEXT} characters"


def _whole(spec: Field, value: Any) -> str | None:
    fine = isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= MAX_WHOLE
    return _within(spec, value) if fine else "a whole number from 0 is needed"


def _within(spec: Field, value: int | Decimal) -> str | None:
    if value < spec.low:
        return "must be above 0"
    fine = spec.high is None or value <= spec.high
    return None if fine else f"must be {spec.high} or less"


def _flag(_: Field, value: Any) -> str | None:
    return None if isinstance(value, bool) else "true or false is needed"


def _day(_: Field, value: Any) -> str | None:
    say = "a day such as 2027-03-15 (or 2027-03, or 2027) is needed"
    if not isinstance(value, str) or not DAY.match(value):
        return say
    try:
        date.fromisoformat((value + "-01-01")[:10])
    except ValueError:
        return f"there is no day {value}"
    return None


def _full_day(spec: Field, value: Any) -> str | None:
    if isinstance(value, str) and len(value) != len("2027-03-15"):
        return "a whole day such as 2027-03-15 is needed"
    return _day(spec, value)


def _choice(spec: Field, value: Any) -> str | None:
    return None if value in spec.among else f"one of {', '.join(spec.among)} is needed"


def _reference(spec: Field, value: Any) -> str | None:
    if not isinstance(value, str) or not REF.match(value):
        return "the name of a document (kind/uuid) is needed"
    kind = value.partition("/")[0]
    return None if kind in spec.among else f"must name a {' or '.join(spec.among)}"


def _money(_: Field, value: Any) -> str | None:
    fine = (isinstance(value, dict) and set(value) == {"minor", "currency"}
            and _whole(_, value["minor"]) is None
            and isinstance(value["currency"], str)
            and re.fullmatch("[A-Z]{3}", value["currency"]))
    return None if fine else 'money such as {"minor": 1850, "currency": "EUR"} is needed'


def _decimal(spec: Field, value: Any) -> str | None:
    try:
        number = Decimal(value) if isinstance(value, str) else None
    except InvalidOperation:
        number = None
    if number is None or not number.is_finite():
        return "a decimal number written as text is needed"
    return "must be 0 or more" if number < 0 else _within(spec, number)


def _temperature(spec: Field, value: Any) -> str | None:
    try:
        number = Decimal(value) if isinstance(value, str) else None
    except InvalidOperation:
        number = None
    fine = number is not None and number.is_finite() and spec.low <= number <= (spec.high or 0)
    return None if fine else f"{spec.low} to {spec.high} °C is needed, written as text"


def _code(_: Field, value: Any) -> str | None:
    return None if isinstance(value, str) and is_code(value) else "the check character is wrong"


def _place(_: Field, value: Any) -> str | None:
    return _first(place_wrongs(value))


def _listed(spec: Field, value: Any) -> str | None:
    return _first(wrongs(spec.among[0], value))


def _first(found: list[tuple[str, str]]) -> str | None:
    if not found:
        return None
    path, detail = found[0]
    return f"{path.removeprefix('/')}: {detail}" if path else detail


def _claim(_: Field, value: Any) -> str | None:
    known = {"cmp", "value", "unit", "tol", "u", "severity", "origin", "system", "parts"}
    if not isinstance(value, dict) or "value" not in value:
        return "a claim with a value is needed"
    extra = sorted(set(value) - known)
    return f"unknown in a claim: {', '.join(extra)}" if extra else None


_CHECKS: dict[str, Callable[[Field, Any], str | None]] = {
    "text": _text, "whole": _whole, "q": _whole, "minutes": _whole, "flag": _flag, "day": _day,
    "full-day": _full_day, "choice": _choice, "ref": _reference, "money": _money,
    "decimal": _decimal, "temperature": _temperature, "code": _code, "place": _place,
    "claim": _claim, "shaped": _listed,
}
