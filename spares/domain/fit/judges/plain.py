"""Judges of plain attributes: amounts, words, yes or no, ranks, spans, and what may be any."""

from __future__ import annotations

from math import isfinite
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import comparator, compare_amount
from spares.domain.fit.context import Context
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput, UnknownUnit
from spares.units import format_number, parse_quantity

_DIGITS = 6     # as many as anybody reads behind the point
_SENSES = {"cw": "clockwise", "ccw": "anticlockwise"}


@judge("quantity", amounts=True)
def judge_quantity(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge amounts; `none` on either side means looked for, not there."""
    absent = judge_absent(attribute, asked, offered)
    if absent:
        return absent
    if isinstance(offered.value, list):
        raise InvalidInput.at(f"{offered.where}/value", "one amount is needed")
    found = compare_amount(attribute, asked, reading.amount(attribute, offered))
    return found.warn(attribute.caution) if attribute.caution and found.result == "match" \
        else found


def judge_absent(attribute: Attribute, asked: Claim, offered: Claim) -> Finding | None:
    """Judge the case that one side says `none`; it matches nothing but `none`.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].
        offered: The offer [-].

    Returns:
        The finding [-], or None where neither side says so.

    Source:
        Counting rule of this project; no standard applies.
    """
    wanted, have = (reading.part(c.value, "value") for c in (asked, offered))
    nothing = [reading.is_absent(v) for v in (wanted, have)]
    if not any(nothing):
        return None
    texts = {"required": show(asked.value), "offered": show(offered.value)}
    if all(nothing):
        return match("neither is there, as asked", **texts)
    if nothing[1]:
        return differs(f"looked for, not there: {attribute.why}", **texts)
    return differs(f"there must be none: {attribute.why}", **texts)


@judge("word")
def judge_word(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge words: equal, or one of several; case, spaces and hyphens do not count."""
    wanted, have = listed(asked.value), listed(offered.value)
    texts = {"required": " or ".join(map(show, wanted)), "offered": ", ".join(map(show, have))}
    words = {_plain_word(attribute, v) for v in wanted}
    if comparator(attribute, asked) == "mates":
        return _mates(attribute, words, have, texts)
    inside = [_plain_word(attribute, v) in words for v in have]
    if any(inside) if attribute.offered_any else all(inside):
        found = match("as asked", **texts)
        if len(wanted) > 1 and reading.word(have[0]) != reading.word(wanted[0]):
            return found.warn(f"{show(have[0])} is allowed, {show(wanted[0])} would be the first "
                              "choice")
        return found
    return differs(f"not as asked: {attribute.why}", **texts)


