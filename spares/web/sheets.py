"""POST sheet/...: a person's own spreadsheet is looked at, brought in, and its rest given back."""

from __future__ import annotations

from typing import Any

from flask import Response, abort, current_app, request

from spares.actions.moving_in import bring_sheet_in, left_out_of_sheet, look_at_sheet
from spares.actions.read_json import read_json
from spares.errors import InvalidInput, NotAllowed, SparesError
from spares.web.api import ApiBlueprint
from spares.web.bringing import telling
from spares.web.schemas import sheets
from spares.web.store import context
from spares.web.who import asker

CSV = "text/csv"
XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
_BINARY = {"type": "string", "format": "binary"}
_A_SHEET = {"required": True, "content": {kind: {"schema": _BINARY} for kind in (CSV, XLSX)}}
_SAYS = ("field", "mark", "order", "currency")

blueprint = ApiBlueprint("sheet", "Moving in from a person's own spreadsheet")


@blueprint.route("/sheet/look", methods=["POST"])
@blueprint.doc(requestBody=_A_SHEET)
@blueprint.arguments(sheets.SheetQuery, location="query")
@blueprint.response(200, sheets.LookedAnswer)
def look(query: dict[str, Any]) -> dict[str, Any]:
    """Say what each column holds and what each row would bring: good, look at, skip."""
    return look_at_sheet(context(), _content(), **_asked(query))


@blueprint.route("/sheet/bring", methods=["POST"])
@blueprint.doc(requestBody=_A_SHEET)
@blueprint.arguments(sheets.SheetQuery, location="query")
@blueprint.response(200, sheets.BroughtAnswer)
def bring(query: dict[str, Any]) -> dict[str, Any]:
    """Bring the good rows in, all in one transaction; undoing the batch takes them back."""
    return bring_sheet_in(context(), _content(), told=telling(query), **_asked(query))


@blueprint.route("/sheet/left-out", methods=["POST"])
@blueprint.doc(requestBody=_A_SHEET)
@blueprint.arguments(sheets.SheetQuery, location="query")
@blueprint.response(200, _BINARY, content_type=CSV)
def left_out(query: dict[str, Any]) -> Response:
    """Give the rows that do not come in as CSV, each with its reason."""
    data = left_out_of_sheet(_content(), **_asked(query))
    response: Response = current_app.response_class(data, mimetype=CSV)
    response.headers["Content-Disposition"] = 'attachment; filename="left-out.csv"'
    return response


def _content() -> bytes:
    if not asker().is_server:
        raise NotAllowed("tables are brought in at the server itself")
    if request.mimetype not in (CSV, XLSX):
        abort(415, f"Send {CSV} or {XLSX}.")
    return request.get_data()


def _asked(query: dict[str, Any]) -> dict[str, Any]:
    text = query.get("columns")
    return {"name": query.get("name", ""), "suggestions": query["suggestions"],
            "columns": None if text is None else _columns(text)}


def _columns(text: str) -> list[dict[str, str | None]]:
    try:
        chosen = read_json(text.encode())
    except SparesError as err:
        raise InvalidInput.at("#/columns", err.detail) from err
    fine = isinstance(chosen, list) and all(
        isinstance(one, dict) and set(one) <= set(_SAYS)
        and all(value is None or isinstance(value, str) for value in one.values())
        for one in chosen)
    if not fine:
        raise InvalidInput.at("#/columns", f"a list of objects with {', '.join(_SAYS)} is needed")
    return chosen
