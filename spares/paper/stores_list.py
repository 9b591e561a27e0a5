"""The list of stores for clearing in and out: what is aboard and where it lies.

Its columns follow the international ship's stores declaration (name of article,
quantity, location on board, official use; IMO FAL Form 3 as quoted by two public
pages). No prices stand on it. The form of the country decides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, KeepTogether

from spares.paper.cells import blanks, gap, heading, side_by_side, table, text
from spares.paper.language import Words
from spares.paper.pages import Head, paper_pdf, room_mm


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
    room, say = room_mm(page), head.say
    persons = "" if voyage.persons is None else str(voyage.persons)
    story: list[Flowable] = [
        text(say("stores.decides"), 9), gap(2),
        blanks([say("stores.vessel", vessel=head.vessel), say("stores.mark", mark=head.mark),
                say("stores.flag", flag=voyage.flag)],
               [room * 0.5, room * 0.25, room * 0.25]),
        blanks([say("stores.last_port", port=voyage.last_port),
                say("stores.next_port", port=voyage.next_port),
                say("stores.persons", persons=persons)], [room * 0.35, room * 0.35, room * 0.3]),
    ]
    for title, dutiable in (("stores.spares", False), ("stores.dutiable", True)):
        block = [line for line in lines if line.dutiable is dutiable]
        story += heading(say(title))
        story.append(_table(say, block, room) if block
                     else text(say("common.none_recorded")))
    if places:
        story += [*heading(say("stores.places")),
                  side_by_side([text(name, lead=f"{no}:") for no, name in places], room)]
    story.append(KeepTogether([gap(8), blanks(
        [say("stores.master"), say("stores.place_date")], [room * 0.6, room * 0.4],
        height_mm=18)]))
    return paper_pdf(head, story, page, (voyage, lines, places))


def _table(say: Words, lines: list[StoresLine], room: float) -> Flowable:
    rows = [[line.article, say("common.not_counted") if line.quantity is None
             else say.quantity(line.quantity, line.unit), line.place, ""] for line in lines]
    return table(say.listed("stores.titles"), rows,
                 [room * 0.52, room * 0.14, room * 0.16, room * 0.18])
