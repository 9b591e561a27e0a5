"""The job card: one carrying-out of a service, on one side of A4 where it can be.

The cautions stand on top and cannot be left out, and the sentence that defers
to local rules, the maker's book and the licensed trade ends them. Blanks are
wide enough for a pencil.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from reportlab.platypus import Flowable, KeepTogether

from spares.domain.cautions import (
    EVERY_JOB,
    Caution,
    all_cautions,
    cautions_for,
)
from spares.paper.cells import (
    BOX,
    TICKED,
    Cell,
    blanks,
    caution_lead,
    caution_lines,
    closing_line,
    framed,
    gap,
    heading,
    side_by_side,
    stop_lines,
    table,
    text,
)
from spares.paper.joint_sheet import JointSheet, joint_story
from spares.paper.language import Words
from spares.paper.lists import LockerName
from spares.paper.pages import Head, lay_out, room_mm

JOINTS = ("torque",)    # with a joint sheet
STOP = "stop values"
#: At arm's length on a bench nothing smaller is read: a longer card goes on overleaf.
SIZES_PT = (12.0, 11.0)


@dataclass(frozen=True, slots=True)
class CardPlace:
    """A further locker, and how many pieces to take from it."""

    locker: LockerName
    quantity: object


@dataclass(frozen=True, slots=True)
class CardKitLine:
    """What the job needs of one part, and what lies where; `locker` None for missing.

    `also` are lockers to go to for the rest, `remarks` what else must be known.
    """

    part: str
    maker_number: str
    needed: object
    aboard: object
    locker: LockerName | None
    unit: str = "pcs"
    short: bool = False
    also: tuple[CardPlace, ...] = ()
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CardReading:
    """A figure to write down; without limits they come from the maker's book."""

    what: str
    unit: str = ""
    limits: str = ""


@dataclass(frozen=True, slots=True)
class CardTestRun:
    """What is read at which minute after the start [min]; `stop` says at what to stop at once."""

    minutes: tuple[int, ...]
    readings: tuple[str, ...]
    limits: str
    stop: str


@dataclass(frozen=True, slots=True)
class JobCard:
    """One service as it is carried out; kit lines come in walking order.

    `hazards` call cautions and lines to tick, `machine_hazards` (marks) cautions alone: what
    else the machine has. `stopped` tells the open trails for which the machine must not run,
    `open_trails` gives their numbers.
    """

    machine: str
    place: str
    service: str
    why_now: str
    hazards: tuple[str, ...]
    kit: tuple[CardKitLine, ...] = ()
    tools: tuple[str, ...] = ()
    shut_off: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    readings: tuple[CardReading, ...] = ()
    waste: str = ""
    note: str = ""
    machine_hazards: tuple[str, ...] = ()
    stopped: tuple[str, ...] = ()
    open_trails: tuple[str, ...] = ()
    test_run: CardTestRun | None = None
    joints: tuple[JointSheet, ...] = ()


def job_card_pdf(head: Head, card: JobCard, *, page: str = "A4") -> bytes:
    """Draw the card on one side where 12 or 11 points can keep it there.

    A longer one goes on overleaf in 12 points. InvalidInput for a hazard word that is not
    known.
    """
    words = (*card.hazards, *EVERY_JOB, *(JOINTS if card.joints else ()))
    cautions = cautions_for(words, "#/hazards")
    room = room_mm(page)
    for size, columns in product(SIZES_PT, (1, 2)):
        made, pages = lay_out(head, _story(head.say, card, cautions, size, room, columns), page,
                              card)
        if pages == 1:
            return made
    return lay_out(head, _story(head.say, card, cautions, SIZES_PT[0], room), page, card)[0]


def _story(say: Words, card: JobCard, cautions: Sequence[Caution], size: float, room: float,
           columns: int = 1) -> list[Flowable]:
    """Give the card; in two columns of ticks where nothing else keeps it on one side."""
    return [
        *([framed(stop_lines(say, card.machine, " ".join(card.stopped), size), room, 3), gap(2)]
          if card.stopped else []),
        text(f"{card.service}", size + 3, bold=True),
        text(f"{card.machine} · {card.place}" if card.place else card.machine, size),
        text(say("card.why_now", why=card.why_now), size),
        *([text(card.note, size - 1)] if card.note else []),
        gap(2), framed(_said(say, card, cautions, size), room),
        *_shut_off(say, card, cautions, size, room, columns),
        *_kit(say, card, size, room),
        *(KeepTogether(joint_story(say, joint, size)) for joint in card.joints),
        *_steps(say, card, size, room),
        *_readings(say, card, size, room),
        *_after(say, cautions, size, room, columns),
        *_test_run(say, card.test_run, size, room),
        KeepTogether(_closing(say, card, size, room)),
    ]


def _said(say: Words, card: JobCard, cautions: Sequence[Caution], size: float
          ) -> list[Flowable]:
    said: list[Flowable] = []
    for line in caution_lines(say, cautions, size - 1):
        said += [line, gap(0.8)]
    for mark in card.machine_hazards:
        (caution,) = (one for one in all_cautions() if one.mark == mark)
        said += [text(say.told(caution.text), size - 1,
                      lead=caution_lead(say, say.told(mark), "caution.besides")), gap(0.8)]
    return [*said, closing_line(say, size - 1)]


