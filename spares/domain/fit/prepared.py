"""A fit point and a part, each read once, so that many can be held against each other.

What is asked and what is offered are read apart: designations expanded, limits and sizes taken
in the unit of the kind sheet. Nothing is decided here; a claim that cannot be read, or that is no
plain amount, is left to its judge, which says so when it is asked.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, NamedTuple

from spares.domain.fit import reading
from spares.domain.fit.context import Context
from spares.domain.fit.designations.threads import parse_thread
from spares.domain.fit.expand import expand
from spares.domain.fit.judges import compares_amounts, judge_of, may_fail, plain_up_to
from spares.domain.fit.judges.plain import judge_quantity
from spares.domain.fit.limits import Limits, Size, limits_of, size_of, up_to
from spares.domain.fit.rows import gravest
from spares.domain.fit.sheets import TYPES, Attribute, Implied, KindSheet
from spares.domain.fit.values import Claim, Place
from spares.errors import InvalidInput

_WORDS = ("word", "material", "rank", "flag")       # types that have no parts
_BY_POINT = ("place", "asked")      # subjects of a condition that no part changes


class OpenRule(NamedTuple):
    """A rule of the place that holds here, if what is left of its condition does."""

    rule: Implied
    when: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class AskedLine:
    """One line of what is asked; `limits` where it is one plain amount, by one origin."""

    code: str
    attribute: Attribute
    claims: tuple[Claim, ...]
    limits: Limits | None
    whole: bool = False     # nothing but its limits is to be looked at, inside or not
    rules: tuple[OpenRule, ...] = ()    # of the place, for the same attribute
    yields: bool = False    # one of them may outrank what is asked


@dataclass(frozen=True)
class AskedSide:
    """What is asked, in one of its readings, and the rules of the place that may hold."""

    claims: Mapping[str, tuple[Claim, ...]]
    lines: tuple[AskedLine, ...]
    implied: tuple[OpenRule, ...]


@dataclass(frozen=True)
class PreparedPoint:
    """A fit point as it is asked of each part."""

    sheet: KindSheet
    place: Place
    sides: tuple[AskedSide, ...]
    today: date | None = None


class Sizes(dict[str, Size | None]):
    """The one plain amount offered of an attribute, or None; read when it is first asked for."""

    def __init__(self, found: KindSheet, claims: Mapping[str, tuple[Claim, ...]]) -> None:
        super().__init__()
        self._sheet, self._claims = found, claims

    def __missing__(self, code: str) -> Size | None:
        self[code] = _size(self._sheet.attributes[code], self._claims.get(code, ()))
        return self[code]


@dataclass(frozen=True)
class OfferedSide:
    """What a part offers, in one of its readings."""

    claims: Mapping[str, tuple[Claim, ...]]
    sizes: Sizes


@dataclass(frozen=True)
class PreparedPart:
    """A part as it is offered to each fit point of a kind."""

    sheet: KindSheet
    sides: tuple[OfferedSide, ...]
    recorded_as: str = ""
    recorded_label: str = ""


def prepare_point(found: KindSheet, requires: Sequence[Claim], place: Place,
                  today: date | None = None) -> PreparedPoint:
    """Read a fit point.

    Args:
        found: The sheet of its kind [-].
        requires: What is asked [-].
        place: Where it is [-].
        today: For shelf lives [-].

    Returns:
        The fit point, read [-].

    Raises:
        InvalidInput: an attribute is not known.

    Source:
        Counting rule of this project; no standard applies.
    """
    known_attributes(found, requires)
    _words_are_words(found, requires)
    sides = tuple(_asked_side(found, place, by_attribute(claims))
                  for claims in expand(found, requires, asked=True))
    return PreparedPoint(found, place, sides, today)


def prepare_part(found: KindSheet, offers: Sequence[Claim],
                 recorded_as: str = "", recorded_label: str = "") -> PreparedPart:
    """Read a part; offers that the kind has no line for are left aside.

    Args:
        found: The sheet of the fit point's kind [-].
        offers: What the part has [-].
        recorded_as: Kind under which it is recorded [-].
        recorded_label: Name of that kind, where a sheet has it [-].

    Returns:
        The part, read [-].

    Raises:
        InvalidInput: several codes are given for one part.

    Source:
        Counting rule of this project; no standard applies.
    """
    # a part of another kind may have attributes that this place does not ask about
    stated = {claim.attr for claim in offers if claim.value is not None}
    known = [claim for claim in offers if claim.attr in found.attributes
             and claim.attr in stated]      # what nobody knows is not stated
    _words_are_words(found, known)
    sides = [by_attribute(claims) for claims in expand(found, known, asked=False)]
    return PreparedPart(found, tuple(OfferedSide(side, Sizes(found, side)) for side in sides),
                        recorded_as, recorded_label)


def by_attribute(claims: Sequence[Claim]) -> dict[str, tuple[Claim, ...]]:
    """Sort claims by attribute, in their order."""
    found: dict[str, tuple[Claim, ...]] = {}
    for claim in claims:
        found[claim.attr] = (*found.get(claim.attr, ()), claim)
    return found


def known_attributes(found: KindSheet, claims: Sequence[Claim]) -> None:
    """Refuse claims of attributes that the sheet does not have.

    Args:
        found: The kind sheet [-].
        claims: What is asked or offered [-].

    Raises:
        InvalidInput: one has no line; `known` lists those there are.

    Source:
        Counting rule of this project; no standard applies.
    """
    for claim in claims:
        if claim.attr not in found.attributes:
            tail = "/attr" if claim.where.startswith("#/requires/") else ""
            raise InvalidInput.at(claim.where + tail, f"a {found.kind} has no attribute "
                                  f"{claim.attr!r}", known=list(found.attributes))


def _words_are_words(found: KindSheet, claims: Sequence[Claim]) -> None:
    for claim in claims:
        if (found.attributes[claim.attr].type in _WORDS and isinstance(claim.value, Mapping)
                and "value" not in claim.value):
            raise InvalidInput.at(f"{claim.where}/value", "one word or a list of them is needed")


def _asked_side(found: KindSheet, place: Place,
                asked: Mapping[str, tuple[Claim, ...]]) -> AskedSide:
    alone = Context(found, place, asked, {})
    rules = [_open_rule(found, place, rule) for rule in found.implied
             if alone.holds({s: rule.when[s] for s in _BY_POINT if s in rule.when})]
    lines = tuple(_asked_line(found.attributes[attr], claims,
                              # a rule without a condition is not about the place
                              tuple(one for one in rules
                                    if one.rule.attr == attr and one.rule.when))
                  for attr, claims in asked.items())
    return AskedSide(asked, lines, tuple(one for one in rules if one.rule.attr not in asked))


def _asked_line(attribute: Attribute, claims: tuple[Claim, ...],
                rules: tuple[OpenRule, ...]) -> AskedLine:
    yields = bool(rules) and (any(one.rule.always for one in rules)
                              or gravest(claim.severity for claim in claims) == "advisory")
    return AskedLine(attribute.code, attribute, claims,
                     None if yields else _limits(attribute, claims),
                     judge_of(attribute) is judge_quantity, rules, yields)


def _open_rule(found: KindSheet, place: Place, rule: Implied) -> OpenRule:
    if rule.unstated == "may-fail":
        fails = may_fail(found.attributes[rule.attr], place)
        rule = replace(rule, unstated="unknown" if fails else "advise")
    return OpenRule(rule, {s: wanted for s, wanted in rule.when.items() if s not in _BY_POINT})


def _limits(attribute: Attribute, claims: Sequence[Claim]) -> Limits | None:
    claim = claims[0]
    if (len(claims) > 1 or attribute.seat or claim.assumed or not _is_plain(attribute, claim.value)
            or claim.cmp is not None and claim.cmp not in TYPES[attribute.type]):
        return None
    try:
        if reading.cannot_be(attribute, claim):
            return None
        return up_to(limits_of(attribute, claim), plain_up_to(attribute))
    except InvalidInput:
        return None     # its judge says so, once an offer is held against it


def _size(attribute: Attribute, claims: Sequence[Claim]) -> Size | None:
    if len(claims) != 1 or claims[0].assumed:
        return None
    value = reading.part(claims[0].value, "value")
    if isinstance(value, list | dict) or not _is_plain(attribute, value):
        return None
    try:
        return None if reading.cannot_be(attribute, claims[0]) else size_of(
            reading.amount(attribute, claims[0]))
    except InvalidInput:
        return None


def _is_plain(attribute: Attribute, value: object) -> bool:
    """Tell whether nothing but a comparison of amounts is to be made of it."""
    if value is None or not compares_amounts(attribute) or reading.is_absent(value):
        return False
    # where a thread may stand for its clearance hole, the judge must read it
    return judge_of(attribute) is judge_quantity or not (
        isinstance(value, str) and parse_thread(value))
