"""Reading: somebody read an hour meter. A doubtful figure is asked about first."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from spares.actions.amounts import day, hours, minutes
from spares.actions.context import Context, in_turn
from spares.actions.hour_meters import (
    corrects_last,
    known_hours,
    last_of,
    meter_machine,
    starts_anew,
)
from spares.actions.stock_moves import a_change_id, known_body
from spares.domain.draft import Draft
from spares.domain.service.meter import Reading, reading_doubt
from spares.errors import AskFirst, InvalidInput

#: One mark and three digits: some write thousands so, some parts of an hour.
THOUSANDS_OR_PARTS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")


@in_turn
def reading(ctx: Context, machine: str, value: Any, *, at: str | None = None,
            because: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record what a machine's hour meter shows.

    A figure that is lower than before, means more than a day's hours a day, or is
    far above the usual is stored only with a reason, and then used nowhere; with a
    reason that begins "new counter" a new count begins, and with "last entry was a slip"
    it stands in the place of the one before it.

    Raises:
        AskFirst: the figure is doubtful and no reason was given; `asks` says why.
        NotFound: no such machine.
        InvalidInput: no figure, no such day, a day to come, or no counter there.
    """
    aboard = ctx.aboard()
    name = meter_machine(aboard, ctx.named(machine, "machine", "machine"))
    if isinstance(value, str) and THOUSANDS_OR_PARTS.fullmatch(value.strip()):
        whole, part = re.split("[.,]", value.strip())
        raise InvalidInput.at("#/hours", f"can mean {whole}{part} or {whole}.{part}: write it "
                                         "without a mark, or with one decimal")
    read_on, shown = day(at, "at", ctx.today), minutes(value, "hours")
    if read_on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    if because is not None and not isinstance(because, str):
        raise InvalidInput.at("#/because", "text is needed")
    because = (because or "").strip() or None
    ident = a_change_id(change_id)
    known = known_body(ctx, ident, "reading", machine=name, date=read_on if at else None,
                       minutes=shown)
    if known is not None:
        read_on = known["date"]
    else:
        before = known_hours(aboard, name, ctx.today)
        doubt = reading_doubt(before, Reading(date.fromisoformat(read_on), shown,
                                              starts_anew(because),
                                              corrects=corrects_last(because)))
        if doubt is not None and not because:
            raise AskFirst(f"hours: {doubt.words}", asks=doubt.code, last=last_of(before),
                           errors=[{"pointer": "#/hours", "detail": doubt.words}])
        body = {"machine": name, "minutes": shown, "date": read_on,
                **({"because": because} if because else {}),
                **({"doubt": doubt.words} if doubt is not None else {})}
        ctx.write([Draft("reading", body, ident)])
    return {"change": ident, "kind": "reading", "was_new": known is None,
            "text": f"{aboard.label(name)} read {hours(shown)} h on {read_on}",
            "machine": aboard.label(name), "date": read_on, "hours": hours(shown)}
