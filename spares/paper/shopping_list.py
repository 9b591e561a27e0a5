"""The shopping list: what to buy, by which day, from whom, and what would do instead.

It is read aloud at a counter, so numbers and sizes are large, and no locker
stands on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from reportlab.platypus import Flowable

from spares.paper.cells import BOX, gap, heading, table, text
from spares.paper.language import Words
from spares.paper.pages import Head, paper_pdf, room_mm


@dataclass(frozen=True, slots=True)
class ShoppingLine:
    """One thing to buy; dates are ISO text, `sizes` in mm and inch as they are asked for."""

    part_no: str
    name: str
    maker: str
    number: str
    buy: object
    unit: str = "pcs"
    seller: str = ""
    order_by: str | None = None
    too_late: bool = False
    sizes: str = ""
    stand_ins: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


def shopping_list_pdf(
    head: Head, lines: Sequence[ShoppingLine], *, page: str = "A4",
    cannot_say: Sequence[str] = (),
) -> bytes:
    """Draw the shopping list, one block a seller, in each the first to order first.

    `cannot_say` are things for which nobody knows how many are aboard.
    """
    story: list[Flowable] = []
    say = head.say
    if head.note:
        story += [text(head.note, 11), gap(1)]
    if not lines:
        story.append(text(say("shopping.nothing"), 12))
    ordered = sorted(lines, key=_key)
    for seller, block in groupby(ordered, key=lambda line: line.seller):
        story += heading(seller or say("shopping.seller"), 13)
        story.append(_table(say, list(block), room_mm(page)))
    if cannot_say:
        story += heading(say("shopping.cannot_say"))
        story += [text(f"{BOX} {name}", 11) for name in cannot_say]
    return paper_pdf(head, story, page, (lines, cannot_say))


def _key(line: ShoppingLine) -> tuple[bool, str, bool, str, str]:
    return (not line.seller, line.seller.casefold(), line.order_by is None, line.order_by or "",
            line.part_no)


def _table(say: Words, lines: list[ShoppingLine], room: float) -> Flowable:
    widths = [8, room - 8 - 22 - 32, 22, 32]
    rows = [[
        text(BOX, 14),
        [text(line.name, 11, bold=True), *_what_to_ask(say, line)],
        text(say.quantity(line.buy, line.unit), 14, bold=True),
        _when(say, line),
    ] for line in lines]
    return table(say.listed("shopping.titles"), rows, widths, size_pt=11)


def _what_to_ask(say: Words, line: ShoppingLine) -> list[Flowable]:
    said: list[Flowable] = [
        text(" ".join(filter(None, [line.maker, line.number])) or say("shopping.number_not_known"),
             13, bold=True)]
    said += [text(line.sizes, 11)] if line.sizes else []
    said += [text(say("shopping.instead", name=name)) for name in line.stand_ins]
    said += [text(say("shopping.never", name=name), bold=True) for name in line.never]
    return [*said, *(text(remark, 9) for remark in line.remarks)]


def _when(say: Words, line: ShoppingLine) -> list[Flowable]:
    if line.order_by is None:
        return [text(say("common.not_known"), 11)]
    when = text(say.day(line.order_by), 11, bold=True)
    return [when, text(say("shopping.too_late"), 11, bold=True)] if line.too_late else [when]
