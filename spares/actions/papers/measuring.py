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
from spares.paper.measuring_sheet import Measured, MeasuringSheet, measuring_sheet_pdf

#: What a value with parts is written down as; a belt's length says how it was measured.
ENTRIES = {"rotation": ("turns, cw or ccw", "seen from shaft or cover end"),
           "flow": ("L/min", "at r/min", "at bar"),
           "length": ("mm", "inside, outside or datum")}
#: What is read or looked at takes no tool; a line whose words name one needs it named once.
TOOLS = {"micrometer": "micrometer", "caliper": "calipers",
         "depth-rod": "depth rod of the calipers", "rule": "rule", "tape": "tape",
         "gauge": "pitch gauge", "scale": "scales", "label": "label, plate or maker's list"}


def measuring(ctx: Context, *, page: str = "A4", point: str | None = None) -> bytes:
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
        tuple((f"{one['sign']}, {one['mark']}:" if one["mark"] else "", one["text"])
              for one in answer["cautions"]),
        tuple(_line(row, lines.get(row["attr"]), lines.get(row.get("offered_as") or row["attr"]))
              for row in in_order(answer)))
    return measuring_sheet_pdf(head(ctx, f"Measuring sheet {where['no']}"), paper, page=page)


def in_order(answer: dict[str, Any]) -> list[dict[str, Any]]:
    """Give the rows to measure, soonest decided first; what one number answers stands once."""
    order = {attr: n for n, attr in enumerate(answer["to_measure"])}
    rows = sorted((row for row in answer["rows"] if row["attr"] != "link"),
                  key=lambda row: order.get(row["attr"], len(order)))
    found: dict[str, dict[str, Any]] = {}
    for row in rows:
        found.setdefault(row.get("offered_as") or row["attr"], row)
    return list(found.values())


def _line(row: dict[str, Any], asked: Attribute | None, offered: Attribute | None) -> Measured:
    """Write a row; where a seat is asked for, the box is for what the part has instead."""
    line = offered or asked
    if line is None:
        return Measured(row["label"], row["required"] or "", row.get("measure") or "", "")
    label = row["label"] if line is asked else f"{row['label']}: {line.label.lower()} of the part"
    how = line.measure[:1].upper() + line.measure[1:]
    return Measured(label, row["required"] or "", how, TOOLS.get(line.tool, ""), _entries(line),
                    _svg(line.drawing))


def _entries(line: Attribute) -> tuple[str, ...]:
    return ENTRIES.get(line.type) or ((line.unit,) if line.unit not in ("", "1") else ())


def _svg(name: str) -> str:
    return (static_folder() / "drawings" / f"{name}.svg").read_text("utf-8") if name else ""
