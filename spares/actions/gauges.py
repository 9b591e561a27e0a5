"""Gauges of a machine: what they showed, against the maker's limits, and where it is going."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.amounts import hours
from spares.actions.context import Context
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.dates import earliest_day
from spares.domain.gauges import (
    Course,
    Shown,
    course,
    in_order,
    sentence,
    speaking,
    state_of,
)
from spares.domain.search_text import words

#: Readings that are shown; all of them count.
SHOWN = 12


def gauges(ctx: Context, machine: str | None = None) -> dict[str, Any]:
    """List the gauges, of one machine or of all, with limits, last readings and trend.

    Raises:
        NotFound, Ambiguous: it cannot be told which machine is meant.
    """
    aboard = ctx.aboard()
    names = [ctx.named(machine, "machine", "machine")] if machine else [
        name_of("machine", one) for one in aboard.all("machine")]
    return {"gauges": [one for name in names for one in gauges_of(aboard, name)],
            "test_runs": [one for name in names for one in test_runs_of(aboard, name)]}


def gauges_of(aboard: Aboard, machine: str | None) -> list[dict[str, Any]]:
    """Describe the gauges of a machine, by name."""
    of_gauge = aboard.by("gauge-reading", "gauge")
    return [_gauge(aboard, one, of_gauge.get(name_of("gauge", one), []))
            for one in sorted(aboard.by("gauge", "machine").get(machine or "", ()),
                              key=lambda one: (one.name or "").casefold())]


def book_limits(aboard: Aboard, machine: str, what: str, unit: str
                ) -> dict[str, float | None] | None:
    """Give low and high of the book for a reading, None where it is not sure whose they are.

    One gauge of that unit must be called so, or by some of its words ("oil" for "oil
    pressure"): a limit of another gauge would be worse than none.
    """
    asked = set(words(what))
    found = [one for one in gauges_of(aboard, machine) if one["unit"] == unit
             and (named := set(words(one["name"] or ""))) and named <= asked]
    return {"low": found[0]["low"], "high": found[0]["high"]} if len(found) == 1 else None


def test_runs_of(aboard: Aboard, machine: str | None) -> list[dict[str, Any]]:
    """Describe what was seen and accepted at the test runs of a machine, newest first."""
    found = aboard.by("test-run", "machine").get(machine or "", ())
    return [{"machine": aboard.label(one.machine), "on": one.on,
             "service": aboard.label(one.service) if one.service else None,
             "leaks": one.leaks, "accepted_by": one.accepted_by, "by": one.by, "note": one.note,
             "readings": _of_run(aboard, one)}
            for one in sorted(found, key=lambda one: (one.on or "", one.id), reverse=True)]


def _of_run(aboard: Aboard, run: Record) -> list[dict[str, Any]]:
    found = []
    for one in aboard.all("gauge-reading"):
        gauge = aboard.get(one.gauge)
        if gauge is not None and gauge.machine == run.machine and one.minute is not None \
                and (one.on, one.service) == (run.on, run.service):
            found.append({"name": gauge.name, "unit": gauge.unit, "minute": one.minute,
                          "value": float(one.value)})
    return sorted(found, key=lambda one: (one["minute"], one["name"]))


def _gauge(aboard: Aboard, one: Record, records: list[Record]) -> dict[str, Any]:
    low, high = _figure(one.low), _figure(one.high)
    shown = in_order(_shown(record) for record in records)
    cleaned = _last_done(aboard, one.cleaned_by)
    spoken = speaking(shown, cleaned, one.cleaned_by)
    last = shown[-1] if shown else None
    service = aboard.get(one.cleaned_by)
    told = {
        "gauge": one.no, "id": one.id, "machine": aboard.label(one.machine), "name": one.name,
        "unit": one.unit, "place": one.place, "low": low, "high": high, "source": one.source,
        "by": one.by, "on": one.on, "note": one.note,
        "cleaned_by": service.no if service else None,
        "state": state_of(last.value if last else None, low, high),
        "last": _reading(aboard, last) if last else None,
        "readings": [_reading(aboard, other) for other in shown[:-SHOWN - 1:-1]],
        "since": {"on": cleaned.isoformat(), "what": service.what} if cleaned and service else None,
        "trend": _trend(course(spoken, low, high))}
    return {**told, "says": sentence(told)}


def _shown(record: Record) -> Shown:
    return Shown(date.fromisoformat(record.on), float(record.value), record.minutes, record.rpm,
                 record.load_percent, record.minute, record.service)


def _reading(aboard: Aboard, one: Shown) -> dict[str, Any]:
    return {"on": one.on.isoformat(), "value": one.value, "hours": hours(one.minutes),
            "rpm": one.rpm, "load_percent": one.load_percent, "minute": one.minute,
            "service": aboard.label(one.of) if one.of else None}


def _trend(found: Course) -> dict[str, Any]:
    told = found.trend
    return {"code": told.code, "slope": told.slope, "step": found.step, "step_unit": found.unit,
            "readings": told.readings, "agreeing": told.agreeing, "pairs": told.pairs,
            "now": told.now, "left": found.left}


def _last_done(aboard: Aboard, service: str | None) -> date | None:
    days = [earliest_day(one.date) for one in aboard.done_of.get(service or "", ()) if one.date]
    return max(days, default=None)


def _figure(text: str | None) -> float | None:
    return None if text in (None, "") else float(text)
