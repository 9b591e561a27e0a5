"""GET trails: where a broken piece may lie, and which machines must not run."""

from __future__ import annotations

from typing import Any

from spares.actions import trails
from spares.web.api import ApiBlueprint
from spares.web.schemas import trails as shapes
from spares.web.schemas.base import VesselQuery
from spares.web.store import context

blueprint = ApiBlueprint("trails", "Trails of broken pieces")


@blueprint.route("/trails")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.TrailsAnswer)
def all_trails(query: dict[str, Any]) -> dict[str, Any]:
    """List the trails, open ones first, and the machines that must not run."""
    return trails.trails(context())


@blueprint.route("/trails/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.Trail)
def one_trail(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show a trail: places in flow order, what opens and seals each, what was found."""
    return trails.trail(context(), ref)


@blueprint.route("/machines/<ref>/trail-start")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.TrailStart)
def starting(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Give what is needed to begin a trail on a machine: flow orders, fit points, cautions."""
    return trails.trail_start(context(), ref)
