"""The plain values of the fit check: what is asked, what is offered, what is answered.

A claim is one statement about one attribute with its unit, tolerance, uncertainty and origin.
A requirement is a claim about the fit point, an offer a claim about the part.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any

from spares.errors import InvalidInput

VERDICTS = ("fits", "fits-with-changes", "not-known-yet", "does-not-fit")     # best first
COMPARATORS = ("equal", "tol", "at-least", "at-most", "range", "one-of", "mates")
SEVERITIES = ("stop", "change", "advisory")
ORIGINS = ("maker", "plate", "measured", "measured-used", "seller", "memory", "assumed")
PROOFS = ("makers-list", "measured", "fitted-before", "hearsay", "candidate", "tried-no")
ROLES = ("takes", "goes-with")
GENERAL = "general"     # kind of parts that have no sheet of their own
ABSENT = "none"     # looked for, not there


@dataclass(frozen=True)
class Origin:
    """Where a value is from: how, when, by whom, with what tool."""

    how: str = ""
    when: str = ""
    by: str = ""
    tool: str = ""


@dataclass(frozen=True)
class Claim:
    """One statement about one attribute.

    `value` is plain JSON: a number, text, list, or an object of parts such as
    `{"value": 965, "system": "inside"}` or `{"min": 22, "max": 27}`; None means that the
    attribute decides and nobody knows it. `pointer` names the claim in error messages.
    """

    attr: str
    value: Any = None
    unit: str | None = None
    cmp: str | None = None
    tol: Any = None
    u: Any = None
    severity: str | None = None
    origin: Origin = field(default_factory=Origin)
    pointer: str = ""
    code: str = ""      # the designation that this claim was read from
    spelt: str = ""     # its plain spelling, by which two designations are the same
    rests_on: tuple[str, ...] = ()      # tables nobody looked up, behind that designation

    def __post_init__(self) -> None:
        for name, value, known in (("cmp", self.cmp, COMPARATORS),
                                   ("severity", self.severity, SEVERITIES),
                                   ("origin/how", self.origin.how or None, ORIGINS)):
            if value is not None and value not in known:
                raise InvalidInput.at(f"{self.where}/{name}", f"one of {', '.join(known)}")

    @property
    def where(self) -> str:
        """Name the claim as a JSON Pointer."""
        return self.pointer or f"#/{self.attr}"

    @property
    def assumed(self) -> bool:
        """Tell whether somebody only assumed the value."""
        return self.origin.how == "assumed"


@dataclass(frozen=True)
class Place:
    """Where the fit point is; every field may be None, which means not recorded."""

    wet: bool | None = None
    medium: str | None = None
    petrol_space: bool | None = None
    below_waterline: bool | None = None
    above_waterline: bool | None = None
    attitude: str | None = None
    mating_metal: str | None = None
    temperature_c: Any = None
    wire_mm2: Any = None
    wire_insulation_c: Any = None
    rotation: Any = None
    engine_speed_rpm: Any = None
    drive_pulley_mm: Any = None
    driven_pulley_mm: Any = None
    driven_by: str | None = None
    slip: Any = None


@dataclass(frozen=True)
class Link:
    """A recorded tie of the part to the fit point: its role and the proof for it."""

    role: str = "takes"
    proof: str = "candidate"

    def __post_init__(self) -> None:
        if self.role not in ROLES or self.proof not in PROOFS:
            raise InvalidInput.at("#/links", f"role is one of {', '.join(ROLES)}, "
                                  f"proof one of {', '.join(PROOFS)}")


@dataclass(frozen=True)
class FitRequest:
    """Everything a verdict needs: the kind, the place, what is asked and what is offered.

    `companions` maps an attribute to the parts that are recorded for changing it over
    (a hose tail for a port, a sleeve for a shaft). `today` serves shelf lives. `recorded_as` is
    the kind under which the part is recorded, where it is.
    """

    kind: str
    requires: tuple[Claim, ...] = ()
    offers: tuple[Claim, ...] = ()
    place: Place = field(default_factory=Place)
    links: tuple[Link, ...] = ()
    today: date | None = None
    companions: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    recorded_as: str = ""


@dataclass(frozen=True)
class Row:
    """One attribute compared. `rests_on` names tables that nobody looked up."""

    attr: str
    label: str
    outcome: str
    severity: str
    required: str | None
    offered: str | None
    reason: str
    measure: str | None = None
    change: str | None = None
    detail: str | None = None
    cautions: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()

    def as_dict(self) -> dict[str, Any]:
        """Give the row as plain JSON; what says nothing is left out."""
        row = {"attr": self.attr, "label": self.label, "outcome": self.outcome,
               "severity": self.severity, "required": self.required, "offered": self.offered,
               "reason": self.reason}
        more = {"measure": self.measure, "change": self.change, "detail": self.detail,
                "rests_on": list(self.rests_on)}
        return row | {name: value for name, value in more.items() if value}


@dataclass(frozen=True)
class Told:
    """A verdict in words: every row, what to measure next, named changes and advisories."""

    rows: tuple[Row, ...]
    to_measure: tuple[str, ...]
    changes: tuple[Mapping[str, Any], ...]
    advisories: tuple[Mapping[str, str], ...]


@dataclass(frozen=True)
class FitVerdict:
    """The verdict; it is put into words, row by row, when somebody asks for them."""

    verdict: str
    tell: Callable[[], Told] = field(repr=False, compare=False)

    @cached_property
    def told(self) -> Told:
        """Give the verdict in words."""
        return self.tell()

    @property
    def rows(self) -> tuple[Row, ...]:
        """Give every row, in the order in which it is asked."""
        return self.told.rows

    def as_dict(self) -> dict[str, Any]:
        """Give the verdict as plain JSON."""
        told = self.told
        return {"verdict": self.verdict, "rows": [row.as_dict() for row in told.rows],
                "to_measure": list(told.to_measure), "changes": [dict(c) for c in told.changes],
                "advisories": [dict(a) for a in told.advisories]}
