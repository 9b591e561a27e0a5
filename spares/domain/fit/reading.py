"""Turn a claim's plain JSON value into an amount, a word, a flag or a span, with uncertainty."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any

from spares.domain.fit.sheets import TOOLS, USED_RUBBER_MM, Attribute
from spares.domain.fit.values import ABSENT, Claim
from spares.errors import InvalidInput, UnknownUnit
from spares.units import (
    Quantity,
    convert_step,
    exact,
    format_number,
    format_quantity,
    parse_quantity,
    unit_named,
)

_YES = ("yes", "true", "y", "1")
_NO = ("no", "false", "n", "0", ABSENT)
_UNSAID = ("", "unknown", "not-known", "not-stated", "not-measured", "nobody-knows", "tbd", "n/a",
           "na", "n.a.", "not-sure", "unsure", "not-given", "not-specified", "unspecified",
           "dont-know", "don't-know", "see-photo", "see-picture", "to-be-measured", "original",
           "same", "same-as-old", "as-old", "as-the-old-one", "like-the-old-one", "as-before")
_GUESS = re.compile(r"\?$|\(\?\)|^(?:prob|probably|perhaps|maybe)\b")
_QUARTERS = tuple(re.compile(form) for form in (
    r"(?P<q>[1-4])\s*Q[\s/-]*(?P<y>\d{4}|\d\d)", r"Q\s*(?P<q>[1-4])[\s/-]*(?P<y>\d{4}|\d\d)",
    r"(?P<y>\d{4})[\s/-]*Q\s*(?P<q>[1-4])"))
_NOISE = 10**9      # nothing that people measure is finer than this share of a millimetre
_KEPT = 4096        # readings that are remembered; a vessel has fewer sizes
_PRINTED = ("", "maker", "plate")       # origins whose figures are taken as exact


@dataclass(frozen=True)
class Amount:
    """A number in the attribute's unit with the uncertainty of its reading."""

    amount: Fraction
    u: Fraction
    unit: str

    def text(self) -> str:
        """Print it, with the uncertainty where there is one."""
        shown = format_quantity(Quantity(self.amount, self.unit))
        return f"{shown} ± {format_number(self.u)}" if self.u else shown


def is_absent(value: Any) -> bool:
    """Tell whether *value* says: looked for, not there."""
    return isinstance(value, str) and value.strip().casefold() == ABSENT


def cannot_be(attribute: Attribute, claim: Claim) -> bool:
    """Tell whether a claim is one amount below 0 of what is never below 0."""
    value = part(claim.value, "value")
    return (attribute.type == "quantity" and not attribute.signed
            and isinstance(value, str | int | float) and not isinstance(value, bool)
            and "-" in str(value).replace("−", "-") and not is_absent(value)
            and claim.cmp not in ("range", "mates")
            and unit_named(attribute.unit or "1").kind != "temperature"
            and amount(attribute, claim).amount < 0)


def is_unsaid(value: Any) -> bool:
    """Tell whether a text says that nobody knows: two of that are no match."""
    if not isinstance(value, str):
        return False
    text = word(value).replace("’", "'")
    # `CR?` is a guess that nobody stands for
    return bool(_GUESS.search(text)) or text.strip("?.…–-") in _UNSAID or text in _UNSAID


def word(value: Any) -> str:
    """Give the text by which two words are compared: case, spaces and underscores do not count."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = format_number(value) if isinstance(value, int | float) else str(value)
    return "-".join(text.replace("_", " ").replace("-", " ").casefold().split())


def day_text(value: Any) -> str:
    """Write a date as far as it is known; `2Q23` and `Q2 2023` give the quarter's first month."""
    text = str(part(value, "value"))
    hit = next(filter(None, (p.fullmatch(text.strip().upper()) for p in _QUARTERS)), None)
    if hit is None:
        return text
    return f"{'20' if len(hit['y']) == 2 else ''}{hit['y']}-{int(hit['q']) * 3 - 2:02}"


def part(value: Any, name: str) -> Any:
    """Give one part of a value with parts; a plain value has only its `value`."""
    if isinstance(value, Mapping):
        return value.get(name)
    return value if name == "value" else None


def flag(value: Any) -> bool | None:
    """Read yes or no; None where it is neither."""
    value = part(value, "value")
    if isinstance(value, bool):
        return value
    text = word(value)
    return True if text in _YES else False if text in _NO else None


def amount(attribute: Attribute, claim: Claim, value: Any = None) -> Amount:
    """Read *value* (or the claim's own) as an amount in the attribute's unit.

    Args:
        attribute: The line of the kind sheet [-].
        claim: Whose value, unit, uncertainty and origin count [-].
        value: One value of a list or a bound of a range, instead of the claim's [-].

    Returns:
        The amount [the attribute's unit].

    Raises:
        InvalidInput: it cannot be read as such an amount.

    Source:
        Counting rule of this project; no standard applies.
    """
    raw = part(claim.value, "value") if value is None else value
    unit = unit_named(attribute.unit or "1")
    default = _unit(claim, unit.symbol)
    try:
        size = _in_unit(raw, default, unit.symbol) if isinstance(
            raw, str | int | float | Fraction) else exact(raw)
    except UnknownUnit as err:
        raise InvalidInput.at(f"{claim.where}/value", err.detail) from err
    return Amount(size, uncertainty(attribute, claim), unit.symbol)


