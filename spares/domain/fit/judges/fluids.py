"""Judge fluids: viscosity grades and service classes, `or later` understood."""

from __future__ import annotations

import re
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.context import Context
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import judge_word, listed, show
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.standards import table

_LATER = re.compile(r"\s*(or|and)\s+(later|newer|better|higher|above)\s*$", re.I)
_CLASSES = ("order of oil classes",)


@judge("viscosity")
def judge_viscosity(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge viscosity grades; SAE, spaces and hyphens do not count."""
    wanted, have = listed(asked.value), listed(offered.value)
    texts: dict[str, Any] = {"required": " or ".join(map(show, wanted)),
                             "offered": ", ".join(map(show, have))}
    if {_grade(w) for w in wanted} & {_grade(h) for h in have}:
        return match("as asked", **texts)
    return differs(f"another grade: {attribute.why}", **texts)


@judge("specification")
def judge_specification(ctx: Context, attribute: Attribute, asked: Claim,
                        offered: Claim) -> Finding:
    """Judge service classes: listed, or later where later is allowed."""
    wanted, have = listed(asked.value), listed(offered.value)
    if any(reading.is_absent(h) for h in have):
        return judge_word(ctx, attribute, asked, offered)
    texts: dict[str, Any] = {"required": " or ".join(map(show, wanted)),
                             "offered": ", ".join(map(show, have))}
    printed = [part for h in have for part in re.split(r"[;,/]| and ", str(h))]
    later = []
    for item in wanted:
        plain = _LATER.sub("", str(item))
        allowed = plain != str(item)
        for name in (*map(str, have), *printed):
            if _spec(name) == _spec(plain):
                return match("as asked", **texts)
            old, new = _order(plain), _order(name)
            if old and new and old[0] == new[0] and new[1] > old[1]:
                if allowed:
                    return match("a later class, as allowed", rests_on=_CLASSES, **texts)
                later.append(name)
    if later:
        return unknown("a later class; whether later ones are allowed is not said",
                       "maker's book: or later?", **texts)
    return differs(f"not among those asked: {attribute.why}", **texts)


def _grade(value: Any) -> str:
    return re.sub(r"^(SAE|ISO)?\s*", "", re.sub(r"[\s_-]+", "", str(value).upper()))


def _spec(value: Any) -> str:
    name = re.sub(r"[\s_-]+", "", str(value).upper())
    return name.removeprefix("API").removeprefix("SERVICE")     # API CF-4/SG names it once


def _order(value: str) -> tuple[str, int] | None:
    name = _spec(value)
    for row in table("oil_classes").records():
        if _spec(row["class"]) == name:
            return row["family"], row["order"]
    return None
