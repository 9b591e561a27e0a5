"""GET fit/sheets.json and fit/points.json: what a phone keeps to judge fit with no server."""

from __future__ import annotations

import hashlib
from typing import Any

import orjson
from flask import Response, current_app, request

from spares.actions.fit_book import fit_book
from spares.actions.fit_data import fit_data_bytes
from spares.actions.kind_sheets import kind_sheets, kinds
from spares.web.api import JSON_TYPE, ApiBlueprint
from spares.web.schemas.base import VesselQuery
from spares.web.schemas.plans import FitBook, FitData, Kinds
from spares.web.store import context, store_of

blueprint = ApiBlueprint("fit-data", "What a phone needs to judge fit by itself")


@blueprint.route("/fit/sheets.json")
@blueprint.response(200, FitData, content_type=JSON_TYPE)
def sheets() -> Response:
    """Give kind sheets, a person's own among them, named changes and published tables."""
    return _kept(fit_data_bytes(kind_sheets(store_of(current_app).settings.sheets_folder)))


@blueprint.route("/fit/kinds")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, Kinds)
def all_kinds(query: dict[str, Any]) -> dict[str, Any]:
    """List the kinds of part that there are sheets for, and what is wrong with a person's own."""
    return kinds(context().sheets_folder)


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
