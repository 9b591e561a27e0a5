"""Done: a service was carried out, with the parts of its kit used."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

from spares.actions.amounts import hours, minutes, plain
from spares.actions.context import Context, in_turn
from spares.actions.hour_meters import known_hours, meter_machine
from spares.actions.stock_moves import a_change_id, known_body, use_first
from spares.domain.aboard import Aboard
from spares.domain.dates import earliest_day
from spares.domain.draft import Draft
from spares.domain.kit_bag import own_bag_first
from spares.domain.service.meter import Reading, reading_doubt
from spares.domain.stowage import counts_as_aboard, usable_on
from spares.errors import InvalidInput


@in_turn
def done(ctx: Context, service: str, *, at: str | None = None, run: Any = None, kit: bool = True,
         by: str | None = None, proof: str | None = None, note: str | None = None,
         failed: list[str] | None = None,
         change_id: str | None = None) -> dict[str, Any]:
    """Record that a service was done.

    Args:
        ctx: Where it happens.
        service: As people call it [-].
        at: The day, cut to month or year where no more is known; today unless said [-].
        run: What the hour meter showed [h]; left out, it is told from the readings.
        kit: Take the parts of the kit out of the lockers as well [-].
        by, proof, note: Who did it, how that is known, free text [-].
        failed: Parts that had failed; they count in the vessel's own failure rates [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the service cannot be told.
        InvalidInput: no such day, or a day to come.
    """
    name, ident = ctx.named(service, "service", "service"), a_change_id(change_id)
    aboard = ctx.aboard()
    on = _when(at, ctx.today)
    shown = None if run in (None, "") else minutes(run, "hours")
    known = known_body(ctx, ident, "service", service=name, date=on if at else None)
    if known is not None:
        on, shown, lines, missing = known["date"], known.get("minutes"), known["lines"], []
    else:
        lines, missing = kit_lines(aboard, name, ctx.today.isoformat()) if kit else ([], [])
        check_hours(aboard, aboard.get(name).machine, on, shown, ctx.today)
        body = {"service": name, "machine": aboard.get(name).machine, "date": on,
                "minutes": shown, "by": by, "proof": proof, "note": note}
        if failed:
            body["failed"] = [ctx.named(one, "failed", "part") for one in failed]
        ctx.write([Draft("service", {**{k: v for k, v in body.items() if v is not None},
                                     "lines": lines}, ident)])
    return {"change": ident, "kind": "service", "was_new": known is None,
            "text": f"{aboard.label(name)} done on {on}", "service": aboard.label(name),
            "date": on, "hours": hours(shown),
            "used": [{"part": aboard.label(one["part"]), "locker": aboard.label(one["locker"]),
                      "quantity": plain(one["q"])} for one in lines],
            "missing": [{"part": aboard.label(part), "quantity": plain(q)} for part, q in missing]}


def _when(at: str | None, today: date) -> str:
    if at in (None, ""):
        return today.isoformat()
    if earliest_day(str(at), "#/at") > today:
        raise InvalidInput.at("#/at", "this day is still to come")
    return str(at)


def check_hours(aboard: Aboard, machine: str | None, on: str, shown: int | None,
                 today: date) -> None:
    """Refuse a figure that the hour meter cannot have shown: it would spoil every plan."""
    if shown is None or machine is None:
        return
    meter = meter_machine(aboard, machine)
    doubt = reading_doubt(known_hours(aboard, meter, today), Reading(earliest_day(on), shown))
    if doubt is not None:
        raise InvalidInput.at("#/hours", f"{doubt.words}; leave it out, or enter the reading first")


def kit_lines(aboard: Aboard, service: str,
              today: str) -> tuple[list[dict[str, Any]], list[tuple[str, int]]]:
    """Say which pieces of which lot a kit takes, and what of it is not aboard."""
    lines, missing = [], []
    taken: Counter[tuple[str, str, str]] = Counter()
    for line in aboard.kits_of.get(service, []):
        wanted = line.q or 0
        for part in (line.part, *good_stand_ins(aboard, line.part)):
            there = [one for one in aboard.lying_of.get(part, [])
                     if counts_as_aboard(aboard, one) and usable_on(aboard, one, today)]
            for one in own_bag_first(aboard, service, use_first(aboard, there, today)):
                key = (part, one.locker, one.lot)
                take = min(wanted, one.quantity - taken[key])
                if take > 0:
                    taken[key] += take
                    lines.append({"part": part, "locker": one.locker, "lot": one.lot, "q": take})
                    wanted -= take
        if wanted:
            missing.append((line.part, wanted))
    return lines, missing


def good_stand_ins(aboard: Aboard, part: str) -> list[str]:
    """Name the parts that count for a part, with proof better than hearsay."""
    return [one.part for one in aboard.stand_ins_for.get(part, [])
            if one.proof not in (None, "hearsay", "candidate", "tried-no")]
