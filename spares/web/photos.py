"""PUT and GET photo/<sha256>: bytes come in pieces and go out as nothing but a picture."""

from __future__ import annotations

from typing import Any

from flask import Response, abort, current_app, request
from werkzeug.routing import BaseConverter

from spares.actions.photos import (
    LARGEST_PHOTO,
    missing_photos,
    photo_bytes,
    photo_state,
    photos,
    take_piece,
)
from spares.domain.photo_format import kind_of
from spares.web.api import ApiBlueprint
from spares.web.schemas import photos as shapes
from spares.web.schemas.base import VesselQuery
from spares.web.store import context
from spares.web.who import asker, gate

BYTES = "application/octet-stream"
HEAD_BYTES = 12
_BINARY = {"type": "string", "format": "binary"}
_PIECE = {"required": True, "content": {BYTES: {"schema": _BINARY}}}


class Sha256(BaseConverter):
    """Takes a SHA-256 in lower case, and nothing else that a path could hold."""

    regex = "[0-9a-f]{64}"


blueprint = ApiBlueprint("photos", "Photos: named by the SHA-256 of their bytes")


@blueprint.route("/photos")
@blueprint.arguments(shapes.PhotosQuery, location="query")
@blueprint.response(200, shapes.PhotosAnswer)
def of_thing(query: dict[str, Any]) -> dict[str, Any]:
    """List the photos of a machine, part, locker or fit point."""
    return photos(context(), query["of"])


@blueprint.route("/photos/missing")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.MissingAnswer)
def missing(query: dict[str, Any]) -> dict[str, Any]:
    """List the photos whose bytes are still on the phone that took them."""
    return missing_photos(context())


@blueprint.route("/photo/<sha256:sha256>", methods=["PUT"])
@blueprint.doc(requestBody=_PIECE)
@blueprint.arguments(shapes.PieceQuery, location="query")
@blueprint.response(200, shapes.PieceAnswer)
def put_photo(query: dict[str, Any], sha256: str) -> dict[str, Any]:
    """Take a photo, whole or piece after piece; the same again is safe.

    `have` says where to go on. The last piece is answered when the photo is checked and on
    the disk: its hash, one still picture, JPEG, PNG or WebP, nothing besides the picture.
    """
    ctx, whole = context(), query.get("whole")
    if (whole or 0) > LARGEST_PHOTO or (request.content_length or 0) > LARGEST_PHOTO:
        abort(413, f"A photo may have {LARGEST_PHOTO} bytes.")
    piece = request.get_data(cache=False)
    if query["begins"] == 0 and kind_of(piece[:HEAD_BYTES]) is None:
        abort(415, "Send a photo: JPEG, PNG or WebP.")
    device = asker().device
    if device is not None:
        gate().spend("photo", device.token_hash, len(piece))
    return take_piece(ctx, sha256, query["begins"],
                      query["begins"] + len(piece) if whole is None else whole, piece)


@blueprint.route("/photo/<sha256:sha256>/state")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.PieceAnswer)
def state(query: dict[str, Any], sha256: str) -> dict[str, Any]:
    """Say how much of a photo has come from the one who asks."""
    return photo_state(context(), sha256)


@blueprint.route("/photo/<sha256:sha256>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, _BINARY, content_type="image/*")
def get_photo(query: dict[str, Any], sha256: str) -> Response:
    """Give a photo of this vessel; a browser can make nothing else of it."""
    data, kind = photo_bytes(context(), sha256)
    response: Response = current_app.response_class(data, mimetype=kind)
    response.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response
