"""Walk-round: what is not known of each machine, the next step, and how far one has come."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import hours
from spares.actions.claims import caution_lines
from spares.actions.context import Context
from spares.actions.hour_meters import last_trusted
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.cautions import hazard_words, known_and_other
from spares.domain.tree import fitted_now
from spares.domain.walk_round import COUNTER, FIT, HISTORY, PLATE, Question, progress, questions_of

OPENING = "opening"


def walk_round(ctx: Context, machine: str | None = None) -> dict[str, Any]:
    """List the questions of the walk-round by machine, with their answers and the next step.

    Raises:
        NotFound, Ambiguous: it cannot be told which machine is meant.
    """
    aboard = ctx.aboard()
    names = [name_of("machine", one) for one in aboard.all("machine")]
    if machine is not None:
        names = [ctx.named(machine, "machine", "machine")]
    asked = {name: questions_of(aboard, name) for name in names}
    return {"baseline_on": aboard.vessel.baseline_on or None, "today": ctx.today.isoformat(),
            "progress": progress([one for some in asked.values() for one in some]),
            "machines": [_machine(aboard, name, some) for name, some in asked.items()]}


def _machine(aboard: Aboard, name: str, questions: list[Question]) -> dict[str, Any]:
    record = aboard.get(name)
    known, other = known_and_other([OPENING, *hazard_words(record.hazards)])
    return {"machine": record.no, "id": record.id, "name": record.name, "place": record.place,
            "progress": progress(questions), "cautions": caution_lines([*known, *other]),
            "questions": [_question(aboard, one) for one in questions]}


def _question(aboard: Aboard, one: Question) -> dict[str, Any]:
    about = aboard.get(one.about)
    return {"question": one.question, "about": about.no, "what": _WHAT[one.question](about),
            "state": one.state, "next_step": one.next_step, "look": one.look or None,
            "recorded": sorted(one.recorded), "known": _KNOWN[one.question](aboard, one.about),
            "answers": [{"origin": said.origin, "answer": said.answer, "by": said.by,
                         "on": said.on, "note": said.note} for said in one.findings]}


def _plate(aboard: Aboard, name: str) -> str | None:
    one = aboard.get(name)
    said = [" ".join(filter(None, [one.maker, one.model])), one.serial and f"serial {one.serial}"]
    return ", ".join(filter(None, said)) or None


def _counter(aboard: Aboard, name: str) -> str | None:
    last = last_trusted(aboard, name)
    return f"{last['hours']:g} h on {last['date']}" if last else None


def _fit(aboard: Aboard, name: str) -> str | None:
    now = fitted_now(aboard, name)
    return aboard.label(now.part) if now else None


def _history(aboard: Aboard, name: str) -> str | None:
    done = [one for one in aboard.done_of.get(name, ()) if one.date]
    if not done:
        return None
    last = max(done, key=lambda one: (one.date, one.at))
    return last.date if last.minutes is None else f"{last.date} at {hours(last.minutes):g} h"


def _named(record: Record) -> str | None:
    return record.name


_WHAT = {PLATE: _named, COUNTER: _named, FIT: _named, HISTORY: lambda record: record.what}
_KNOWN = {PLATE: _plate, COUNTER: _counter, FIT: _fit, HISTORY: _history}
