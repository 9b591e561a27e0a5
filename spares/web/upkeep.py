"""GET walk-round: what is not known of the machines, and the next step."""

from __future__ import annotations

from typing import Any

from spares.actions.walk_round import walk_round
from spares.web.api import ApiBlueprint
from spares.web.schemas import upkeep
from spares.web.store import context

blueprint = ApiBlueprint("upkeep", "Taking over, joints, lay-up")


@blueprint.route("/walk-round")
@blueprint.arguments(upkeep.WalkRoundQuery, location="query")
@blueprint.response(200, upkeep.WalkRound)
def going_round(query: dict[str, Any]) -> dict[str, Any]:
    """List what to find out of each machine, what was seen, told or guessed, the next step."""
    return walk_round(context(), query.get("machine"))
