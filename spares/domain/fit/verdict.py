"""The verdict: any stop, else any unknown that decides, else any change, else it fits.

An advisory never blocks. Without a requirement that decides, the strongest recorded link does;
where requirements are recorded a link lifts nothing, but a trial that failed always wins.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from spares.domain.fit.context import Context
from spares.domain.fit.find import find_asked
from spares.domain.fit.finding import RESULTS, Finding
from spares.domain.fit.limits import decide, side_of
from spares.domain.fit.place_rules import find_implied, find_line, implied, with_doubt
from spares.domain.fit.prepared import (
    AskedSide,
    OfferedSide,
    PreparedPart,
    PreparedPoint,
    prepare_part,
    prepare_point,
)
from spares.domain.fit.rows import Weight, row_of, weigh
from spares.domain.fit.sheets import KindSheet, sheet
from spares.domain.fit.values import GENERAL, VERDICTS, FitRequest, FitVerdict, Link, Row, Told
from spares.errors import InvalidInput

_OWN = ("kind", "link")         # rows that stand for no line of a sheet
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
        >>> from spares.domain.fit.values import Claim
        >>> bore = Claim("bore", "5/8 in"), Claim("bore", 15.875)
        >>> check_fit(FitRequest("impeller", bore[:1], bore[1:])).verdict
        'fits'
    """
    found = sheet(request.kind or GENERAL, sheets)
    point = prepare_point(found, request.requires, request.place, request.today)
    part = prepare_part(found, request.offers, request.recorded_as,
                        _label(request.recorded_as, sheets))
    return check(point, part, request.links, request.companions)


def check(point: PreparedPoint, part: PreparedPart, links: Sequence[Link] = (),
          companions: Mapping[str, Sequence[str]] | None = None) -> FitVerdict:
    """Decide whether a part fits a fit point, both of them read before.

    Args:
        point: The fit point [-].
        part: The part, read with the sheet of the point's kind [-].
        links: Recorded ties between the two [-].
        companions: Parts recorded for a change, by attribute [-].

    Returns:
        The verdict; its rows are put into words when they are asked for [-].

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Precedence and guard band are rules of this project; tables name their own sources.
    """
    answers = [_check(Context(point.sheet, point.place, asked.claims, offered.claims, point.today),
                      asked, offered, links, companions or {}, part)
               for asked in point.sides for offered in part.sides]
    return answers[0] if len(answers) == 1 else min(
        answers, key=lambda a: VERDICTS.index(a.verdict))


def _label(kind: str, sheets: Mapping[str, KindSheet] | None) -> str:
    try:
        return sheet(kind, sheets).label
    except InvalidInput:
        return kind     # of a sheet that is gone


def _check(ctx: Context, asked: AskedSide, offered: OfferedSide, links: Sequence[Link],
           companions: Mapping[str, Sequence[str]], part: PreparedPart) -> FitVerdict:
    found: dict[str, Finding] = {}
    weights: list[Weight] = []
    deciding, sizes = False, offered.sizes
    for line in asked.lines:
        made = None
        if line.limits is not None and (size := sizes[line.code]) is not None:
            made = decide(line.limits, size)
            if made.inside:
                deciding = True
                continue
        if made and line.whole:
            weight = weigh(ctx, line.attribute, line.claims, RESULTS[made.inside],
                           side_of(made.gap))
        else:
            finding = found[line.code] = find_line(ctx, line) if line.yields else find_asked(
                ctx, line.code, line.claims)
            weight = weigh(ctx, line.attribute, line.claims, finding.result, finding.side,
                           finding=finding)
        weights.append(weight)
        deciding = deciding or weight.severity != "advisory" or weight.outcome != "unknown"
    link = _link(links, deciding) if links else None
    # where anything is asked, a value that is taken away would let the proof lift more
    proven = link is not None and link.outcome == "match" and not asked.lines
    for attribute, rule in implied(ctx, asked.implied) if asked.implied else ():
        if rule.unstated == "advise" and attribute.code not in ctx.offered:
            continue    # said with the rows, and never decides
        finding = found[attribute.code] = find_implied(ctx, attribute, rule, proven=proven)
        weights.append(weigh(ctx, attribute, (), finding.result, finding.side, finding=finding))
    kind = _kind_row(ctx.sheet, part, proven=proven) if part.recorded_as else None
    own = tuple(row for row in (kind, link) if row) if kind or link else ()
    verdict = _verdict((*weights, *own) if own else weights, deciding or link is not None)
    return FitVerdict(verdict, lambda: _tell(ctx, asked, found, own, links, companions, deciding))


