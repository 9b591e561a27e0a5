"""Drain points in walking order, and how far lay-up or fitting-out has come at each.

A point is a document of its own, or what a machine's note names (`lay_up.water_points`). The
latest record of a point says whether it is laid up or in use. A drain hole can be plugged by
rust or silt, so it counts as drained only when it was probed and seen to run; what stays in
counts as treated only when its strength was tested.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.lay_up import water_points

LAY_UP, FITTING_OUT = TURNS = ("lay-up", "fitting-out")
OPEN, DOUBTFUL, DONE = STATES = ("open", "doubtful", "done")
DRAINED, TREATED, NOT_DONE = WAYS = ("drained", "treated", "not-done")
#: A record that is older speaks of another winter. Common practice, no source.
MOST_DAYS = 270


@dataclass(frozen=True, slots=True)
class Drain:
    """A place where water is let out or treated; `doc` is its document's name, "" for a note's.

    `place` is empty where the whole machine is meant; `how` says why or how it is treated.
    """

    doc: str
    no: str
    machine: Record
    place: str
    treated: bool
    how: str = ""
    plug: str = ""
    cock: str = ""
    walk: int | None = None


def drain_points(aboard: Aboard) -> list[Drain]:
    """List the drain points of a vessel in walking order.

    Those with a place in the walk come first, then the others by where their machine stands.
    What a note names is left out where a document of that machine bears the same name.

    Args:
        aboard: The vessel [-].

    Returns:
        Drain points [-].

    Source:
        Form of notes of this project.

    Example:
        >>> drain_points(Aboard(None, {}))
        []
    """
    machines = {name_of("machine", one): one for one in aboard.all("machine")}
    found = [Drain(name_of("drain-point", one), one.no or "", machines[one.machine],
                   one.name or "", one.way == "treat", one.note or "", one.plug or "",
                   one.cock or "", one.walk)
             for one in aboard.all("drain-point") if one.machine in machines]
    known = {(one.machine.id, one.place.casefold()) for one in found}
    found += [Drain("", "", machine, point.place, point.treated, point.how)
              for machine in machines.values() for point in water_points(machine.note)
              if (machine.id, (point.place or machine.name or "").casefold()) not in known]
    place = {id(one): at for at, one in enumerate(found)}      # a note keeps its own order
    return sorted(found, key=lambda one: (
        one.walk is None, one.walk or 0, one.machine.place or "~", one.machine.no or "",
        place[id(one)]))


def last_record(records: Sequence[Record], turn: str, today: date) -> Record | None:
    """Give the record that holds for a turn: the latest one, if it is of that turn and of late.

    Args:
        records: Those of one point [-].
        turn: lay-up or fitting-out [-].
        today: The day asked for [-].

    Returns:
        The record, or None [-].

    Source:
        Counting rule of this project.

    Example:
        >>> last_record([], "lay-up", date(2027, 3, 15)) is None
        True
    """
    known = [one for one in records if one.on and one.on <= today.isoformat()]
    last = max(known, key=lambda one: (one.on, TURNS.index(one.turn), one.id), default=None)
    if last is None or last.turn != turn:
        return None
    return last if (today - date.fromisoformat(last.on)).days <= MOST_DAYS else None


def left_open(record: Record | None, turn: str) -> tuple[str, ...]:
    """Say what a record leaves open.

    Args:
        record: As `last_record` gives it [-].
        turn: lay-up or fitting-out [-].

    Returns:
        Codes: not-recorded, not-done, not-seen-to-run, strength-not-tested; for fitting-out
        plug-not-in, seal-not-renewed, leak-not-looked-for [-].

    Source:
        Common practice, no source.

    Example:
        >>> left_open(None, "lay-up")
        ('not-recorded',)
    """
    if record is None:
        return ("not-recorded",)
    if turn == FITTING_OUT:
        asked = (("plug_in", "plug-not-in"), ("seal_renewed", "seal-not-renewed"),
                 ("no_leak", "leak-not-looked-for"))
        return tuple(code for name, code in asked if not getattr(record, name))
    if record.done == DRAINED:
        return () if record.seen_to_run else ("not-seen-to-run",)
    if record.done == TREATED:
        return () if record.protects_to_c else ("strength-not-tested",)
    return (NOT_DONE,)


def state_of(record: Record | None, turn: str) -> str:
    """Give the state of a point: open, doubtful (something is left open) or done.

    Args:
        record: As `last_record` gives it [-].
        turn: lay-up or fitting-out [-].

    Returns:
        One of `STATES` [-].

    Source:
        Counting rule of this project.

    Example:
        >>> state_of(None, "lay-up")
        'open'
    """
    left = left_open(record, turn)
    if not left:
        return DONE
    return OPEN if set(left) & {"not-recorded", NOT_DONE, "plug-not-in"} else DOUBTFUL
