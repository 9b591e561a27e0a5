"""The insurance list: machines and spares with serial, date bought, value and photo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable

from spares.paper.cells import gap, heading, table, text
from spares.paper.language import Words
from spares.paper.pages import Head, paper_pdf, room_mm


@dataclass(frozen=True, slots=True)
class InsuredLine:
    """One machine or spare; the value is that of all pieces, in hundredths of the currency.

    `value_minor` is None when nobody knows it, which is not the same as 0; `list_minor` is the
    price of as many new ones, whatever the state of these.
    """

    what: str
    quantity: object = 1
    unit: str = "pcs"
    serial: str = ""
    bought: str | None = None
    value_minor: int | None = None
    list_minor: int | None = None
    currency: str = ""
    photo: str = ""
    machine: bool = False


def insurance_list_pdf(head: Head, lines: Sequence[InsuredLine], *, page: str = "A4") -> bytes:
    """Draw machines, then spares, then the sum in each currency and what has no value."""
    room, say = room_mm(page), head.say
    story: list[Flowable] = [text(head.note, 9)] if head.note else []
    for title, machine in (("insurance.machines", True), ("insurance.spares", False)):
        block = [line for line in lines if line.machine is machine]
        story += heading(say(title))
        story.append(_table(say, block, room) if block
                     else text(say("common.none_recorded")))
    story += [gap(4), *(text(said, 11, bold=True) for said in _sums(say, lines))]
    return paper_pdf(head, story, page, lines)


def _sums(say: Words, lines: Sequence[InsuredLine]) -> list[str]:
    sums: dict[str, int] = {}
    for line in lines:
        if line.value_minor is not None:
            sums[line.currency] = sums.get(line.currency, 0) + line.value_minor
    said = [say("insurance.sum", amount=say.money(minor, currency))
            for currency, minor in sorted(sums.items())]
    unknown = sum(line.value_minor is None for line in lines)
    if unknown:
        said.append(say("insurance.unknown", count=unknown))
    return [*said, *_as_new(say, lines)]


def _as_new(say: Words, lines: Sequence[InsuredLine]) -> list[str]:
    """Say what all of it would cost new, where that is more than the sum says."""
    sums: dict[str, int] = {}
    for line in lines:
        if line.list_minor is not None:
            sums[line.currency] = sums.get(line.currency, 0) + line.list_minor
    if not any(line.list_minor is not None and line.value_minor is None for line in lines):
        return []
    return [say("insurance.as_new", amount=say.money(minor, currency))
            for currency, minor in sorted(sums.items())]


def _table(say: Words, lines: list[InsuredLine], room: float) -> Flowable:
    unknown = say("common.not_known")
    rows = [[
        line.what, say.quantity(line.quantity, line.unit), line.serial or "-",
        say.day(line.bought) if line.bought else unknown,
        unknown if line.value_minor is None else text(
            say.money(line.value_minor, line.currency), 9, right=True),
        line.photo or "-",
    ] for line in lines]
    shares = (0.40, 0.07, 0.15, 0.12, 0.15, 0.11)
    return table(say.listed("insurance.titles"), rows,
                 [room * share for share in shares], size_pt=9)
