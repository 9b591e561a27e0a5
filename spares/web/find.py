"""GET find, things, machines, lockers, points, parts: where is it, and what is there."""

from __future__ import annotations

from typing import Any

from spares.actions import show
from spares.actions.find import find
from spares.web.api import ApiBlueprint
from spares.web.schemas import parts, things
from spares.web.schemas.base import VesselQuery
from spares.web.store import context

blueprint = ApiBlueprint("find", "Where is it, and what is there")


@blueprint.route("/find")
@blueprint.arguments(things.FindQuery, location="query")
@blueprint.response(200, things.FindAnswer)
def find_it(query: dict[str, Any]) -> dict[str, Any]:
    """Find by a label's code, a number, or words.

    A code whose check character is wrong finds nothing and says so.
    """
    return find(context(), query["q"])


@blueprint.route("/things/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, things.Thing)
def thing(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show any thing by its number, label code, or id."""
    return show.show(context(), ref)


@blueprint.route("/parts")
@blueprint.arguments(parts.PartsQuery, location="query")
@blueprint.response(200, parts.PartsAnswer)
def all_parts(query: dict[str, Any]) -> dict[str, Any]:
    """List parts by number, a page at a time."""
    return show.parts(context(), query.get("after"), query["limit"])


@blueprint.route("/parts/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, parts.PartWhole)
def one_part(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show a part; its maker's or a cross number will do where only one part has it."""
    return show.show(context(), ref, "part")


@blueprint.route("/lockers")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, things.LockersAnswer)
def all_lockers(query: dict[str, Any]) -> dict[str, Any]:
    """List the lockers."""
    return show.lockers(context())


@blueprint.route("/lockers/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, things.Locker)
def one_locker(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show a locker and what lies in it."""
    return show.show(context(), ref, "locker")


@blueprint.route("/machines")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, things.MachinesAnswer)
def all_machines(query: dict[str, Any]) -> dict[str, Any]:
    """List the machines with their hours."""
    return show.machines(context())


@blueprint.route("/machines/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, things.Machine)
def one_machine(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show a machine with its fit points, hours and cautions."""
    return show.show(context(), ref, "machine")


@blueprint.route("/points/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, things.PointLine)
def one_point(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show a fit point: what sits there, what it asks, its spares."""
    return show.show(context(), ref, "point")
