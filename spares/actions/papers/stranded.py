"""Stranded list: what fits nothing any more, with boxes for what shall become of it."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.papers.frame import head, maker_number, titled
from spares.actions.stranded import stranded as stranded_now
from spares.domain.aboard import Record
from spares.paper.language import ENGLISH, Words
from spares.paper.lists import LockerName, StrandedLine, stranded_list_pdf


def stranded(ctx: Context, *, page: str = "A4", say: Words = ENGLISH) -> bytes:
    """Print what is stranded, where it lies and what it belonged to."""
    return stranded_list_pdf(head(ctx, say, say("title.stranded")), stranded_lines(say, ctx),
                             page=page)


def stranded_lines(say: Words, ctx: Context) -> tuple[StrandedLine, ...]:
    """Give the lines of the list; the handover book carries them too."""
    parts = {one.no or one.id: one for one in ctx.aboard().all("part")}
    return tuple(_line(say, line, parts[line["part"]]) for line in stranded_now(ctx)["stranded"])


def _line(say: Words, line: dict[str, Any], part: Record) -> StrandedLine:
    places = dict.fromkeys(LockerName(one["locker"] or "?", "", one["code"] or "").short
                           for one in line["where"])
    of = titled(line["of"]) if line["of"] else ""
    return StrandedLine(titled(line), maker_number(part), line["quantity"], tuple(places),
                        ", ".join(filter(None, [line["belongs_to"], of]))
                        or say("stranded.nothing_recorded"),
                        line["taken_out"], part.unit or "pcs", part.left_over or "",
                        part.left_over_note or "")
