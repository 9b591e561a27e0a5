"""POST do/<verb>: everything that a hand did; and documents, which set what is known."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from spares.actions.documents import write_document
from spares.web.api import ApiBlueprint
from spares.web.schemas.base import VesselQuery
from spares.web.schemas.records import DocumentAnswer, DocumentBody, DoneAnswer
from spares.web.store import context
from spares.web.verbs import VERBS, Verb, act

blueprint = ApiBlueprint("do", "What a hand did. A request with a change_id may be sent again")


def _add(name: str, verb: Verb) -> None:
    """Add the address of one verb; the first line of its shape tells what it is."""
    said = (verb.shape.__doc__ or "").partition(": ")[2]

    def do(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
        return act(context(), verb, asked)

    do.__name__, do.__doc__ = f"do_{name}", said[:1].upper() + said[1:]
    view: Callable[..., Any] = blueprint.response(200, DoneAnswer)(do)
    view = blueprint.arguments(verb.shape)(view)
    view = blueprint.arguments(VesselQuery, location="query")(view)
    blueprint.route(f"/do/{name}", methods=["POST"])(view)


for _name, _verb in VERBS.items():
    _add(_name, _verb)


@blueprint.route("/documents", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(DocumentBody)
@blueprint.response(200, DocumentAnswer)
def document(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Begin a thing, or set fields of one that is there.

    A new thing without a number gets the next free one, a locker or machine a code.
    `{"fields": {"gone": true}}` takes a thing off the books; its history stays.
    """
    ident = asked.get("change_id")
    return write_document(context(), asked["kind"], asked["to_set"], doc=asked.get("doc"),
                          change_id=None if ident is None else str(ident))
