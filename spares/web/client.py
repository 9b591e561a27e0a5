"""The phone client's files, served at the root.

No file's name carries a version, so each one is asked for again at every load and answered
from its ETag; the worker keeps its own complete set for use without a server.
"""

from __future__ import annotations

import mimetypes

from flask import Blueprint, Flask, Response, current_app, send_from_directory
from werkzeug.routing import PathConverter

from spares.config import static_folder

# Said here, because the tables of some systems lack them or say otherwise.
TYPES = {
    ".js": "text/javascript", ".mjs": "text/javascript", ".css": "text/css",
    ".html": "text/html", ".json": "application/json", ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json", ".wasm": "application/wasm",
    ".woff2": "font/woff2", ".png": "image/png", ".txt": "text/plain",
}

blueprint = Blueprint("client", __name__)


class ClientPath(PathConverter):
    """Any path but those of the API and its pages, so that these keep their own 404 and 405."""

    regex = r"(?!api(?:/|$)|problems(?:/|$))[^/].*?"


def register(app: Flask) -> None:
    """Serve the client from *app*."""
    app.url_map.converters["client_path"] = ClientPath
    app.register_blueprint(blueprint)


@blueprint.get("/")
def index() -> Response:
    """Give the page that starts the client."""
    return client_file("index.html")


@blueprint.get("/<client_path:name>")
def client_file(name: str) -> Response:
    """Give one file of the client."""
    suffix = "." + name.rpartition(".")[2].lower()
    kind = TYPES.get(suffix) or mimetypes.guess_type(name)[0] or "application/octet-stream"
    folder = current_app.config.get("CLIENT_FOLDER") or static_folder()
    response = send_from_directory(folder, name, mimetype=kind, max_age=0)
    response.headers["Cache-Control"] = "no-cache"
    # Read whole: the thread is free again before the last byte has been fetched.
    response.direct_passthrough = False
    response.set_data(response.get_data())
    return response
