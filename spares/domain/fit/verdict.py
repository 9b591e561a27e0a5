"""The verdict: any stop, else any unknown that decides, else any change, else it fits.

An advisory never blocks. Without a requirement that decides, the strongest recorded link does;
where requirements are recorded a link lifts nothing, but a trial that failed always wins.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from spares.domain.fit.context import Context
from spares.domain.fit.expand import expand
from spares.domain.fit.rows import judge_rows
from spares.domain.fit.sheets import KindSheet, sheet
from spares.domain.fit.values import VERDICTS, Claim, FitRequest, FitVerdict, Link, Row
from spares.errors import InvalidInput

_PROVEN = ("makers-list", "measured", "fitted-before")


def check_fit(request: FitRequest, sheets: Mapping[str, KindSheet] | None = None) -> FitVerdict:
    """Decide whether what is offered fits what is asked.

    Args:
        request: Kind, place, requirements, offers and links; offers that the kind has no line
            for are left aside [-].
        sheets: Kind sheets to use; ours when left out [-].

    Returns:
        The verdict with every row [-].

    Raises:
        InvalidInput: the kind or an attribute asked is not known, or a claim cannot be read.

    Source:
        Precedence and guard band are rules of this project; tables name their own sources.

    Example:
        >>> bore = Claim("bore", "5/8 in"), Claim("bore", 15.875)
        >>> check_fit(FitRequest("impeller", bore[:1], bore[1:])).verdict
        'fits'
    """
    found = sheet(request.kind or "general", sheets)
    known_attributes(found, request.requires)
    # a part of another kind may have attributes that this place does not ask about
    known = tuple(claim for claim in request.offers if claim.attr in found.attributes)
    request = replace(request, offers=known)
    answers = [_check(found, request, asked, offered)
               for asked in expand(found, request.requires, asked=True)
               for offered in expand(found, request.offers, asked=False)]
    return min(answers, key=lambda a: VERDICTS.index(a.verdict))


def _check(found: KindSheet, request: FitRequest, asked: Sequence[Claim],
           offered: Sequence[Claim]) -> FitVerdict:
    ctx = Context(found, request.place, _by_attribute(asked), _by_attribute(offered),
                  request.today)
    rows = judge_rows(ctx, request.companions)
    deciding = any(row.severity != "advisory" or row.outcome != "unknown"
                   for row in rows if row.attr in ctx.asked)
    links, notes = _links(request.links, rows, deciding)
    rows = (*rows, *links)
    return FitVerdict(
        verdict=_verdict(rows, deciding, bool(links)), rows=rows,
        to_measure=_to_measure(found, rows), changes=_changes(rows),
        advisories=(*_advisories(rows), *_only_advice(ctx, rows), *notes))


def _verdict(rows: Sequence[Row], deciding: bool, linked: bool) -> str:
    outcomes = {row.outcome for row in rows}
    if "stop" in outcomes:
        return "does-not-fit"
    if any(row.outcome == "unknown" and row.severity != "advisory" for row in rows):
        return "not-known-yet"
    if not deciding and not linked:
        return "not-known-yet"
    return "fits-with-changes" if "change" in outcomes else "fits"


def _links(links: Sequence[Link], rows: Sequence[Row],
           deciding: bool) -> tuple[tuple[Row, ...], tuple[dict[str, str], ...]]:
    """Give the row and the notes that recorded links make."""
    takes = [link.proof for link in links if link.role == "takes"]
    if "tried-no" in takes:
        return (_link_row("stop", "tried: it does not fit", "tried-no"),), ()
    if not takes and any(link.role == "goes-with" for link in links):
        return (_link_row("stop", "goes with it, does not sit here", "goes-with"),), ()
    proof = next((p for p in _PROVEN if p in takes), None)
    if deciding or not takes:
        stops = [row.label for row in rows if row.outcome == "stop"]
        said = (f"recorded as fitting ({proof}), yet {', '.join(stops)} does not agree: "
                "one of the two is wrong")
        return (), ({"attr": "link", "advisory": said},) if proof and stops else ()
    if proof:
        return (_link_row("match", f"recorded as fitting: {proof}; no requirement that decides "
                          "is recorded", proof),), ()
    weak = "hearsay" if "hearsay" in takes else "candidate"
    return (_link_row("unknown", f"only {weak}: nothing is measured or listed", weak,
                      "measure the fit point and the part, row by row"),), ()


def _link_row(outcome: str, reason: str, offered: str, measure: str | None = None) -> Row:
    return Row("link", "Recorded as fitting", outcome, "stop", None, offered, reason, measure)


def _to_measure(found: KindSheet, rows: Sequence[Row]) -> tuple[str, ...]:
    """Order what to measure by what can rule the candidate out soonest."""
    places = {code: a.position for code, a in found.attributes.items()}
    unknown = [row for row in rows if row.outcome == "unknown" and row.severity != "advisory"
               and row.attr != "link"]
    unknown.sort(key=lambda row: (row.severity != "stop", places.get(row.attr, len(places))))
    return tuple(dict.fromkeys(row.attr for row in unknown))


def _changes(rows: Sequence[Row]) -> tuple[dict[str, Any], ...]:
    return tuple({"attr": row.attr, "change": row.change, "detail": row.detail}
                 for row in rows if row.outcome == "change")


def _advisories(rows: Sequence[Row]) -> tuple[dict[str, str], ...]:
    said = []
    for row in rows:
        if row.outcome == "advisory" or row.outcome == "unknown" and row.severity == "advisory":
            said.append({"attr": row.attr, "advisory": f"{row.label}: {row.reason}"})
        said += [{"attr": row.attr, "advisory": text} for text in row.cautions]
    return tuple({(a["attr"], a["advisory"]): a for a in said}.values())


def _only_advice(ctx: Context, rows: Sequence[Row]) -> tuple[dict[str, str], ...]:
    """Say so where nothing that could rule a part out is recorded of the fit point."""
    asked = [row for row in rows if row.attr in ctx.asked]
    if not asked or any(row.severity != "advisory" for row in asked):
        return ()
    return ({"attr": asked[0].attr, "advisory": "only advice is recorded of this fit point: "
             "nothing that could rule a part out was compared"},)


def _by_attribute(claims: Sequence[Claim]) -> dict[str, tuple[Claim, ...]]:
    found: dict[str, tuple[Claim, ...]] = {}
    for claim in claims:
        found[claim.attr] = (*found.get(claim.attr, ()), replace(claim))
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
