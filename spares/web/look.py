"""GET vessels, summary, services, due, stranded, unsettled, changes, check: how things stand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from flask import current_app

from spares.actions import show
from spares.actions.batches import batch
from spares.actions.changes import changes
from spares.actions.check import check
from spares.actions.counts import counts
from spares.actions.due import due
from spares.actions.loans import loans, slip_of
from spares.actions.several import each, is_aboard_all
from spares.actions.stranded import stranded
from spares.actions.summary import summary
from spares.actions.unsettled import unsettled
from spares.actions.vessels import vessels
from spares.web.api import ApiBlueprint
from spares.web.schemas import counts as counting
from spares.web.schemas import records, things
from spares.web.schemas.apart import UnsettledAnswer
from spares.web.schemas.base import VesselQuery
from spares.web.store import context, store_of
from spares.web.who import asker

blueprint = ApiBlueprint("look", "How things stand")


@blueprint.route("/vessels")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, records.VesselsAnswer)
def all_vessels(query: dict[str, Any]) -> dict[str, Any]:
    """List the vessels of this store, or those of the device that asks.

    At the server itself the first is meant where none is named, of a device its own.
    """
    found = vessels(store_of(current_app).get())
    if asker().device is None:
        return found
    own = {one.vessel for one in each(context())}
    return {"vessels": [one for one in found["vessels"] if one["id"] in own]}


@blueprint.route("/summary")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, records.Summary)
def at_a_glance(query: dict[str, Any]) -> dict[str, Any]:
    """Say what is aboard and what asks to be looked at."""
    found = summary(context())
    if found["backup"] is None or asker().here:
        return found
    # Where it lies on the server is nothing for a phone: the path tells whose computer that is.
    # Nor is its name, for who is aboard one of several: it has the marks of the others in it.
    name = Path(found["backup"]["file"]).name if is_aboard_all(context()) else None
    return {**found, "backup": {**found["backup"], "file": name}}


@blueprint.route("/services")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, things.ServicesAnswer)
def all_services(query: dict[str, Any]) -> dict[str, Any]:
    """List the services with their kits and cautions."""
    return show.services(context())


@blueprint.route("/due")
@blueprint.arguments(things.DueQuery, location="query")
@blueprint.response(200, records.DueAnswer)
def all_due(query: dict[str, Any]) -> dict[str, Any]:
    """List the services by urgency."""
    return due(context(), query.get("until"))


@blueprint.route("/stranded")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, records.StrandedAnswer)
def all_stranded(query: dict[str, Any]) -> dict[str, Any]:
    """List what lies aboard and fits nothing as she is fitted today."""
    return stranded(context())


@blueprint.route("/unsettled")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, UnsettledAnswer)
def all_unsettled(query: dict[str, Any]) -> dict[str, Any]:
    """List what people wrote without knowing of each other, and what is gone but there."""
    return unsettled(context())


@blueprint.route("/loans")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, records.LoansAnswer)
def all_loans(query: dict[str, Any]) -> dict[str, Any]:
    """List what is lent to others and borrowed from them."""
    return loans(context())


@blueprint.route("/loans/<uuid:loan>/slip")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, records.SlipAnswer)
def slip(query: dict[str, Any], loan: Any) -> dict[str, Any]:
    """Write the slip of a loan for the other vessel; the borrower's says what went back so far."""
    return slip_of(context(), str(loan))


@blueprint.route("/counts")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, counting.CountsAnswer)
def all_counts(query: dict[str, Any]) -> dict[str, Any]:
    """List what is to be counted by the age of the counts, without the numbers expected."""
    return counts(context())


@blueprint.route("/batches")
@blueprint.arguments(counting.BatchQuery, location="query")
@blueprint.response(200, counting.BatchAnswer)
def one_batch(query: dict[str, Any]) -> dict[str, Any]:
    """Say where the pieces of a batch lie, and where one was fitted."""
    return batch(context(), query["mark"])


@blueprint.route("/changes")
@blueprint.arguments(records.ChangesQuery, location="query")
@blueprint.response(200, records.ChangesAnswer)
def all_changes(query: dict[str, Any]) -> dict[str, Any]:
    """List what was changed, newest first."""
    return changes(context(), query["limit"], query.get("before"))


@blueprint.route("/check")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, records.CheckAnswer)
def look_over(query: dict[str, Any]) -> dict[str, Any]:
    """Check that the log is whole, and list what cannot be right."""
    return check(context())


@blueprint.route("/check", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(records.CheckBody)
@blueprint.response(200, records.CheckAnswer)
def rebuild(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Check, and make all tables anew from the log if asked to."""
    ctx = context()
    ctx.require_skipper()
    return check(ctx, rebuild=asked["rebuild"])