def _shut_off(say: Words, card: JobCard, cautions: Sequence[Caution], size: float, room: float,
              columns: int) -> list[Flowable]:
    own = [*card.shut_off, *(say.told(line) for caution in cautions for line in caution.shut_off)]
    return _ticks(say("caution.shut_off"), list(dict.fromkeys(own)), size, room, columns)


def _ticks(title: str, lines: list[str], size: float, room: float, columns: int
           ) -> list[Flowable]:
    if not lines:
        return []
    boxes = [text(f"{BOX} {line}", size) for line in lines]
    return [*heading(title, size), *(boxes if columns == 1 else [side_by_side(boxes, room)])]


def _kit(say: Words, card: JobCard, size: float, room: float) -> list[Flowable]:
    if not card.kit:
        return [*heading(say("card.kit"), size), text(say("card.no_kit"), size)]
    ordered = sorted(card.kit, key=lambda line: not line.short)  # missing lines first
    rows: list[list[Cell]] = [[
        text(BOX, size),
        [text(line.part, size), text(line.maker_number, size - 2),
         *(text(remark, size - 2, bold=True) for remark in line.remarks)],
        text(say.quantity(line.needed, line.unit), size, bold=True),
        _where(say, line, size),
    ] for line in ordered]
    made = table(say.listed("card.kit_titles"), rows,
                 [8, room * 0.62 - 8 - 18, 18, room * 0.38], size_pt=size)
    tools = [text(say("card.tools", tools=", ".join(card.tools)), size)] if card.tools else []
    return [gap(2), made, *tools]


def _where(say: Words, line: CardKitLine, size: float) -> list[Flowable]:
    said: list[Flowable] = []
    if line.short:
        there = say.quantity(line.aboard, line.unit)
        said.append(text(say("card.missing", there=there), size, bold=True))
    if line.locker is not None:
        said += [text(line.locker.short, size), text(line.locker.name, size - 2)]
    for place in line.also:
        take = say("card.take_from", quantity=say.quantity(place.quantity, line.unit),
                   locker=place.locker.short)
        said += [text(take, size), text(place.locker.name, size - 2)]
    return said


def _steps(say: Words, card: JobCard, size: float, room: float) -> list[Flowable]:
    if card.steps:
        return [*heading(say("card.steps"), size),
                *(text(f"{BOX} {number}. {step}", size)
                  for number, step in enumerate(card.steps, start=1))]
    # With a test run the page is full: one line for the page of the book is enough.
    lines = (say("card.from_the_book"), *(("", "") if card.test_run is None else ()))
    return [gap(2), *(blanks([label], [room], size_pt=size) for label in lines)]


def _readings(say: Words, card: JobCard, size: float, room: float) -> list[Flowable]:
    if not card.readings:
        return []
    rows: list[list[Cell]] = [
        [" ".join(filter(None, [line.what, line.unit and f"[{line.unit}]"])),
         line.limits or say("card.reading_limits"), "", ""] for line in card.readings]
    made = table(say.listed("card.reading_titles"), rows,
                 [room * 0.34, room * 0.26, room * 0.2, room * 0.2], size_pt=size, row_mm=8)
    return [gap(2), KeepTogether([made])]


def _after(say: Words, cautions: Sequence[Caution], size: float, room: float, columns: int
           ) -> list[Flowable]:
    lines = [say.told(line) for caution in cautions for line in caution.after]
    return _ticks(say("caution.after"), lines, size, room, columns)


def _test_run(say: Words, run: CardTestRun | None, size: float, room: float) -> list[Flowable]:
    if run is None:
        return []
    first = room * 0.28
    width = (room - first) / len(run.minutes)
    rows: list[list[Cell]] = [[reading, *("" for _ in run.minutes)] for reading in run.readings]
    return [KeepTogether([
        *heading(say("card.test_run"), size),
        text(say.told(run.stop), size, bold=True, lead=caution_lead(say, say.told(STOP))),
        text(say("card.limits", limits=run.limits), size), gap(1),
        table([say("card.minute"), *map(str, run.minutes)], rows,
              [first, *(width for _ in run.minutes)], size_pt=size, row_mm=6)])]


def _closing(say: Words, card: JobCard, size: float, room: float) -> list[Flowable]:
    third, box = room / 3, TICKED if card.open_trails else BOX
    waste = say("card.waste_is", waste=card.waste) if card.waste else say("card.waste")
    still_open = say("card.no_open", trails=", ".join(card.open_trails))
    proofs = "  ".join(f"{BOX} {proof}" for proof in say.listed("card.proofs"))
    return [
        gap(2),
        blanks([waste, f"{say('card.pieces')}  {BOX} {say('card.yes')}  {box} {still_open}"],
               [room / 2, room / 2], size_pt=size),
        blanks([say("common.done_by"), say("common.date"), say("common.hours")], [third] * 3,
               size_pt=size),
        blanks([f"{say('card.proof')}  {proofs}", say("card.signed")],
               [room * 0.62, room * 0.38], size_pt=size),
    ]
