"""Give the vessel away as files: tables, calendar, everything."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.jobs import job_cautions
from spares.db.find import head_of
from spares.transfer.export_csv import vessel_csv, zipped
from spares.transfer.export_ics import DatedService, calendar_text
from spares.transfer.export_json import vessel_json


def export_csv(ctx: Context, *, semicolons: bool = False) -> bytes:
    """Give all tables in the import format, in one archive."""
    return zipped(vessel_csv(ctx.aboard(), semicolons=semicolons))


def export_json(ctx: Context) -> dict[str, Any]:
    """Give the whole vessel as JSON, as it can be brought in again."""
    return vessel_json(ctx.aboard())


def export_ics(ctx: Context, *, as_events: bool = False) -> str:
    """Give the dated services as calendar entries (RFC 5545)."""
    aboard, services = ctx.aboard(), []
    by_no = {one.no: one for one in aboard.all("service")}
    for one in due(ctx)["services"]:
        if one["due_on"] is None or one["state"] == "not-wanted":
            continue
        where = ", ".join(one["points"]) or one["machine"] or ""
        service = by_no[one["service"]]
        said = [*one["remarks"], *(f"{line['sign']}, {line['mark']}: {line['text']}"
                                   if line["mark"] else line["text"]
                                   for line in job_cautions(aboard, service))]
        services.append(DatedService(service.id, date.fromisoformat(one["due_on"]),
                                     f"{one['service']} {one['what']} ({where})",
                                     "\n".join(said), one["estimated"]))
    with ctx.store.looking() as reader:
        sequence, _ = head_of(reader, ctx.vessel)
    made_at = datetime.fromtimestamp(ctx.now_ms() / 1000, UTC)
    return calendar_text(services, vessel_name=aboard.vessel.name or "", made_at=made_at,
                         sequence=sequence, as_events=as_events)
