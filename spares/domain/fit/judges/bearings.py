"""Judge the sides of bearings: open, shields, seals that touch."""

from __future__ import annotations

from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.context import Context
from spares.domain.fit.finding import Finding, caution, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import judge_word, listed, show
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim


@judge("closure", by_place=True)
def judge_closure(ctx: Context, attribute: Attribute, asked: Claim | None,
                  offered: Claim) -> Finding:
    """Judge the sides; seals instead of shields keep more out and turn heavier."""
    if asked is None:
        return _in_a_wet_place(attribute, _plain(attribute, listed(offered.value)[0]),
                               {"required": "a wet place", "offered": show(offered.value)})
    found = judge_word(ctx, attribute, asked, offered)
    wanted = [_plain(attribute, v) for v in listed(asked.value)]
    have = _plain(attribute, listed(offered.value)[0])
    texts: dict[str, Any] = {"required": found.required, "offered": found.offered}
    if found.result == "match":
        if ctx.place.wet and have.startswith("shield"):
            return found.warn("shields do not keep water out")
        return found
    if have.startswith("seal") and have.replace("seal", "shield") in wanted:
        return caution("seals that touch instead of shields: more drag, less speed", **texts)
    return found


def _in_a_wet_place(attribute: Attribute, have: str, texts: dict[str, str]) -> Finding:
    if have == "seal-both":
        return match("seals touch on both sides", **texts)
    if have == "seal-one":
        return unknown("one side is open, and which side is wet is not recorded",
                       attribute.measure, **texts)
    return differs(f"only seals that touch keep water out: {attribute.why}", **texts)


def _plain(attribute: Attribute, value: Any) -> str:
    said = reading.word(value)
    return attribute.aliases.get(said, said)

