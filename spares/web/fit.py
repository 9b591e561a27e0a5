"""POST fit: does this part fit this place, as she is fitted today?"""

from __future__ import annotations

from typing import Any

from spares.actions.fit import fit
from spares.web.api import ApiBlueprint
from spares.web.guard import require_own_page
from spares.web.schemas.base import VesselQuery
from spares.web.schemas.plans import FitAnswer, FitBody
from spares.web.store import context

blueprint = ApiBlueprint("fit", "Does it fit?")


@blueprint.route("/fit", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(FitBody)
@blueprint.response(200, FitAnswer)
def judge(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Judge a part of the catalogue, or what was measured of one in the hand."""
    if asked.get("keep"):
        require_own_page()
    ident = asked.get("change_id")
    return fit(context(), asked["point"], asked.get("part"), asked.get("offers"),
               keep=asked.get("keep", False), change_id=None if ident is None else str(ident))
