"""Judges: one function a question, named by the kind sheets.

A judge takes the context, the sheet's line, the claim asked and the claim offered and gives a
Finding. `@judge(name)` lets sheets name it. One that is `alone` answers also where the part says
nothing of the attribute itself, or nothing is asked (None then); one `by_place` answers where
nothing is asked. One of `amounts` finds a match wherever a plain amount is inside plain limits, and
looks further only where it is not; `up_to` says how many times the least asked is still plain.
`may_fail` tells of a place whether something of that sort would not do there.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache
from importlib import import_module

from spares.domain.fit.finding import Finding
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Place

Judge = Callable[..., Finding]      # (Context, Attribute, asked, offered); see above for None
_JUDGES: dict[str, Judge] = {}
_ALONE: set[str] = set()
_BY_PLACE: set[str] = set()
_AMOUNTS: dict[str, Fraction | None] = {}
_MAY_FAIL: dict[str, Callable[[Place], bool]] = {}
_MODULES = ("plain", "threads", "pumps", "holes", "ports", "materials", "belts", "orings", "seals",
            "bearings", "fasteners", "hoses", "anodes", "fuses", "fluids", "ages")


def judge(name: str, *, alone: bool = False,
          by_place: bool = False, amounts: bool = False,
          up_to: Fraction | None = None,
          may_fail: Callable[[Place], bool] | None = None) -> Callable[[Judge], Judge]:
    """Register a function as the judge called *name*."""
    def keep(function: Judge) -> Judge:
        _JUDGES[name] = function
        if alone:
            _ALONE.add(name)
        if by_place:
            _BY_PLACE.add(name)
        if amounts:
            _AMOUNTS[name] = up_to
        if may_fail is not None:
            _MAY_FAIL[name] = may_fail
        return function
    return keep


def judge_of(attribute: Attribute) -> Judge:
    """Give the judge that a line of a sheet names, else that of its type."""
    _load()
    return _JUDGES[attribute.judge or attribute.type]


def answers_alone(attribute: Attribute) -> bool:
    """Tell whether the judge of a line answers without an offer of that attribute."""
    _load()
    return (attribute.judge or attribute.type) in _ALONE


def answers_by_place(attribute: Attribute) -> bool:
    """Tell whether the judge of a line answers where nothing is asked."""
    _load()
    return (attribute.judge or attribute.type) in _ALONE | _BY_PLACE


def compares_amounts(attribute: Attribute) -> bool:
    """Tell whether the judge of a line finds a match wherever an amount is inside its limits."""
    _load()
    return (attribute.judge or attribute.type) in _AMOUNTS


def plain_up_to(attribute: Attribute) -> Fraction | None:
    """Give how many times the least that is asked is still plain; None where all above it is."""
    _load()
    return _AMOUNTS.get(attribute.judge or attribute.type)


def knows_what_fails(attribute: Attribute) -> bool:
    """Tell whether the judge of a line can say what would not do at a place."""
    _load()
    return (attribute.judge or attribute.type) in _MAY_FAIL


def may_fail(attribute: Attribute, place: Place) -> bool:
    """Tell whether the judge of a line knows of something that would not do at a place."""
    _load()
    tells = _MAY_FAIL.get(attribute.judge or attribute.type)
    return tells is not None and tells(place)


def judge_names() -> tuple[str, ...]:
    """Give the names that a sheet may use."""
    _load()
    return tuple(_JUDGES)


@cache
def _load() -> None:
    for module in _MODULES:
        import_module(f"{__name__}.{module}")
