"""GET and POST bringing: how far a file is that is brought in, and a stop before its end."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from flask import current_app

from spares.errors import GivenUp, NotAllowed
from spares.web.api import ApiBlueprint
from spares.web.schemas import bringing as schemas
from spares.web.who import asker

_TOLD = "spares-bringing"
_MOST_TOLD = 20

blueprint = ApiBlueprint("bringing", "How far a file is that is brought in")


@dataclass(slots=True)
class _Far:
    """So many changes of so many are written; whether somebody asked to stop."""

    done: int = 0
    of: int = 0
    stop: bool = False


def telling(query: dict[str, Any]) -> Callable[[int, int], None]:
    """Give what is told how far the work is that the request names as `progress`.

    Once somebody asked to stop it raises GivenUp, so that the one transaction is left
    with nothing written. When all is written it does not: then it is too late.
    """
    far = _far(query["progress"]) if "progress" in query else _Far()

    def told(done: int, of: int) -> None:
        if far.stop and done < of:
            raise GivenUp("nothing was brought in")
        far.done, far.of = done, of
    return told


@blueprint.route("/bringing")
@blueprint.arguments(schemas.ProgressQuery, location="query")
@blueprint.response(200, schemas.ProgressAnswer)
def progress(query: dict[str, Any]) -> dict[str, int]:
    """Tell how far a bringing-in is."""
    far = _known().get(query["progress"], _Far())
    return {"done": far.done, "of": far.of}


@blueprint.route("/bringing/stop", methods=["POST"])
@blueprint.arguments(schemas.ProgressQuery, location="query")
@blueprint.response(200, schemas.ProgressAnswer)
def stop(query: dict[str, Any]) -> dict[str, int]:
    """Ask a bringing-in to stop; nothing of it is written then, if it was not at its end."""
    if not asker().is_server:
        raise NotAllowed("tables are brought in at the server itself")
    far = _far(query["progress"])
    far.stop = True
    return {"done": far.done, "of": far.of}


def _far(name: str) -> _Far:
    known = _known()
    far = known.setdefault(name, _Far())
    for oldest in list(known)[:-_MOST_TOLD]:
        known.pop(oldest, None)
    return far


def _known() -> dict[str, _Far]:
    found: dict[str, _Far] = current_app.extensions.setdefault(_TOLD, {})
    return found
