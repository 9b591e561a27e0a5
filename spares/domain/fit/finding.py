"""What one comparison found, before severity and named changes turn it into a row."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

MATCH, DIFFERS, CAUTION, UNKNOWN = "match", "differs", "caution", "unknown"
RESULTS = {False: DIFFERS, None: UNKNOWN}       # of an amount that is not inside its limits
_ORDER = (MATCH, CAUTION, "change", UNKNOWN, DIFFERS)      # from the kindest to the worst


@dataclass(frozen=True)
class Finding:
    """The result of one comparison.

    `side` tells on which side the offer lies (`more`, `less`). `change` names the change that
    would meet it, where the judge knows better than the sheet; `barred` says why no change may
    be used; `weight` is a severity in the place of the sheet's. `cautions` become advisories.
    `rests_on` names tables that nobody looked up.
    """

    result: str
    reason: str
    side: str = ""
    change: str = ""
    detail: str = ""
    barred: str = ""
    measure: str = ""
    weight: str = ""
    required: str | None = None
    offered: str | None = None
    cautions: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()

    def but(self, **fields: Any) -> Finding:
        """Give a copy with some fields changed."""
        return replace(self, **fields)

    def warn(self, *cautions: str) -> Finding:
        """Give a copy with further cautions."""
        return replace(self, cautions=(*self.cautions, *cautions))


def match(reason: str, **more: Any) -> Finding:
    """Find that the offer meets what is asked."""
    return Finding(MATCH, reason, **more)


def differs(reason: str, **more: Any) -> Finding:
    """Find that it does not."""
    return Finding(DIFFERS, reason, **more)


def unknown(reason: str, measure: str = "", **more: Any) -> Finding:
    """Find that nobody can tell, and what to measure."""
    return Finding(UNKNOWN, reason, measure=measure, **more)


def caution(reason: str, **more: Any) -> Finding:
    """Find a difference that does not keep the part from fitting."""
    return Finding(CAUTION, reason, **more)


def worst(*findings: Finding, rank: Callable[[Finding], int] | None = None) -> Finding:
    """Give the worst of several findings, with the cautions and the tables of all.

    Args:
        findings: At least one [-].
        rank: How bad one is, where the sheet decides that [-]; else by its result, a named change
            being better than what nobody can tell.

    Returns:
        The worst, the first of several [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    found = max(findings, key=rank or _rank)
    return found.but(cautions=tuple(dict.fromkeys(c for f in findings for c in f.cautions)),
                     rests_on=tuple(dict.fromkeys(t for f in findings for t in f.rests_on)))


def _rank(found: Finding) -> int:
    met = found.result == DIFFERS and found.change and not found.barred
    return _ORDER.index("change" if met else found.result)
