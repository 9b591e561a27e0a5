"""Orders: what is wanted, on its way, arrived; and what is to be put away."""

from __future__ import annotations

from typing import Any

from spares.actions.orders import orders, put_away
from spares.web.api import ApiBlueprint
from spares.web.schemas import orders as shapes
from spares.web.schemas.base import VesselQuery
from spares.web.store import context

blueprint = ApiBlueprint("orders", "Orders, from wanted to stowed")


@blueprint.route("/orders")
@blueprint.arguments(shapes.OrdersQuery, location="query")
@blueprint.response(200, shapes.OrdersAnswer)
def all_orders(query: dict[str, Any]) -> dict[str, Any]:
    """List the order lines, open ones by the day they are due."""
    return orders(context(), trip=query.get("trip"), state=query.get("state"))


@blueprint.route("/orders/put-away")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.PutAwayAnswer)
def to_be_stowed(query: dict[str, Any]) -> dict[str, Any]:
    """List what arrived and is not stowed, with the locker where such a part lies."""
    return put_away(context())
