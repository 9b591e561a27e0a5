"""Pages for programmers, readable without the internet: the API, and each kind of problem."""

from __future__ import annotations

from inspect import getdoc
from pathlib import Path
from typing import Any

from flask import (
    Blueprint,
    Flask,
    Response,
    abort,
    current_app,
    render_template,
    send_from_directory,
)

from spares.errors import SparesError
from spares.web.api import SparesApi
from spares.web.problems import status_of

PAGES = Path(__file__).resolve().parent / "pages"
METHODS = ("get", "post", "patch", "put", "delete")

blueprint = Blueprint("docs", __name__)


def register(app: Flask, frame: SparesApi) -> None:
    """Add the pages to *app*; *frame* holds the OpenAPI document."""
    app.extensions["spares_api"] = frame
    app.register_blueprint(blueprint)


@blueprint.get("/api/docs")
def api_page() -> str:
    """Give the OpenAPI document as a page."""
    document = current_app.extensions["spares_api"].document()
    return render_template("api.html", document=document, groups=_groups(document),
                           shapes=document["components"].get("schemas", {}), brief=brief)


@blueprint.get("/api/docs.css")
def style() -> Response:
    """Give the style of these pages."""
    return send_from_directory(PAGES, "pages.css", mimetype="text/css")


@blueprint.get("/problems/<code>")
def problem_page(code: str) -> str:
    """Say what a kind of problem means."""
    kind = problem_kinds().get(code)
    if kind is None:
        abort(404, "There is no such kind of problem.")
    return render_template("problem.html", code=code, title=kind.title, about=getdoc(kind),
                           status=status_of(kind("")))


def problem_kinds() -> dict[str, type[SparesError]]:
    """Give every kind of problem by its code."""
    found, waiting = {SparesError.code: SparesError}, [SparesError]
    while waiting:
        for kind in waiting.pop().__subclasses__():
            found.setdefault(kind.code, kind)
            waiting.append(kind)
    return found


def brief(schema: dict[str, Any]) -> str:
    """Write a JSON Schema in few words, such as `list of PartLine` or `text or null`."""
    if "$ref" in schema:
        return schema["$ref"].rpartition("/")[2]
    for word in ("anyOf", "oneOf", "allOf"):
        if word in schema:
            return " or ".join(brief(inner) for inner in schema[word])
    if "enum" in schema:
        return " | ".join(str(choice) for choice in schema["enum"])
    kind = schema.get("type", "anything")
    if kind == "array":
        return "list of " + brief(schema.get("items", {}))
    names = kind if isinstance(kind, list) else [kind]
    return " or ".join("text" if name == "string" else name for name in names)


def _groups(document: dict[str, Any]) -> list[dict[str, Any]]:
    """Sort the operations by group, in the order of the document."""
    groups = {tag["name"]: {"about": tag.get("description", ""), "operations": []}
              for tag in document.get("tags", [])}
    for path, operations in document["paths"].items():
        common = operations.get("parameters", [])
        for method in METHODS:
            if method in operations:
                operation = operations[method]
                parameters = common + operation.get("parameters", [])
                group = groups[operation["tags"][0]]
                group["operations"].append({**operation, "path": path, "method": method.upper(),
                                            "parameters": parameters})
    return [{"name": name, **group} for name, group in groups.items() if group["operations"]]
