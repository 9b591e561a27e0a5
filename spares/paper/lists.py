"""Short lists: put away, locker lid, index A to Z, stranded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from reportlab.platypus import Flowable

from spares.domain.search_text import fold
from spares.paper.cells import (
    BODY_PT,
    BOX,
    TICKED,
    Cell,
    gap,
    heading,
    table,
    text,
)
from spares.paper.language import Words
from spares.paper.pages import Head, paper_pdf, room_mm


@dataclass(frozen=True, slots=True)
class LockerName:
    """How a locker is called on paper: number, words, and the code on its label."""

    no: str
    name: str
    code: str = ""

    @property
    def short(self) -> str:
        """Number with code, such as L17 (EMJR)."""
        return f"{self.no} ({self.code})" if self.code else self.no


@dataclass(frozen=True, slots=True)
class StowedLine:
    """Some of a part in a locker; `quantity` is None when nobody has counted."""

    locker: LockerName
    part: str
    quantity: object | None
    maker_number: str = ""
    unit: str = "pcs"
    condition: str = ""
    use_by: str | None = None

    def counted(self, say: Words) -> str:
        """Give the quantity, or that it is not known."""
        if self.quantity is None:
            return say("common.not_counted")
        return say.quantity(self.quantity, self.unit)


@dataclass(frozen=True, slots=True)
class StrandedLine:
    """Pieces that fit nothing as fitted today, and what they once belonged to."""

    part: str
    maker_number: str
    quantity: object
    places: tuple[str, ...]
    belonged_to: str
    taken_out_on: str | None = None
    unit: str = "pcs"
    choice: str = ""        # keep, give or sell, where somebody decided
    choice_note: str = ""


def put_away_list_pdf(head: Head, lines: Sequence[StowedLine], *, page: str = "A5") -> bytes:
    """Draw what arrived and where it goes, locker by locker in the order given (walking order)."""
    room, say = room_mm(page), head.say
    story: list[Flowable] = [] if lines else [text(say("put_away.nothing"), 12)]
    for locker, block in groupby(lines, key=lambda line: line.locker):
        story += heading(f"{locker.short}  {locker.name}")
        rows = [[text(BOX, 14), [text(line.part, 11), text(line.maker_number, 9)],
                 text(line.counted(say), 13, bold=True, right=True)] for line in block]
        story.append(table([], rows, [9, room - 9 - 26, 26]))
    return paper_pdf(head, story, page, lines)


def lid_list_pdf(
    head: Head, locker: LockerName, lines: Sequence[StowedLine], *, page: str = "A5",
) -> bytes:
    """Draw the list for the inside of a locker's lid, for a day with a flat phone."""
    room, say = room_mm(page), head.say
    story: list[Flowable] = [
        text(locker.code or locker.no, 30, bold=True), gap(4),
        text(f"{locker.no}  {locker.name}", 13, bold=True), gap(3)]
    rows: list[list[Cell]] = [
        [[text(line.part, 11), text(line.maker_number, 9)], line.counted(say), _state(say, line),
         ""] for line in lines]
    if not lines:
        story += [text(say("lid.nothing")), gap(2)]
    rows += [["", "", "", ""]] * 2  # for what is found or put in before the next print
    story.append(table(say.listed("lid.titles"), rows,
                       [room - 17 - 27 - 20, 17, 27, 20], size_pt=11, row_mm=10))
    return paper_pdf(head, story, page, (locker, lines))


def parts_index_pdf(head: Head, lines: Sequence[StowedLine], *, page: str = "A4") -> bytes:
    """Draw the index of every part from A to Z with the lockers it lies in.

    Lines of one part come together; the order is that of folded names.
    """
    room, say = room_mm(page), head.say
    story: list[Flowable] = [] if lines else [text(say("index.nothing"), 12)]
    for letter, block in groupby(_by_name(lines), key=lambda line: fold(line.part)[:1].upper()):
        story += heading(letter or "?")
        story.append(table([], index_rows(say, list(block)),
                           [room * 0.45, room * 0.27, room * 0.28]))
    return paper_pdf(head, story, page, lines)


def index_rows(say: Words, lines: Sequence[StowedLine], size_pt: float = BODY_PT
               ) -> list[list[Cell]]:
    """Give a row of a table for each part by name: part, number, lockers with counts."""
    rows: list[list[Cell]] = []
    for (part, number), places in groupby(
            _by_name(lines), key=lambda one: (one.part, one.maker_number)):
        where = [f"{one.locker.short}: {one.counted(say)}" if one.locker.no
                 else say("common.none_aboard") for one in places]
        rows.append([part, number, [text(line, size_pt) for line in where]])
    return rows


def _by_name(lines: Sequence[StowedLine]) -> list[StowedLine]:
    return sorted(lines, key=lambda one: (fold(one.part), one.maker_number, one.locker.no))


def stranded_list_pdf(head: Head, lines: Sequence[StrandedLine], *, page: str = "A4") -> bytes:
    """Draw what fits nothing any more, with boxes for what shall become of it."""
    room, say = room_mm(page), head.say
    story: list[Flowable] = [] if lines else [text(say("stranded.nothing"), 12)]
    rows = [[
        [text(line.part, 11, bold=True), text(line.maker_number)],
        say.quantity(line.quantity, line.unit),
        [text(place) for place in line.places],
        [text(say("stranded.belongs", what=line.belonged_to)), *_taken_out(say, line)],
        [*(text(f"{TICKED if choice == line.choice else BOX} {say.word('choice', choice)}", 11)
           for choice in ("keep", "give", "sell")), text(line.choice_note, 9)],
    ] for line in lines]
    if rows:
        story.append(table(say.listed("stranded.titles"), rows,
                           [room * 0.29, room * 0.1, room * 0.2, room * 0.28, room * 0.13]))
    return paper_pdf(head, story, page, lines)


def _state(say: Words, line: StowedLine) -> str:
    use_by = say("lid.use_by", day=say.day(line.use_by)) if line.use_by else ""
    return ", ".join(filter(None, [line.condition, use_by]))


def _taken_out(say: Words, line: StrandedLine) -> list[Flowable]:
    if not line.taken_out_on:
        return []
    return [text(say("stranded.taken_out", day=say.day(line.taken_out_on)))]
