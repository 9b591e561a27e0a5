"""GET labels and exports, POST import: files that go out and come in."""

from __future__ import annotations

from datetime import date
from typing import Any

import orjson
from flask import Response, abort, current_app, request

from spares.actions.bring_in import bring_in
from spares.actions.export import export_csv, export_ics, export_json
from spares.actions.label_sheet import label_sheet
from spares.actions.labels import labels, labels_there
from spares.actions.photos import export_photos
from spares.errors import NotAllowed
from spares.web.api import JSON_TYPE, ApiBlueprint
from spares.web.bringing import telling
from spares.web.language import language_of
from spares.web.schemas import files
from spares.web.schemas.base import VesselQuery
from spares.web.store import context, store_of
from spares.web.who import asker

PDF, ZIP, CSV, CALENDAR = "application/pdf", "application/zip", "text/csv", "text/calendar"
_KINDS_IN = {JSON_TYPE: ".json", ZIP: ".zip", CSV: ".csv"}
_ANY_FILE = {"required": True, "content": {kind: {"schema": {"type": "string", "format": "binary"}}
                                           for kind in _KINDS_IN}}
_SHEET = ("sheet", "size", "rows", "columns", "margin_left_mm", "margin_top_mm", "gap_x_mm",
          "gap_y_mm", "start", "outline")
_BINARY = {"type": "string", "format": "binary"}

blueprint = ApiBlueprint("files", "Files that go out and come in")


@blueprint.route("/labels")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, files.LabelsThere)
def labels_to_print(query: dict[str, Any]) -> dict[str, Any]:
    """Tell how many labels of each kind there are to print, and what they cannot show."""
    return labels_there(context())


@blueprint.route("/labels/<kind>.pdf")
@blueprint.arguments(files.LabelsQuery, location="query")
@blueprint.response(200, _BINARY, content_type=PDF)
def label_pdf(query: dict[str, Any], kind: str) -> Response:
    """Print labels for lockers, machines or bags; their outer size is exact."""
    sheet = label_sheet(**{name: query[name] for name in _SHEET if name in query})
    only = [one.strip() for one in query.get("only_these", "").split(",") if one.strip()]
    address = request.host_url if query["address"] else None
    data = labels(context(), kind, size=query["size"], only=only, sheet=sheet, dpi=query["dpi"],
                  address=address, language=language_of(query))
    return _file(data, PDF, f"labels-{kind}.pdf", inline=True)


@blueprint.route("/export/json")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, {"type": "object"}, content_type=JSON_TYPE)
def as_json(query: dict[str, Any]) -> Response:
    """Give the whole vessel as JSON; it can be brought in again."""
    return _file(orjson.dumps(export_json(context())), JSON_TYPE, "vessel.json")


@blueprint.route("/export/csv")
@blueprint.arguments(files.ExportQuery, location="query")
@blueprint.response(200, _BINARY, content_type=ZIP)
def as_csv(query: dict[str, Any]) -> Response:
    """Give all tables in the import format, in one archive."""
    return _file(export_csv(context(), semicolons=query["semicolons"]), ZIP, "vessel.zip")


@blueprint.route("/export/photos")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, _BINARY, content_type=ZIP)
def as_photos(query: dict[str, Any]) -> Response:
    """Give the photos in one archive, each named by what it shows and its number."""
    return _file(export_photos(context()), ZIP, "photos.zip")


@blueprint.route("/export/ics")
@blueprint.arguments(files.ExportQuery, location="query")
@blueprint.response(200, {"type": "string"}, content_type=CALENDAR)
def as_calendar(query: dict[str, Any]) -> Response:
    """Give the dated services as a calendar."""
    text = export_ics(context(), as_events=query["as_events"])
    return _file(text.encode(), CALENDAR, "services.ics")


@blueprint.route("/import", methods=["POST"])
@blueprint.doc(requestBody=_ANY_FILE)
@blueprint.arguments(files.ImportQuery, location="query")
@blueprint.response(200, files.ImportAnswer)
def bring_file_in(query: dict[str, Any]) -> dict[str, Any]:
    """Bring a vessel's tables in (zip of CSV, one CSV, or JSON): all or nothing.

    Brought in twice, a file changes nothing the second time. A fault is named by file, row
    and column. `look=true` only says what would happen.
    """
    if not asker().is_server:
        raise NotAllowed("tables are brought in at the server itself")
    suffix = _KINDS_IN.get(request.mimetype)
    if suffix is None:
        abort(415, f"Send one of {', '.join(_KINDS_IN)}.")
    name = query.get("name") or (f"file{suffix}" if suffix != ".csv" else "")
    zero = query.get("day_zero")
    return bring_in(store_of(current_app).get(), request.get_data(), name=name,
                    vessel=query.get("vessel"), look=query["look"],
                    day_zero=date.fromisoformat(zero) if zero else None, told=telling(query))


def _file(data: bytes, kind: str, name: str, *, inline: bool = False) -> Response:
    response: Response = current_app.response_class(data, mimetype=kind)
    way = "inline" if inline else "attachment"
    response.headers["Content-Disposition"] = f'{way}; filename="{name}"'
    return response
