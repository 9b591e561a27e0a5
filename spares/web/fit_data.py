"""GET fit/sheets.json and fit/points.json: what a phone keeps to judge fit with no server."""

from __future__ import annotations

import hashlib
from typing import Any

import orjson
from flask import Response, current_app, request

from spares.actions.fit_book import fit_book
from spares.actions.fit_data import fit_data_bytes
from spares.web.api import JSON_TYPE, ApiBlueprint
from spares.web.schemas.base import VesselQuery
from spares.web.schemas.plans import FitBook, FitData
from spares.web.store import context

blueprint = ApiBlueprint("fit-data", "What a phone needs to judge fit by itself")


@blueprint.route("/fit/sheets.json")
@blueprint.response(200, FitData, content_type=JSON_TYPE)
def sheets() -> Response:
    """Give kind sheets, named changes and published tables; they change with the program only."""
    return _kept(fit_data_bytes())


@blueprint.route("/fit/points.json")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, FitBook, content_type=JSON_TYPE)
def points(query: dict[str, Any]) -> Response:
    """Give the vessel's fit points and parts as the fit computation takes them."""
    return _kept(orjson.dumps(fit_book(context())))


def _kept(data: bytes) -> Response:
    """Answer with an ETag, so that one who has these bytes gets 304 and not all of them again."""
    response: Response = current_app.response_class(data, mimetype=JSON_TYPE)
    response.set_etag(hashlib.sha256(data).hexdigest()[:32])
    response.headers["Cache-Control"] = "no-cache"
    response.make_conditional(request)
    return response
