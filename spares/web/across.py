"""GET vessels/...: lists across the vessels on which the one who asks has rights."""

from __future__ import annotations

from typing import Any

from spares.actions import across
from spares.web.api import ApiBlueprint
from spares.web.schemas import across as shapes
from spares.web.schemas.base import VesselQuery
from spares.web.store import context

blueprint = ApiBlueprint("across", "Several vessels at once")


@blueprint.route("/vessels/part")
@blueprint.arguments(shapes.WhoHasQuery, location="query")
@blueprint.response(200, shapes.WhoHasAnswer)
def who_has(query: dict[str, Any]) -> dict[str, Any]:
    """Say which vessels have a part, by the maker's number, and how many each can spare."""
    return across.who_has(context(), query["part"])


@blueprint.route("/vessels/out-of-date")
@blueprint.arguments(shapes.OutOfDateQuery, location="query")
@blueprint.response(200, shapes.OutOfDateAnswer)
def out_of_date(query: dict[str, Any]) -> dict[str, Any]:
    """List what every vessel carries that is out of date on a day."""
    return across.out_of_date(context(), query.get("until"))


@blueprint.route("/vessels/wanted")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.WantedAnswer)
def wanted(query: dict[str, Any]) -> dict[str, Any]:
    """Put together by seller what all vessels want and have not ordered yet."""
    return across.wanted(context())
