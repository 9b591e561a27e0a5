"""Measuring sheet: all that is to be measured of a part for one fit point, to fill in by pencil."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.fit import fit
from spares.actions.kind_sheets import sheet_here
from spares.actions.papers.frame import head, titled
from spares.config import static_folder
from spares.domain.fit.sheets import Attribute
from spares.domain.tree import fitted_now
from spares.errors import InvalidInput
from spares.paper.language import ENGLISH, Words
from spares.paper.measuring_sheet import Measured, MeasuringSheet, measuring_sheet_pdf

#: What a value with parts is written down as; a belt's length says how it was measured.
ENTRIES = ("rotation", "flow", "length")
#: What is read or looked at takes no tool; a line whose words name one needs it named once.
TOOLS = ("micrometer", "caliper", "depth-rod", "rule", "tape", "gauge", "scale", "label")


def measuring(ctx: Context, *, page: str = "A4", point: str | None = None,
              say: Words = ENGLISH) -> bytes:
    """Print what to measure for a fit point, the line that rules a part out soonest first.

    Raises:
        InvalidInput: no fit point is named.
        NotFound, Ambiguous: it cannot be told which is meant.
    """
    if point is None:
        raise InvalidInput.at("#/point", "say for which fit point")
    answer = fit(ctx, point, offers={})
    where, aboard = answer["point"], ctx.aboard()
    now = fitted_now(aboard, ctx.named(point, "point", "point"))
    part = aboard.get(now.part) if now else None
    lines = sheet_here(ctx, answer["kind"]).attributes
    paper = MeasuringSheet(
        " ".join(filter(None, [where["machine"], where["machine_name"]])),
        titled(where, "no"), f"{part.no} {part.name}" if part else "",
        tuple((say("caution.lead", mark=say.told(one["mark"])) if one["mark"] else "",
               say.told(one["text"])) for one in answer["cautions"]),
        tuple(_line(say, row, lines.get(row["attr"]),
                    lines.get(row.get("offered_as") or row["attr"])) for row in in_order(answer)))
    title = say("title.measuring", point=where["no"])
    return measuring_sheet_pdf(head(ctx, say, title), paper, page=page)


def in_order(answer: dict[str, Any]) -> list[dict[str, Any]]:
    """Give the rows to measure, soonest decided first; what one number answers stands once."""
    order = {attr: n for n, attr in enumerate(answer["to_measure"])}
    rows = sorted((row for row in answer["rows"] if row["attr"] != "link"),
                  key=lambda row: order.get(row["attr"], len(order)))
    found: dict[str, dict[str, Any]] = {}
    for row in rows:
        found.setdefault(row.get("offered_as") or row["attr"], row)
    return list(found.values())


def _line(say: Words, row: dict[str, Any], asked: Attribute | None,
          offered: Attribute | None) -> Measured:
    """Write a row; where a seat is asked for, the box is for what the part has instead."""
    line = offered or asked
    if line is None:
        return Measured(say.told(row["label"]), _needs(say, row), row.get("measure") or "", "")
    label, how = say.told(row["label"]), say.told(line.measure)
    if line is not asked:
        label = say("measuring.of_the_part", label=label, other=say.told(line.label).lower())
    tool = say.word("tool", line.tool) if line.tool in TOOLS else ""
    return Measured(label, _needs(say, row), how[:1].upper() + how[1:], tool,
                    _entries(say, line), _svg(line.drawing))


def _needs(say: Words, row: dict[str, Any]) -> str:
    return say.figures(say.told(row["required"] or ""))


def _entries(say: Words, line: Attribute) -> tuple[str, ...]:
    if line.type in ENTRIES:
        return say.listed(f"measuring.{line.type}")
    return ((line.unit,) if line.unit not in ("", "1") else ())


def _svg(name: str) -> str:
    return (static_folder() / "drawings" / f"{name}.svg").read_text("utf-8") if name else ""
