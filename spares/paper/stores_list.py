"""The list of stores for clearing in and out: what is aboard and where it lies.

Its columns follow the international ship's stores declaration (name of article,
quantity, location on board, official use; IMO FAL Form 3 as quoted by two public
pages). No prices stand on it. The form of the country decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, KeepTogether

from spares.paper.cells import blanks, gap, heading, quantity_text, side_by_side, table, text
from spares.paper.pages import Head, paper_pdf, room_mm

DECIDES = "The form of the country decides; this list only carries what is recorded aboard."


@dataclass(frozen=True, slots=True)
class StoresLine:
    """One article; `quantity` None: not counted; `dutiable` puts it on its own block."""

    article: str
    quantity: object
    place: str
    unit: str = "pcs"
    dutiable: bool = False


@dataclass(frozen=True, slots=True)
class Voyage:
    """What the officer asks of the vessel; what is not known stays a blank to fill in."""

    flag: str = ""
    last_port: str = ""
    next_port: str = ""
    persons: int | None = None


def stores_list_pdf(
    head: Head, voyage: Voyage, lines: Sequence[StoresLine],
    places: Sequence[tuple[str, str]] = (), *, page: str = "A4",
) -> bytes:
    """Draw the list of stores with dutiable goods apart and a line to sign on.

    `places` say in words what the numbers of the places on board mean.
    """
    room = room_mm(page)
    persons = "" if voyage.persons is None else str(voyage.persons)
    story: list[Flowable] = [
        text(DECIDES, 9), gap(2),
        blanks([f"Vessel: {head.vessel}", f"Mark: {head.mark}", f"Flag: {voyage.flag}"],
               [room * 0.5, room * 0.25, room * 0.25]),
        blanks([f"Last port: {voyage.last_port}", f"Next port: {voyage.next_port}",
                f"Persons aboard: {persons}"], [room * 0.35, room * 0.35, room * 0.3]),
    ]
    for title, dutiable in (("Ship's stores and spares", False), ("Dutiable goods", True)):
        block = [line for line in lines if line.dutiable is dutiable]
        story += heading(title)
        story.append(_table(block, room) if block else text("None recorded."))
    if places:
        story += [*heading("Places on board"),
                  side_by_side([text(name, lead=f"{no}:") for no, name in places], room)]
    story.append(KeepTogether([gap(8), blanks(
        ["Name and signature of the master", "Place and date"], [room * 0.6, room * 0.4],
        height_mm=18)]))
    return paper_pdf(head, story, page, (voyage, lines, places))


def _table(lines: list[StoresLine], room: float) -> Flowable:
    rows = [[line.article, "not counted" if line.quantity is None
             else quantity_text(line.quantity, line.unit), line.place, ""] for line in lines]
    return table(["Article", "Quantity", "Place on board", "Official use"], rows,
                 [room * 0.52, room * 0.14, room * 0.16, room * 0.18])