@judge("flag")
def judge_flag(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge yes and no. With `at-least`, yes serves where no is asked too."""
    if isinstance(asked.value, list) or isinstance(offered.value, list):
        return judge_word(ctx, attribute, asked, offered)
    wanted, have = reading.flag(asked.value), reading.flag(offered.value)
    texts = {"required": show(asked.value), "offered": show(offered.value)}
    if wanted is None or have is None:
        return judge_word(ctx, attribute, asked, offered)
    if wanted == have or comparator(attribute, asked) == "at-least" and have:
        return match("as asked", **texts)
    reason = "looked for, not there" if reading.is_absent(offered.value) else "not as asked"
    return differs(f"{reason}: {attribute.why}", side="more" if have else "less", **texts)


@judge("rank")
def judge_rank(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge words that have an order, poorest first."""
    absent = judge_absent(attribute, asked, offered)
    if absent:
        return absent
    order = {reading.word(r): n for n, r in enumerate(attribute.ranks)}
    wanted, have = listed(asked.value), reading.word(reading.part(offered.value, "value"))
    words = [reading.word(w) for w in wanted]
    texts = {"required": " or ".join(map(show, wanted)), "offered": show(offered.value)}
    if have in words:
        return match("as asked", **texts)
    how = comparator(attribute, asked)
    if have not in order or any(w not in order for w in words):
        if how == "equal":
            return differs(f"not as asked: {attribute.why}", **texts)
        return unknown(f"no such grade is known here: {attribute.why}", attribute.measure, **texts)
    better = order[have] > min(order[w] for w in words)
    if how == "at-least" and better or how == "at-most" and not better:
        return match("better than asked" if better else "below the limit", **texts)
    return differs(f"not as asked: {attribute.why}", side="more" if better else "less", **texts)


@judge("any")
def judge_any(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge an attribute that may be an amount, a thread or a word."""
    from spares.domain.fit.judges.threads import judge_thread, looks_like_thread
    threads = [looks_like_thread(asked.value), looks_like_thread(offered.value)]
    other = show(offered.value if threads[0] else asked.value)
    if all(threads) or any(threads) and any(c.isdigit() for c in other):
        return judge_thread(ctx, attribute, asked, offered)
    values = [*listed(asked.value), *listed(offered.value)]
    if any(isinstance(v, bool) for v in values):
        return judge_flag(ctx, attribute, asked, offered)
    if all(is_amount(attribute, v) for v in values) and not isinstance(offered.value, list):
        return judge_quantity(ctx, attribute, asked, offered)
    return judge_absent(attribute, asked, offered) or judge_word(ctx, attribute, asked, offered)


@judge("code")
def judge_code(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge a code that cannot be read: equal to the letter, or nobody can tell."""
    wanted, have = listed(asked.value), show(offered.value)
    texts = {"required": " or ".join(map(show, wanted)), "offered": have}
    if have in [show(w) for w in wanted]:
        return match("the same code to the letter", **texts)
    return unknown("the code cannot be read here, and codes that look alike may differ",
                   "measure what the code stands for, or ask the maker", **texts)


@judge("day")
def judge_day(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge dates, which may be cut to what is known."""
    wanted, have = reading.day_text(asked.value), reading.day_text(offered.value)
    size = min(len(wanted), len(have))
    later = have[:size] >= wanted[:size]
    how = comparator(attribute, asked)
    good = {"at-least": later, "at-most": have[:size] <= wanted[:size]}.get(
        how, have.startswith(wanted))
    texts = {"required": show(asked.value), "offered": show(offered.value)}
    if have != wanted and wanted.startswith(have):
        return unknown("the date is not known closely enough to tell", attribute.measure, **texts)
    return match("as asked", **texts) if good else differs(f"not as asked: {attribute.why}",
                                                           **texts)


def show(value: Any) -> str:
    """Print a plain value as a person would write it.

    Args:
        value: Plain JSON [-].

    Returns:
        The text [-].

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> show(True), show({"value": "cw", "seen_from": "shaft-end"})
        ('yes', 'clockwise seen from shaft end')
    """
    if value is None:
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        if "seen_from" in value:
            sense = str(value.get("value"))
            end = show(value["seen_from"]).replace("-", " ")
            return f"{_SENSES.get(sense, sense)} seen from {end}"
        return ", ".join(show(v) if k == "value" else f"{k} {show(v)}" for k, v in value.items())
    if isinstance(value, list):
        return ", ".join(map(show, value))
    # a computed number may carry noise far behind the point, which nobody measured
    return format_number(value, _DIGITS) if isinstance(value, float) and isfinite(value) \
        else str(value)


def listed(value: Any) -> list[Any]:
    """Give a list of one or several values.

    Args:
        value: Plain JSON [-].

    Returns:
        The values [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    values = value if isinstance(value, list) else [value]
    return [reading.part(v, "value") if isinstance(v, dict) and "value" in v else v
            for v in values]


def not_stated(attribute: Attribute, asked: Claim | None) -> Finding:
    """Find that the part does not say.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement, or None [-].

    Returns:
        The finding [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    return unknown("not measured", f"on the part: {attribute.measure}",
                   required=show(asked.value) if asked else None)


def _plain_word(attribute: Attribute, value: Any) -> str:
    """Give the word by which a value is compared, other names of the sheet put right."""
    said = reading.word(value)
    return attribute.aliases.get(said, said)


def is_amount(attribute: Attribute, value: Any) -> bool:
    """Tell whether a value can be read as an amount or a range; `2 circlips` cannot.

    Args:
        attribute: The line of the kind sheet, whose unit goes without saying [-].
        value: Plain JSON [-].

    Returns:
        Yes or no [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    if isinstance(value, dict):
        return {"min", "max"} & set(value) != set()
    if not isinstance(value, str):
        return isinstance(value, int | float) and not isinstance(value, bool)
    try:
        parse_quantity(value, attribute.unit or "1").to(attribute.unit or "1")
    except UnknownUnit:
        return False
    return True


def _mates(attribute: Attribute, wanted: set[str], have: list[Any],
           texts: dict[str, str]) -> Finding:
    """Judge words that must be opposite: male goes into female."""
    sides = {"male": "female", "female": "male", "external": "female", "internal": "male"}
    goes = {sides.get(w) for w in wanted}
    got = {"external": "male", "internal": "female"}.get(reading.word(have[0]),
                                                         reading.word(have[0]))
    if None in goes:
        return judge_code_text(attribute, texts)
    if got in goes:
        return match("the two sides go together", **texts)
    return differs(f"both on the same side: {attribute.why}", **texts)


def judge_code_text(attribute: Attribute, texts: dict[str, str]) -> Finding:
    """Find that a word asked cannot be read.

    Args:
        attribute: The line of the kind sheet [-].
        texts: What to show as required and offered [-].

    Returns:
        The finding [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    return unknown("what is asked cannot be read", attribute.measure, **texts)
