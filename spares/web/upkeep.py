"""GET walk-round, joints, gauges, plan: what is not known, how a joint goes together, what was
read, where lockers are.
"""

from __future__ import annotations

from typing import Any

from spares.actions.deck_plan import deck_plan
from spares.actions.gauges import gauges
from spares.actions.joints import joint, joints
from spares.actions.walk_round import walk_round
from spares.web.api import ApiBlueprint
from spares.web.schemas import readings, upkeep
from spares.web.schemas.base import VesselQuery
from spares.web.schemas.deck_plan import DeckPlan
from spares.web.store import context

blueprint = ApiBlueprint("upkeep", "Taking over, joints, lay-up")


@blueprint.route("/walk-round")
@blueprint.arguments(upkeep.WalkRoundQuery, location="query")
@blueprint.response(200, upkeep.WalkRound)
def going_round(query: dict[str, Any]) -> dict[str, Any]:
    """List what to find out of each machine, what was seen, told or guessed, the next step."""
    return walk_round(context(), query.get("machine"))


@blueprint.route("/joints")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, upkeep.Joints)
def all_joints(query: dict[str, Any]) -> dict[str, Any]:
    """List the joint sheets."""
    return joints(context())


@blueprint.route("/joints/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, upkeep.Joint)
def one_joint(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show a joint sheet: pieces in order, order of tightening, torque, warnings."""
    return joint(context(), ref)


@blueprint.route("/gauges")
@blueprint.arguments(readings.GaugesQuery, location="query")
@blueprint.response(200, readings.GaugesAnswer)
def all_gauges(query: dict[str, Any]) -> dict[str, Any]:
    """List what is read beside the hours: limits of the maker's book, readings, trend."""
    return gauges(context(), query.get("machine"))


@blueprint.route("/plan")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, DeckPlan)
def plan_of_decks(query: dict[str, Any]) -> dict[str, Any]:
    """Show the plan of each deck, and where on it each locker is found."""
    return deck_plan(context())
