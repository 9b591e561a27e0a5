"""What is asked of an amount, read once: limits that each offered amount is held to.

Reading a requirement costs far more than comparing with it, so it is read once a fit point. The
numbers are counted in grains, whole ones for everything that is written with up to nine digits
after the point, because whole numbers compare exactly and fast; what is finer stays a fraction.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, NamedTuple

from spares.domain.fit import reading
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput

GRAINS = 10**12      # to the unit of an attribute
Grains = int | Fraction
_ORDER = (False, None, True)
_SEVERAL = ("range", "one-of")


class Decision(NamedTuple):
    """Whether an amount is inside, by how much it is off, in grains; None: nobody can tell.

    `open_end`: nobody can tell because an end of the range is not known.
    """

    inside: bool | None
    gap: Grains
    u: Grains
    tol: Grains
    open_end: bool = False


class Size(NamedTuple):
    """An amount and the uncertainty of its reading, in grains."""

    amount: Grains
    u: Grains


@dataclass(frozen=True, slots=True)
class Limits:
    """What is asked of one amount, by one comparator.

    `wanted` are the amounts asked: one, several for `one-of`, the ends of a range (None: not
    said). `tols` are their tolerances for printing and, with `sizes`, for comparing.
    """

    how: str
    wanted: tuple[Amount | None, ...]
    sizes: tuple[Size | None, ...]
    tols: tuple[Fraction | None, ...] = ()
    tol: Grains = 0
    doubt: Grains = 0               # between a narrow and a wide tolerance
    percent: Fraction | None = None     # tolerance as a share of the smaller amount
    gappy: bool = False


def within(gap: Grains, tol: Grains, u: Grains) -> bool | None:
    """Tell whether a difference is inside a tolerance; None where the uncertainty hides it.

    Args:
        gap: Difference of the two readings [mm], or the unit of both.
        tol: Tolerance [mm], the same unit.
        u: Uncertainty of both readings together [mm], the same unit.

    Returns:
        True, False or None [-].

    Source:
        Guard band after ISO 14253-1, from memory.

    Example:
        >>> [within(Fraction(g), Fraction("0.10"), Fraction("0.05")) for g in ("0.04", "0.09")]
        [True, None]
    """
    if abs(gap) <= tol - u:
        return True
    return False if abs(gap) >= tol + u else None


def reaches(value: Grains, limit: Grains, u: Grains) -> bool | None:
    """Tell whether a value is at least a limit; None where the uncertainty hides it.

    Args:
        value: Reading [mm], or the unit of both.
        limit: What it must reach [mm], the same unit.
        u: Uncertainty of both together [mm], the same unit.

    Returns:
        True, False or None [-].

    Source:
        Guard band after ISO 14253-1, from memory.

    Example:
        >>> reaches(Fraction(9), Fraction(8), Fraction(0))
        True
    """
    if value - u >= limit:
        return True
    return False if value + u < limit or (u and value + u <= limit) else None


def grains(number: Fraction) -> Grains:
    """Count a number in grains.

    Args:
        number: Any exact number [its unit].

    Returns:
        A whole number where it is one [10⁻¹² of the unit].

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> grains(Fraction("0.05"))
        50000000000
    """
    whole, rest = divmod(number.numerator * GRAINS, number.denominator)
    return whole if not rest else number * GRAINS


def size_of(have: Amount) -> Size:
    """Give an amount with its uncertainty in grains."""
    return Size(grains(have.amount), grains(have.u))


def limits_of(attribute: Attribute, asked: Claim) -> Limits:
    """Read what is asked of an amount.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].

    Returns:
        The limits [the attribute's unit].

    Raises:
        InvalidInput: the requirement cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    how = comparator(attribute, asked)
    if how == "range":
        low, high, gappy = reading.bounds(attribute, asked)
        ends = low, high
        return Limits(how, ends, tuple(None if e is None else size_of(e) for e in ends),
                      gappy=gappy)
    if how == "one-of":
        values = asked.value if isinstance(asked.value, list | tuple) else [asked.value]
        many = tuple(reading.amount(attribute, asked, value) for value in values)
        return Limits(how, many, tuple(map(size_of, many)), tuple(
            reading.tolerance(attribute, asked, one.amount) for one in many))
    wanted = reading.amount(attribute, asked)
    tol = reading.tolerance(attribute, asked, wanted.amount)
    one = ((wanted,), (size_of(wanted),), (tol,))
    if how in ("at-least", "at-most"):
        return Limits(how, *one, grains(Fraction(0) if asked.tol is None or tol is None else tol))
    if how == "tol" and tol is None:
        raise InvalidInput.at(f"{asked.where}/tol", "a tolerance is needed")
    if asked.tol is None and tol and attribute.tol_percent is not None:
        return Limits(how, *one, percent=attribute.tol_percent)
    if attribute.tol_wide is not None and asked.tol is None and tol is not None:
        # between the narrow and the wide tolerance nobody can tell without knowing the joint
        return Limits(how, *one, grains((attribute.tol_wide + tol) / 2),
                      doubt=grains((attribute.tol_wide - tol) / 2))
    return Limits(how, *one, grains(tol or Fraction(0)))


def up_to(limits: Limits, times: Fraction | None) -> Limits:
    """Close limits that are open upwards, where what is far above them needs a closer look.

    Args:
        limits: What is asked [the attribute's unit].
        times: How many times the least asked is still plain [-]; None leaves them open.

    Returns:
        The limits [the attribute's unit].

    Source:
        Counting rule of this project; no standard applies.
    """
    low = limits.wanted[0]
    half = limits.how == "range" and limits.wanted[1:] == (None,) and not limits.gappy
    if times is None or low is None or not half and limits.how != "at-least":
        return limits
    ends = replace(low, amount=low.amount - Fraction(limits.tol, GRAINS)), replace(
        low, amount=low.amount * times)
    return Limits("range", ends, tuple(map(size_of, ends)))


def decide(limits: Limits, offered: Size) -> Decision:
    """Hold an amount to its limits.

    Args:
        limits: What is asked [the attribute's unit].
        offered: What the part has [grains].

    Returns:
        Whether it is inside, and what that was decided by [grains].

    Source:
        Guard band after ISO 14253-1, from memory.

    Example:
        >>> size = Size(grains(Fraction(65)), 0)
        >>> decide(Limits("tol", (None,), (size,), tol=GRAINS), Size(67 * GRAINS, 0)).inside
        False
    """
    how = limits.how
    if how in _SEVERAL:
        return (_plainly_inside(limits, *offered) or _in_range(limits, *offered)
                if how == "range" else _one_of(limits, *offered))
    (amount, u), (wanted, own_u) = offered, limits.sizes[0]     # type: ignore[misc]
    gap, u, tol = amount - wanted, own_u + u + limits.doubt, limits.tol
    if how == "at-least":
        return Decision(reaches(amount, wanted - tol, u), gap, u, tol)
    if how == "at-most":
        return Decision(reaches(-amount, -wanted - tol, u), gap, u, tol)
    if limits.percent is not None:
        tol = min(abs(wanted), abs(amount)) * limits.percent / 100
    return Decision(within(gap, tol, u), gap, u, tol)


def side_of(gap: Grains) -> str:
    """Tell on which side an offer lies: `more`, `less`, or neither."""
    return "more" if gap > 0 else "less" if gap < 0 else ""


def comparator(attribute: Attribute, asked: Claim) -> str:
    """Give the comparator of a claim: its own, else that which its value's shape or the sheet asks.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].

    Returns:
        One of the comparators [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    if asked.cmp is not None:
        return asked.cmp
    if isinstance(asked.value, list | tuple):
        return "one-of"
    if isinstance(asked.value, Mapping) and {"min", "max"} & set(asked.value):
        return "range"
    if attribute.cmp == "one-of":
        return "equal"
    return "tol" if asked.tol is not None and attribute.cmp == "equal" else attribute.cmp


def _plainly_inside(limits: Limits, amount: Grains, u: Grains) -> Decision | None:
    """Say of most amounts at once that they lie between the ends; None where more is to be seen."""
    low, high = limits.sizes
    if low is None or high is None or limits.gappy:
        return None
    below = low.u + u
    if amount - low.amount >= below and high.amount - amount >= high.u + u:
        return Decision(True, 0, below, high.amount - low.amount)
    return None


def _in_range(limits: Limits, amount: Grains, u: Grains) -> Decision:
    results = []
    for end, sign in zip(limits.sizes, (1, -1), strict=True):
        if end is not None:
            both = end.u + u
            results.append(Decision(reaches(sign * amount, sign * end.amount, both),
                                    amount - end.amount, both, 0))
    if not results:
        return Decision(None, 0, 0, 0, open_end=True)
    worst = min(results, key=lambda r: _ORDER.index(r.inside))
    low, high = limits.sizes
    spread: Any = high.amount - low.amount if low and high else 0
    if worst.inside:
        return Decision(None if limits.gappy else True, 0, worst.u, spread, limits.gappy)
    return worst._replace(tol=spread)


def _one_of(limits: Limits, amount: Grains, u: Grains) -> Decision:
    results = [within(amount - one.amount, grains(tol or Fraction(0)), one.u + u)
               for one, tol in zip(limits.sizes, limits.tols, strict=True) if one]
    inside = True if True in results else None if None in results else False
    return Decision(inside, 0, 0, 0)
