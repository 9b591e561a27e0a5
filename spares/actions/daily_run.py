"""The daily run: what a machine really ran, burned and put back, beside the plan of the trip."""

from __future__ import annotations

from dataclasses import asdict, replace
from typing import Any

from spares.actions.amounts import day, hours, minutes
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, is_known
from spares.actions.trip.restock import restock
from spares.domain.aboard import Aboard, Record
from spares.domain.daily_log import DayRun, beside, mean_of
from spares.domain.draft import setting
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput

MOST_MIN = 24 * 60
COMPARED = ("hours_per_day", "litres_per_day", "charge_ah_per_day")


@in_turn
def daily_run(ctx: Context, machine: str, *, trip: str | None = None, run: Any = None,
              litres: Any = None, charge_ah: Any = None, amps: Any = None, by: str | None = None,
              at: str | None = None, note: str | None = None,
              change_id: str | None = None) -> dict[str, Any]:
    """Record one day of a machine that charges; the same day again stands in its place.

    Args:
        ctx: Where it happens.
        machine: Which ran [-].
        trip: The trip whose plan it is held to [-].
        run: How long it ran that day [h].
        litres: Fuel burned that day [L].
        charge_ah: Charge put back [Ah].
        amps: Current while it charged [A].
        by, note: Who, free text [-].
        at: The day; today unless said [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: machine or trip cannot be told.
        InvalidInput: nothing is said, no amount, more than a day, or a day to come.
    """
    on = day(at, "at", ctx.today)
    if on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    ran = None if run in (None, "") else minutes(run, "hours")
    if ran is not None and ran > MOST_MIN:
        raise InvalidInput.at("#/hours", "a day has 24 hours")
    told = {"litres": _amount(litres, "litres"), "charge_ah": _amount(charge_ah, "charge_ah"),
            "amps": _amount(amps, "amps")}
    if ran is None and not any(told.values()):
        raise InvalidInput.at("#/hours", "say hours, litres, charge or amps")
    from spares.actions.documents import revived  # late: only who writes needs it

    ident, aboard = a_change_id(change_id), ctx.aboard()
    name = ctx.named(machine, "machine", "machine")
    doc = ref("daily-run", joined_id("daily-run", name, on))
    fields = {"machine": name, "on": on, "minutes": ran, **told,
              "trip": ctx.named(trip, "trip", "trip") if trip else None,
              "by": (by or "").strip() or None, "note": (note or "").strip() or None}
    if was_new := not is_known(ctx, ident, "set", doc=doc):
        ctx.write([replace(setting(doc, **revived(aboard, doc, fields)), id=ident)])
    return {"change": ident, "kind": "daily-run", "was_new": was_new,
            "text": f"{aboard.label(name)} on {on}: the day's run"}


def days_of_trip(ctx: Context, trip: str) -> dict[str, Any]:
    """Give the real days of a trip beside its daily balance.

    Raises:
        NotFound, Ambiguous: it cannot be told which trip is meant.
        InvalidInput: the trip has no days.
    """
    aboard, name = ctx.aboard(), ctx.named(trip, "trip", "trip")
    answer = restock(ctx, trip)
    planned, head = _planned(answer), answer["trip"]
    machine = answer["energy"]["machine"] if answer["energy"] else None
    records = sorted((one for one in aboard.all("daily-run") if one.trip == name),
                     key=lambda one: (one.on, one.id), reverse=True)
    real = asdict(mean_of([_day(one) for one in records]))
    return {"trip": head["no"], "name": head["name"], "machine": machine, "planned": planned,
            "real": real, "days": [_shown(aboard, one) for one in records],
            "beside": {key: beside(real[key], planned[key] if planned else None)
                       for key in COMPARED}}


def _planned(answer: dict[str, Any]) -> dict[str, float | None] | None:
    """Give the plan a day: running [h], fuel [L], charge that is to be put back [Ah]."""
    energy, days = answer["energy"], answer["trip"]["days"]
    if not energy:
        return None
    fuel = energy.get("fuel_l")
    charge = energy.get("deficit_ah")
    return {"hours_per_day": float(energy["hours_per_day"]),
            "litres_per_day": float(fuel) / days if fuel is not None and days else None,
            "charge_ah_per_day": None if charge is None else float(charge)}


def _day(one: Record) -> DayRun:
    return DayRun(one.minutes, *(None if text in (None, "") else float(text)
                                 for text in (one.litres, one.charge_ah, one.amps)))


def _shown(aboard: Aboard, one: Record) -> dict[str, Any]:
    run = _day(one)
    return {"on": one.on, "machine": aboard.label(one.machine), "hours": hours(one.minutes),
            "litres": run.litres, "charge_ah": run.charge_ah, "amps": run.amps, "by": one.by,
            "note": one.note}


def _amount(value: Any, field: str) -> str | None:
    from spares.actions.gauged import figure  # late: only who writes needs it

    found = figure(value, field)
    if found is not None and found.startswith("-"):
        raise InvalidInput.at(f"#/{field}", "must be 0 or more")
    return found
