"""POST begin/...: the first hour, from an empty store to lockers and machines."""

from __future__ import annotations

from typing import Any

from flask import current_app

from spares.actions.beginning import begin_lockers, begin_machine, begin_vessel, sets_to_choose
from spares.actions.papers.paper import LANGUAGES
from spares.errors import NotAllowed
from spares.web.api import ApiBlueprint
from spares.web.schemas import beginning
from spares.web.schemas.base import VesselQuery
from spares.web.store import context, store_of
from spares.web.who import asker

blueprint = ApiBlueprint("begin", "The first hour")


@blueprint.route("/starter-sets")
@blueprint.response(200, beginning.StarterSets)
def starters() -> dict[str, Any]:
    """List what machines of each type usually have: fit points and services, to be put right."""
    return sets_to_choose()


@blueprint.route("/begin/vessel", methods=["POST"])
@blueprint.arguments(beginning.VesselAsked)
@blueprint.response(200, beginning.VesselBegun)
def vessel(asked: dict[str, Any]) -> dict[str, Any]:
    """Begin a vessel; at the server itself."""
    if not asker().is_server:
        raise NotAllowed("a vessel is begun at the server itself")
    return begin_vessel(store_of(current_app).get(), asked["mark"], asked["name"])


@blueprint.route("/begin/lockers", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(beginning.LockersAsked)
@blueprint.response(200, beginning.LockersBegun)
def lockers(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Name lockers, each with a number and a code for its label."""
    return begin_lockers(context(), asked["names"], change_id=_ident(asked))


@blueprint.route("/begin/machine", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(beginning.MachineAsked)
@blueprint.response(200, beginning.MachineBegun)
def machine(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Begin a machine with the fit points and services of a starter set."""
    return begin_machine(context(), asked["starter"], name=asked.get("name"),
                         place=asked.get("place"), points=asked.get("points"),
                         language=asked.get("language") or LANGUAGES[0], change_id=_ident(asked))


def _ident(asked: dict[str, Any]) -> str | None:
    ident = asked.get("change_id")
    return None if ident is None else str(ident)
