"""The first hour: a vessel, her lockers, her machines with what they usually take."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, replace
from typing import Any
from uuid import uuid4

from spares.actions.codes import reserved_codes
from spares.actions.context import Context, clock_ms, in_turn
from spares.actions.documents import next_number
from spares.actions.stock_moves import a_change_id, as_one_act
from spares.actions.written import written_before
from spares.db.door import found_vessel, submit
from spares.db.engine import Store
from spares.db.find import vessels
from spares.domain.aboard import Aboard
from spares.domain.codes import first_free
from spares.domain.draft import Draft, setting
from spares.domain.identity import numbered_id, ref
from spares.domain.starter_sets import StarterSet, starter_sets
from spares.errors import Conflict, InvalidInput
from spares.paper.language import words

MINUTES_AN_HOUR = 60
MOST_LOCKERS, LONGEST_NAME = 50, 200
CODED = ("locker", "machine")


def sets_to_choose() -> dict[str, Any]:
    """List the starter sets with their fit points and services."""
    return {"sets": [asdict(one) for one in starter_sets()]}


def begin_vessel(store: Store, mark: str, name: str, *,
                 now_ms: Callable[[], int] = clock_ms) -> dict[str, Any]:
    """Begin a vessel in the store: her own log, with mark and name as its first change.

    Args:
        store: The open store.
        mark: 1 to 3 capital letters or digits, which stand on every label [-].
        name: As she is called [-].
        now_ms: The clock [ms since 1970].

    Raises:
        InvalidInput: mark or name cannot be taken.
        Conflict: another vessel in the store bears the mark.
    """
    mark, name = (mark or "").strip().upper(), (name or "").strip()
    if not (1 <= len(mark) <= 3 and mark.isascii() and mark.isalnum()):
        raise InvalidInput.at("#/mark", "1 to 3 letters or digits")
    if not name:
        raise InvalidInput.at("#/name", "is needed")
    _check_name(name, "#/name")
    with store.turn, store.writing() as session:
        if any(known.upper() == mark for _, known in vessels(session)):
            raise Conflict(f"mark: {mark} is taken by another vessel",
                           errors=[{"pointer": "#/mark", "detail": "taken"}])
        ident = str(uuid4())
        found_vessel(session, ident)
        submit(session, ident, [setting(ref("vessel", ident), mark=mark, name=name)],
               wall_ms=now_ms())
    return {"vessel": mark, "name": name}


@in_turn
def begin_lockers(ctx: Context, names: Sequence[str], *,
                  change_id: str | None = None) -> dict[str, Any]:
    """Name lockers, each with the next free number and a code for its label; undone as one.

    Raises:
        InvalidInput: there is no name, too many, or one that cannot be taken.
    """
    ident = a_change_id(change_id)
    wanted = [name.strip() for name in names if name.strip()]
    if not 1 <= len(wanted) <= MOST_LOCKERS:
        raise InvalidInput.at("#/names", f"1 to {MOST_LOCKERS} names")
    for at, name in enumerate(wanted):
        _check_name(name, f"#/names/{at}")
    if written_before(ctx, ident, "locker") is not None:
        return {"change": ident, "lockers": [], "was_new": False}
    aboard = ctx.aboard()
    codes, first = _Codes(ctx, aboard), int(next_number(aboard, "locker")[1:])
    fields = [{"no": f"L{first + at:02}", "name": name, "code": codes.next(), "aboard": True,
               "reachable": True} for at, name in enumerate(wanted)]
    drafts = [setting(ref("locker", numbered_id(ctx.vessel, "locker", one["no"])),
                      **one, gone=False) for one in fields]
    _write(ctx, drafts, ident)
    return {"change": ident, "lockers": fields, "was_new": True}


@in_turn
def begin_machine(ctx: Context, starter: str, *, name: str | None = None,
                  place: str | None = None, points: Sequence[int] | None = None,
                  language: str = "en", change_id: str | None = None) -> dict[str, Any]:
    """Begin a machine with the fit points and services that its type usually has; undone as one.

    Args:
        ctx: Where it happens.
        starter: Id of the starter set [-].
        name: As it is called; that of the set unless said [-].
        place: Where it stands [-].
        points: Which of the set's fit points she has, counted from 1; all unless said [-].
        language: In which the set's own names are written down [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        InvalidInput: there is no such set or point, or name or place cannot be taken.
    """
    ident, one = a_change_id(change_id), _set(starter).told(words(language).told)
    chosen = list(range(1, len(one.points) + 1)) if points is None else sorted(set(points))
    if not all(1 <= at <= len(one.points) for at in chosen):
        raise InvalidInput.at("#/points", f"numbers from 1 to {len(one.points)}")
    called, place = (name or "").strip() or one.name, (place or "").strip() or None
    _check_name(called, "#/name")
    _check_name(place or "", "#/place")
    if written_before(ctx, ident, "machine") is not None:
        return {"change": ident, "machine": None, "was_new": False}
    aboard = ctx.aboard()
    no = _free_no(aboard, one.no)
    machine = ref("machine", numbered_id(ctx.vessel, "machine", no))
    drafts = [setting(machine, no=no, name=called, place=place, counter=one.counter,
                      hazards=one.hazards, code=_Codes(ctx, aboard).next(), gone=False,
                      note=one.note)]
    at_points = {at: ref("point", numbered_id(ctx.vessel, "point", f"{no}-{count:02}"))
                 for count, at in enumerate(chosen, start=1)}
    for count, (at, doc) in enumerate(at_points.items(), start=1):
        point = one.points[at - 1]
        drafts.append(setting(doc, no=f"{no}-{count:02}", name=point.name, machine=machine,
                              kind=point.kind, weight=point.weight, pieces=1, gone=False))
    drafts += _services(ctx, aboard, one, machine, at_points)
    _write(ctx, drafts, ident)
    return {"change": ident, "machine": no, "was_new": True}


def _check_name(name: str, pointer: str) -> None:
    if len(name) > LONGEST_NAME:
        raise InvalidInput.at(pointer, f"at most {LONGEST_NAME} characters")


class _Codes:
    """Free codes one after the other, unique across lockers and machines."""

    def __init__(self, ctx: Context, aboard: Aboard) -> None:
        self.taken = set(reserved_codes(ctx)) | {
            record.code for kind in (*CODED, "lot") for record in aboard.docs[kind].values()
            if record.code}

    def next(self) -> str:
        code = first_free(self.taken)
        self.taken.add(code)
        return code


def _set(starter: str) -> StarterSet:
    found = next((one for one in starter_sets() if one.id == starter), None)
    if found is None:
        known = ", ".join(one.id for one in starter_sets())
        raise InvalidInput.at("#/starter", f"one of {known} is needed")
    return found


def _free_no(aboard: Aboard, letters: str) -> str:
    taken = {record.no for record in aboard.docs["machine"].values()}
    return next(no for no in (letters, *(f"{letters}{at}" for at in range(2, len(taken) + 3)))
                if no not in taken)


def _services(ctx: Context, aboard: Aboard, one: StarterSet, machine: str,
              at_points: dict[int, str]) -> list[Draft]:
    """Give the services; one whose fit point she lacks is left out."""
    first = int(next_number(aboard, "service")[1:])
    wanted = [work for work in one.services if work.at is None or work.at in at_points]
    drafts = []
    for at, work in enumerate(wanted):
        no = f"S{first + at:02}"
        by_hours = work.every_h if one.counter == "own" else None
        drafts.append(setting(
            ref("service", numbered_id(ctx.vessel, "service", no)), no=no, what=work.what,
            machine=machine, point=at_points[work.at] if work.at else None,
            every_minutes=by_hours and by_hours * MINUTES_AN_HOUR,
            every_months=work.every_months, cautions=work.cautions or None, gone=False,
            weight=one.points[work.at - 1].weight if work.at else "B"))
    return drafts


def _write(ctx: Context, drafts: list[Draft], ident: str) -> None:
    told = [setting(one.body["doc"], **{name: value for name, value in one.body["f"].items()
                                        if value is not None}) for one in drafts]
    ctx.write(as_one_act([replace(told[0], id=ident), *told[1:]], ident))
