"""POST /api/compute/<name>: the computations, on plain JSON, with nothing stored."""

from __future__ import annotations

from typing import Any

from flask import current_app, request

from spares.actions.compute import compute
from spares.actions.kind_sheets import sheets_asked
from spares.web.api import JSON_TYPE, ApiBlueprint, json_body
from spares.web.schemas.base import Answer
from spares.web.store import store_of

blueprint = ApiBlueprint("compute", "Computations on plain JSON; nothing is stored")

_BODY = {"required": True, "content": {JSON_TYPE: {
    "schema": {"type": "object"},
    "example": {"kind": "impeller",
                "requires": [{"attr": "outside_diameter", "value": "65 mm", "tol": 0.5}],
                "offers": {"outside_diameter": {"value": 65.2, "unit": "mm", "u": 0.05}}}}}}


@blueprint.route("/compute/<name>", methods=["POST"])
@blueprint.doc(requestBody=_BODY)
@blueprint.response(200, Answer, description="What the computation answers")
def run(name: str) -> dict[str, Any]:
    """Answer one computation.

    The same request and answer as `spares compute NAME FILE`: fit, stock, service, trip,
    kit, charge, cooling, torque, history. Units stand in the names; quantities may be
    written as people write them (`5/16 in`, `1,5 mm`, `M8x1.25`).
    """
    asked = json_body(request)
    folder = store_of(current_app).settings.sheets_folder
    return compute(name, asked, sheets_asked(folder, asked) if name == "fit" else None)