def _tell(ctx: Context, asked: AskedSide, found: Mapping[str, Finding], own: tuple[Row, ...],
          links: Sequence[Link], companions: Mapping[str, Sequence[str]],
          deciding: bool) -> Told:
    """Put what was found into words."""
    rows = (*(row_of(ctx, line.attribute, with_doubt(
                  ctx, line, found.get(line.code) or find_line(ctx, line)), companions)
              for line in asked.lines),
            *(row_of(ctx, attribute, found.get(attribute.code) or find_implied(
                  ctx, attribute, rule), companions)
              for attribute, rule in implied(ctx, asked.implied)))
    notes = _notes(links, rows, deciding)
    rows = (*rows, *own)
    return Told(rows, _to_measure(ctx.sheet, rows), _changes(rows),
                (*_advisories(rows), *_only_advice(ctx, rows), *notes))


def _verdict(found: Sequence[Weight | Row], known: bool) -> str:
    outcomes = {one.outcome for one in found}
    if "stop" in outcomes:
        return "does-not-fit"
    if any(one.outcome == "unknown" and one.severity != "advisory" for one in found):
        return "not-known-yet"
    if not known:
        return "not-known-yet"
    return "fits-with-changes" if "change" in outcomes else "fits"


def _kind_row(asked: KindSheet, part: PreparedPart, *, proven: bool) -> Row | None:
    """Give the row for a part of another kind; a proof lifts it where it decides alone."""
    if part.recorded_as in ("", GENERAL, asked.kind) or asked.kind == GENERAL:
        return None
    return Row("kind", "Kind of part", "advisory" if proven else "unknown",
               "advisory" if proven else "stop", asked.label,
               part.recorded_label or part.recorded_as,
               "recorded as another kind of part than this place takes: one record is wrong, or "
               "this is not the part", None if proven else "look at the part, and mend the record "
               "that is wrong")


def _link(links: Sequence[Link], deciding: bool) -> Row | None:
    """Give the row that recorded links make, if they make one."""
    takes = [link.proof for link in links if link.role == "takes"]
    if "tried-no" in takes:
        return _link_row("stop", "tried: it does not fit", "tried-no")
    if not takes and any(link.role == "goes-with" for link in links):
        return _link_row("stop", "goes with it, does not sit here", "goes-with")
    if deciding or not takes:
        return None
    proof = next((p for p in _PROVEN if p in takes), None)
    if proof:
        return _link_row("match", f"recorded as fitting: {proof}; no requirement that decides "
                         "is recorded", proof)
    weak = "hearsay" if "hearsay" in takes else "candidate"
    return _link_row("unknown", f"only {weak}: nothing is measured or listed", weak,
                     "measure the fit point and the part, row by row")


def _notes(links: Sequence[Link], rows: Sequence[Row],
           deciding: bool) -> tuple[dict[str, str], ...]:
    """Say where a link and a row do not agree."""
    takes = [link.proof for link in links if link.role == "takes"]
    proof = next((p for p in _PROVEN if p in takes), None)
    stops = [row.label for row in rows if row.outcome == "stop"]
    if not deciding or not proof or not stops or "tried-no" in takes:
        return ()
    return ({"attr": "link", "advisory": f"recorded as fitting ({proof}), yet {', '.join(stops)} "
             "does not agree: one of the two is wrong"},)


def _link_row(outcome: str, reason: str, offered: str, measure: str | None = None) -> Row:
    return Row("link", "Recorded as fitting", outcome, "stop", None, offered, reason, measure)


def _to_measure(found: KindSheet, rows: Sequence[Row]) -> tuple[str, ...]:
    """Order what to measure by what can rule the candidate out soonest."""
    places = {code: a.position for code, a in found.attributes.items()}
    unknown = [row for row in rows if row.outcome == "unknown" and row.severity != "advisory"
               and row.attr not in _OWN]
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
