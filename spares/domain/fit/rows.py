"""From findings to rows: how grave each is, what would change it, and the words for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from spares.domain.fit.context import Context
from spares.domain.fit.finding import CAUTION, DIFFERS, MATCH, UNKNOWN, Finding
from spares.domain.fit.sheets import Attribute, named_changes
from spares.domain.fit.values import Claim, Row

#: What a row may say, from the kindest to the worst.
OUTCOMES = ("match", "advisory", "change", "unknown", "stop")
_OUTCOMES = {MATCH: "match", CAUTION: "advisory", UNKNOWN: "unknown"}


class Weight(NamedTuple):
    """What a finding means for the verdict: severity, outcome, code of the named change."""

    severity: str
    outcome: str
    change: str = ""


def weigh(ctx: Context, attribute: Attribute, asked: Sequence[Claim], result: str, side: str,
          *, finding: Finding | None = None) -> Weight:
    """Weigh what was found of one attribute.

    Args:
        ctx: The request, sorted and expanded [-].
        attribute: The line of the kind sheet [-].
        asked: What is asked of it [-].
        result: What was found: match, differs, caution or unknown [-].
        side: On which side the offer lies: `more`, `less` or neither [-].
        finding: The finding, where its judge knows more than result and side [-].

    Returns:
        Severity, outcome, and the change that meets a difference: without one it is a stop [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    severity = (finding.weight if finding else "") or gravest(c.severity for c in asked) or (
        "advisory" if any(ctx.holds(w) for w in attribute.advisory_when) else attribute.severity)
    if result != DIFFERS:
        return Weight(severity, _OUTCOMES[result])
    if severity == "advisory":
        return Weight(severity, "advisory")
    if finding and finding.barred:
        return Weight(severity, "stop")
    change = (finding.change if finding else "") or next(
        (c.name for c in attribute.changes if c.side in ("", side) and ctx.holds(c.when)), "")
    return Weight(severity, "change" if change else "stop", change)


def row_of(ctx: Context, attribute: Attribute, finding: Finding,
           companions: Mapping[str, Sequence[str]]) -> Row:
    """Give the row of one attribute with its words.

    Args:
        ctx: The request, sorted and expanded [-].
        attribute: The line of the kind sheet [-].
        finding: What was found of it [-].
        companions: Parts recorded for a change, by attribute [-].

    Returns:
        The row [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    severity, outcome, change = weigh(
        ctx, attribute, ctx.asked.get(attribute.code, ()), finding.result, finding.side,
        finding=finding)
    detail, reason = finding.detail, finding.reason
    if change:
        named = named_changes()[change]
        parts = companions.get(attribute.code, ())
        tail = f"needs {', '.join(parts)}" if parts else "no part recorded" if named.part else ""
        reason = f"{reason}. Only where: {named.conditions}"
        detail = "; ".join(filter(None, [detail, tail]))
    elif finding.barred and outcome == "stop":
        reason = f"{reason}. No change: {finding.barred}"
    rests_on = _rests_on(ctx, attribute, finding)
    if rests_on:
        reason = f"{reason} (rests on values from memory, not looked up: {', '.join(rests_on)})"
    return Row(attribute.code, attribute.label, outcome, severity, finding.required,
               finding.offered, reason,
               measure=(finding.measure or attribute.measure)
               if finding.result == UNKNOWN else None,
               change=named_changes()[change].name if change else None,
               detail=detail if change and detail else None, cautions=finding.cautions,
               rests_on=rests_on)


def gravest(severities: Iterable[str | None]) -> str | None:
    """Give the gravest of what several origins say, None where none says anything."""
    said = set(severities)
    return next((one for one in ("stop", "change", "advisory") if one in said), None)


def _rests_on(ctx: Context, attribute: Attribute, finding: Finding) -> tuple[str, ...]:
    claims = (*ctx.asked.get(attribute.code, ()), *ctx.offered.get(attribute.code, ()))
    return tuple(dict.fromkeys((*finding.rests_on, *(t for c in claims for t in c.rests_on))))
