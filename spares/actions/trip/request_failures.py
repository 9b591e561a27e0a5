"""Failures in the request: a vessel's figures as rows, and what they rest on.

For one part on one machine one figure counts, the most trusted: failures seen aboard,
then wear-out with age, then a mean time that somebody gave.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from spares.actions.hour_meters import history, meter_machine
from spares.domain.aboard import Aboard, Record
from spares.domain.document_kinds import RATES
from spares.domain.own_log import FailedOnce, failures_aboard, hours_seen
from spares.domain.service.meter import Meter
from spares.domain.tree import fitted_now, is_live
from spares.errors import InvalidInput

ASSUMED = "assumed"


class FailureRow(NamedTuple):
    """One row [as the computation takes it], and the words about it."""

    row: dict[str, Any]
    part: str
    machine: str
    point: str
    figure: str
    origin: str
    assumed: bool
    own_log: bool


def failure_rows(aboard: Aboard) -> tuple[list[FailureRow], list[str]]:
    """Give the rows that count, and remarks on figures that cannot."""
    given: dict[tuple[str, str], list[Record]] = {}
    remarks = []
    for one in aboard.all("failure"):
        machine = _machine_of(aboard, one)
        if one.figures is None or aboard.get(one.part) is None or not _is_there(aboard, one):
            continue
        if not machine and "mtbf_days" not in one.figures:
            remarks.append(f"{aboard.label(one.part)}: its failure figure counts nowhere, for "
                           "it names no machine whose hours it goes by")
            continue
        given.setdefault((one.part, machine), []).append(one)
    seen: dict[tuple[str, str], list[FailedOnce]] = {}
    for failed in failures_aboard(aboard):
        if aboard.get(failed.part) is not None and aboard.get(failed.machine) is not None:
            seen.setdefault((failed.part, failed.machine), []).append(failed)
    rows: list[FailureRow] = []
    for key in dict.fromkeys([*given, *seen]):
        rows += _of_one(aboard, key, given.get(key, []), seen.get(key, []), remarks)
    return rows, remarks


def _of_one(aboard: Aboard, key: tuple[str, str], given: list[Record],
            seen: list[FailedOnce], remarks: list[str]) -> list[FailureRow]:
    """Choose among the figures of one part on one machine."""
    part, machine = key
    rank = min((RATES.index(_rate(one)) for one in given), default=len(RATES))
    best = [one for one in given if RATES.index(_rate(one)) == rank]
    if seen and rank > 0:
        log = _own_log(aboard, part, machine, seen)
        if log is not None:
            return [log]
        remarks.append(f"{aboard.label(part)} failed {_times(len(seen))} aboard, but nobody can "
                       f"say in how many hours: {aboard.label(machine)} has no hour readings")
    return [_given(aboard, one, machine, seen) for one in best]


def _own_log(aboard: Aboard, part: str, machine: str,
             seen: list[FailedOnce]) -> FailureRow | None:
    units, minutes = _units(aboard, part, machine), _hours_seen(aboard, machine)
    if not minutes:
        return None
    hours = _decimal_hours(minutes * units)
    row = {"part": aboard.label(part), "machine": aboard.label(machine), "units": units,
           "own_log": {"failures": len(seen), "hours": hours}}
    return FailureRow(row, part, machine, "", _said(row), "own log, as recorded aboard", False,
                      True)


def _given(aboard: Aboard, one: Record, machine: str, seen: list[FailedOnce]) -> FailureRow:
    figures = {name: value for name, value in one.figures.items() if value is not None}
    point = aboard.get(one.point)
    units = figures.get("units")
    if units is None and "weibull" not in figures:
        units = (point.pieces or 1) if point is not None else _units(aboard, one.part, machine)
    log = figures.get("own_log")
    if log:
        figures["own_log"] = _brought_up(aboard, log, machine, seen, units or 1)
    renewed = aboard.get(one.renewed_by)
    row = {"part": aboard.label(one.part), **figures, **({"units": units} if units else {}),
           **({"machine": aboard.label(machine)} if machine else {}),
           **({"renewed_by": renewed.no} if renewed is not None and not renewed.gone else {})}
    origin = one.origin or {}
    how = origin.get("how") or ASSUMED
    words = ", ".join(str(x) for x in (how, origin.get("by"), origin.get("when")) if x)
    return FailureRow(row, one.part, machine, one.point or "", _said(row), words,
                      how == ASSUMED, bool(log))


def _brought_up(aboard: Aboard, log: dict[str, Any], machine: str, seen: list[FailedOnce],
                units: int) -> dict[str, Any]:
    """Add what was recorded after the day up to which a written log goes."""
    until = log.get("until")
    plain = {"failures": log["failures"], "hours": log["hours"]}
    if not until:
        return plain
    later = sum(one.date > until for one in seen)
    more = _hours_seen(aboard, machine, until) * units
    hours = float(log["hours"]) + more / 60
    return {"failures": log["failures"] + later, "hours": f"{hours:.4f}"}


def _hours_seen(aboard: Aboard, machine: str, since: str = "") -> int:
    try:
        counter = meter_machine(aboard, machine)
    except InvalidInput:
        return 0
    meter = Meter.of(history(aboard, counter))
    return hours_seen(dict(zip(meter.days, meter.totals, strict=True)), since)


def _units(aboard: Aboard, part: str, machine: str) -> int:
    """Count the pieces of a part that sit on a machine now; at least one."""
    sits = sum(point.pieces or 1 for point in aboard.points_of.get(machine, [])
               if is_live(aboard, point) and (now := fitted_now(aboard, f"point/{point.id}"))
               and now.part == part)
    return max(1, sits)


def _machine_of(aboard: Aboard, one: Record) -> str:
    point = aboard.get(one.point)
    machine = one.machine or (point.machine if point is not None else None) or ""
    record = aboard.get(machine)
    return machine if record is not None and not record.gone else ""


def _is_there(aboard: Aboard, one: Record) -> bool:
    """A figure for a fit point counts while the point is there."""
    if not one.point:
        return not one.machine or bool(_machine_of(aboard, one))
    point = aboard.get(one.point)
    return point is not None and not point.gone and is_live(aboard, point)


def _rate(one: Record) -> str:
    return next((name for name in RATES if one.figures.get(name) is not None), RATES[-1])


def _said(row: dict[str, Any]) -> str:
    """Say a figure in words."""
    units = row.get("units") or 1
    of = f", {units} pieces" if units > 1 else ""
    if log := row.get("own_log"):
        return f"{log['failures']} failed in {_plain(log['hours'])} h of running{of}"
    if life := row.get("weibull"):
        return (f"wears out: shape {_plain(life['beta'])}, characteristic life "
                f"{_plain(life['eta_h'])} h{of}")
    if "mtbf_h" in row:
        return f"one failure in {_plain(row['mtbf_h'])} h of running{of}"
    return f"one failure in {_plain(row['mtbf_days'])} days{of}"


def _plain(number: str) -> str:
    return f"{float(number):.1f}".removesuffix(".0")


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _decimal_hours(minutes: int) -> str:
    return f"{minutes // 60}.{minutes % 60 * 10_000 // 60:04}"
