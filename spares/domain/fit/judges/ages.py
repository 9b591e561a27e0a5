"""Judge ages: how long a thing has lain since it was cured, made or packed. Advisory always."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.context import Context
from spares.domain.fit.finding import Finding, caution, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.materials import means
from spares.domain.fit.judges.plain import judge_day, show
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput
from spares.standards import table


@judge("rubber_age", by_place=True)
def judge_rubber_age(ctx: Context, attribute: Attribute, asked: Claim | None,
                     offered: Claim) -> Finding:
    """Judge rubber by the day of cure and its group."""
    rubber = ctx.offered_word("material")
    row = next((r for r in table("shelf_life").records()
                if rubber and reading.word(r["rubber"]) == means(rubber)), None)
    if row is None and asked is None:
        return unknown("which rubber it is, and so how long it keeps, is not known",
                       "label", offered=show(offered.value))
    return _age(ctx, attribute, asked, offered, row, f"group {row['group']} of ISO 2230"
                if row else "")


@judge("other_age", by_place=True)
def judge_other_age(ctx: Context, attribute: Attribute, asked: Claim | None,
                    offered: Claim) -> Finding:
    """Judge other things by the day they were made or packed."""
    kind = ctx.sheet.kind if ctx.sheet.kind != "fluid" else ctx.offered_word("fluid_kind")
    row = table("shelf_life_other").find(kind=kind)
    found = _age(ctx, attribute, asked, offered, row, "usual shelf life")
    return found.but(rests_on=("usual shelf lives",)) if row else found


def _age(ctx: Context, attribute: Attribute, asked: Claim | None, offered: Claim,
         row: dict[str, Any] | None, whose: str) -> Finding:
    if asked is not None and isinstance(asked.value, str):
        earlier = judge_day(ctx, attribute, asked, offered)
        if earlier.result == "differs" or row is None:
            return earlier
    day, text = first_day(offered), show(offered.value)
    if row is None or ctx.today is None:
        return match("nothing is known of how long it keeps", offered=text)
    if day > ctx.today:
        return caution("dated after today: read the mark again", offered=text)
    years = (ctx.today - day).days / 365.25
    first, longer = row["first_years"], row["longer_years"]
    texts: dict[str, Any] = {"offered": text, "required": f"{first} years, {longer} more after "
                             f"a look ({whose})"}
    if years <= first:
        return match(f"{years:.1f} years old; a warm damp locker shortens it", **texts)
    if years <= first + longer:
        return caution(f"{years:.1f} years old: past {first}, inside {first} + {longer} after a "
                       "look for cracks, set and hardening", **texts)
    return caution(f"{years:.1f} years old: past {first} + {longer}", **texts)


def first_day(offered: Claim) -> date:
    """Give the earliest day that a date cut to what is known may mean.

    Args:
        offered: Claim with `2023`, `2Q23`, `2023-05` or `2023-05-14` [-].

    Returns:
        The day [-].

    Raises:
        InvalidInput: it is no such date.

    Source:
        Counting rule of this project; no standard applies.
    """
    value = reading.day_text(offered.value)
    try:
        return date.fromisoformat((value + "-01-01")[:10] if len(value) in (4, 7) else value)
    except ValueError as err:
        raise InvalidInput.at(f"{offered.where}/value", "a date like 2023, 2Q23, 2023-05 "
                              "or 2023-05-14 is needed") from err
