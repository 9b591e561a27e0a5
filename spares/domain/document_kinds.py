"""What documents there are, and which fields each has.

This is the one list: the tables, the door, the importer and the forms follow it. What a
field of each type may hold is checked in `documents.py`. What is only true together is one
field: a claim, a price.
"""

from __future__ import annotations

from typing import NamedTuple

LONGEST_MONTHS = 1200           # a hundred years
LONGEST_AHEAD_DAYS = 3660       # lead and ready days


#: The ways to say how often a part fails, the most trusted first.
RATES = ("own_log", "weibull", "mtbf_h", "mtbf_days")
#: What condition pieces may be in.
CONDITIONS = ("new", "used-good", "suspect")


class Field(NamedTuple):
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
FIGURE, AMOUNT, PERCENT = Field("figure"), Field("decimal"), Field("whole", high=200)
ALONG = Field("whole", needed=True, high=1000)      # thousandths of a picture's width or height
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
            "condition": _one_of(*CONDITIONS), "expires": DAYS, "batch": TEXT,
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
    "gauge": {"no": NO, "name": NAME, "machine": _ref("machine", needed=True), "unit": TEXT,
              "place": TEXT, "low": FIGURE, "high": FIGURE, "source": TEXT, "by": TEXT,
              "on": FULL_DAY, "cleaned_by": _ref("service"), "note": TEXT},
    "gauge-reading": {"gauge": _ref("gauge", needed=True), "on": Field("full-day", needed=True),
                      "value": Field("figure", needed=True), "minutes": MINUTES, "rpm": WHOLE,
                      "load_percent": PERCENT, "service": _ref("service"), "minute": WHOLE,
                      "by": TEXT, "note": TEXT},
    "test-run": {"machine": _ref("machine", needed=True), "service": _ref("service"),
                 "on": Field("full-day", needed=True), "leaks": TEXT, "accepted_by": TEXT,
                 "by": TEXT, "note": TEXT},
    "daily-run": {"machine": _ref("machine", needed=True), "on": Field("full-day", needed=True),
                  "trip": _ref("trip"), "minutes": MINUTES, "litres": AMOUNT,
                  "charge_ah": AMOUNT, "amps": AMOUNT, "by": TEXT, "note": TEXT},
    "joint-record": {"joint": _ref("joint", needed=True), "on": Field("full-day", needed=True),
                     "torque_used": TEXT, "again_on": FULL_DAY, "again_at_minutes": MINUTES,
                     "by": TEXT, "note": TEXT},
    "count-doubt": {"part": _ref("part", needed=True), "locker": _ref("locker", needed=True),
                    "on": FULL_DAY, "by": TEXT, "note": TEXT},
    "lesson": {"service": _ref("service", needed=True), "learner": Field(needed=True),
               "on": Field("full-day", needed=True), "seen": TEXT, "confirmed_by": TEXT,
               "note": TEXT},
    "deck": {"no": NO, "name": NAME, "position": WHOLE, "note": TEXT},
    "deck-line": {"deck": _ref("deck", needed=True), "corners": Field("corners", needed=True),
                  "closed": FLAG},
    "deck-place": {"locker": _ref("locker", needed=True), "deck": _ref("deck", needed=True),
                   "x": ALONG, "y": ALONG},
    "photo-mark": {"photo": Field("sha256", needed=True), "point": _ref("point", needed=True),
                   "x": ALONG, "y": ALONG},
}