def uncertainty(attribute: Attribute, claim: Claim) -> Fraction:
    """Give the uncertainty of a claim: its own, else by origin and tool.

    Args:
        attribute: The line of the kind sheet [-].
        claim: The claim [-].

    Returns:
        The uncertainty [the attribute's unit].

    Raises:
        InvalidInput: its own is negative or no number.

    Source:
        Guard band after ISO 14253-1, from memory; sizes are common practice, no source.
    """
    if claim.u is not None:
        return step(attribute, claim, claim.u, "u")
    if claim.origin.how in _PRINTED or unit_named(attribute.unit or "1").kind != "length":
        return Fraction(0)
    if claim.origin.how == "measured-used" and attribute.rubber:
        return convert_step(USED_RUBBER_MM, "mm", attribute.unit)
    tool = claim.origin.tool or attribute.tool
    if tool not in TOOLS:
        raise InvalidInput.at(f"{claim.where}/origin/tool", f"one of {', '.join(TOOLS)}")
    return convert_step(Fraction(TOOLS[tool]), "mm", attribute.unit)


def tolerance(attribute: Attribute, claim: Claim, nominal: Fraction) -> Fraction | None:
    """Give the tolerance of a claim: its own, else the sheet's; None where there is neither.

    Args:
        attribute: The line of the kind sheet [-].
        claim: The claim [-].
        nominal: Value to which a tolerance in percent refers [the attribute's unit].

    Returns:
        The tolerance [the attribute's unit].

    Raises:
        InvalidInput: its own is negative or no number.

    Source:
        Counting rule of this project; no standard applies.
    """
    if claim.tol is not None:
        return step(attribute, claim, claim.tol, "tol")
    if claim.cmp == "equal" and attribute.cmp != "equal":
        return Fraction(0)
    if attribute.tol_percent is not None:
        return abs(nominal) * attribute.tol_percent / 100
    return attribute.tol


def step(attribute: Attribute, claim: Claim, given: Any, name: str) -> Fraction:
    """Read a tolerance or an uncertainty, which is a difference and not negative.

    Args:
        attribute: The line of the kind sheet [-].
        claim: Whose unit counts [-].
        given: The size as written [-].
        name: `tol` or `u`, for messages [-].

    Returns:
        The size [the attribute's unit].

    Raises:
        InvalidInput: it is negative or no number.

    Source:
        Counting rule of this project; no standard applies.
    """
    unit = unit_named(attribute.unit or "1").symbol
    try:
        default = _unit(claim, unit)
        plain = isinstance(given, str | int | float | Fraction)
        size = _step_in_unit(given, default, unit) if plain else exact(given)   # which refuses it
    except UnknownUnit as err:
        raise InvalidInput.at(f"{claim.where}/{name}", err.detail) from err
    if size < 0:
        raise InvalidInput.at(f"{claim.where}/{name}", "must not be negative")
    return size


def bounds(attribute: Attribute, claim: Claim) -> tuple[Amount | None, Amount | None, bool]:
    """Read `{min, max}`: the bounds, and whether one that is named is not known.

    Args:
        attribute: The line of the kind sheet [-].
        claim: The claim [-].

    Returns:
        Least, greatest [the attribute's unit], and whether a named bound is null [-].

    Raises:
        InvalidInput: neither bound is named, or they are crossed.

    Source:
        Counting rule of this project; no standard applies.
    """
    value = claim.value
    if isinstance(value, str):
        halves = value.replace("–", "-").replace("…", "-").replace(" to ", "-").split("-")
        value = dict(zip(("min", "max"), halves, strict=False)) if len(halves) == 2 else value
    if not isinstance(value, Mapping) or not {"min", "max"} & set(value):
        raise InvalidInput.at(f"{claim.where}/value", "a range needs min or max")
    low, high = (None if value.get(end) is None else amount(attribute, claim, value[end])
                 for end in ("min", "max"))
    if low and high and low.amount > high.amount:
        raise InvalidInput.at(f"{claim.where}/value", "min is above max")
    return low, high, any(end in value and value[end] is None for end in ("min", "max"))


@lru_cache(_KEPT, typed=True)
def _in_unit(raw: str | float | Fraction, default: str, unit: str) -> Fraction:
    """Read what people write of an amount, in a unit."""
    quantity = (parse_quantity(raw, default) if isinstance(raw, str)
                else Quantity(exact(raw), unit_named(default).symbol))
    return _settled(quantity.to(unit).amount)


@lru_cache(_KEPT, typed=True)
def _step_in_unit(given: Any, default: str, unit: str) -> Fraction:
    """Read what people write of a difference, in a unit."""
    quantity = (parse_quantity(given, default) if isinstance(given, str)
                else Quantity(exact(given), default))
    return _settled(convert_step(quantity.amount, quantity.unit, unit))


def _settled(amount_: Fraction) -> Fraction:
    """Take off the noise of a decimal number that was converted before it came here."""
    return Fraction(round(amount_ * _NOISE), _NOISE)


def _unit(claim: Claim, fallback: str) -> str:
    if claim.unit is None:
        return fallback
    try:
        return unit_named(claim.unit).symbol
    except UnknownUnit as err:
        raise InvalidInput.at(f"{claim.where}/unit", err.detail) from err
