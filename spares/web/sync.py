"""POST sync: a device is brought together with the log."""

from __future__ import annotations

import secrets
from typing import Any

from flask import Response, abort, current_app, request

from spares.actions import sync as action
from spares.actions.context import clock_ms
from spares.errors import Stopped
from spares.web.api import JSON_TYPE, ApiBlueprint, check_json_type
from spares.web.problems import problem
from spares.web.schemas.base import VesselQuery
from spares.web.schemas.sync import HandoverAnswer, HandoverBody, SyncAnswer, SyncBody
from spares.web.store import context, store_of
from spares.web.who import asker, gate, set_token, shown_token

MAX_SYNC_BYTES = 1024 * 1024
BOOT = secrets.token_hex(8)     # of this run of the program; never stored

blueprint = ApiBlueprint("sync", "A device and the log are brought together")


@blueprint.route("/sync", methods=["POST"])
@blueprint.doc(requestBody={"required": True, "content": {JSON_TYPE: {"schema": SyncBody}}})
@blueprint.response(200, SyncAnswer)
def sync() -> Any:
    """Take what a device made, and give it what it lacks; see sync/PROTOCOL.md.

    A change is refused, held or taken each for itself, inside a 200. A `stop` in a problem
    says that nothing was taken. Sending the same again is always safe.
    """
    device = asker().device
    if device is None:
        raise Stopped("this device is not paired", stop="not_paired")
    gate().spend("sync", device.token_hash)
    check_json_type(request)
    raw = request.get_data(cache=False)
    if len(raw) > MAX_SYNC_BYTES:
        abort(413, f"A request may have {MAX_SYNC_BYTES} bytes; send fewer changes at once.")
    store = store_of(current_app).get()
    answer = action.sync(store, device.vessel, device.dev, raw, wall_ms=clock_ms(),
                         boot=store.boot(BOOT))
    if answer.get("stop") == "fork":
        return problem({"type": "/problems/stopped", "title": Stopped.title, "status": 409,
                        "detail": answer["say"], **answer})
    response = current_app.response_class(current_app.json.dumps(answer), mimetype=JSON_TYPE)
    _renew(response, device.role)
    return response


@blueprint.route("/handover", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(HandoverBody)
@blueprint.response(200, HandoverAnswer)
def hand_over(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Take the unsent changes of another phone, brought as a file.

    They wait for the skipper, unless the skipper brings them. What is known counts once.
    """
    ctx, device = context(), asker().device
    if device is not None:
        gate().spend("sync", device.token_hash)
    if len(request.get_data(cache=True)) > MAX_SYNC_BYTES:
        abort(413, f"A file may have {MAX_SYNC_BYTES} bytes.")
    if str(asked["vessel"]) != ctx.vessel:
        raise Stopped("these are the records of another vessel", stop="wrong_boat")
    return action.hand_over(ctx, asked["dev"], asked["now"], asked["ops"])


def _renew(response: Response, role: str) -> None:
    """Let the cookie live on from this sync; a guest's ends when it ends."""
    token = shown_token()
    if token and "Authorization" not in request.headers and role != "guest":
        set_token(response, token, action.PAIRED_FOR_MS // 1000)
