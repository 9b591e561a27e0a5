"""The one assertion for every problem, wherever it comes from."""

from __future__ import annotations

import json
from http import HTTPStatus
from typing import Any

from spares.web.problems import STOPS

FORBIDDEN_WORDS = ("made a mistake: ", "Traceback", "File \"", "sqlite3.", "sqlalchemy",
                   ".py\"", "site-packages")


def is_problem(response: Any, status: int, *, field: str | None = None) -> dict[str, Any]:
    """Assert that an HTTP answer is a problem (RFC 9457) with *status*; give its body.

    *field*, where given, is a JSON Pointer fragment that one of `errors` must name.
    """
    assert response.status_code == status, response.get_data(as_text=True)[:400]
    assert response.mimetype == "application/problem+json"
    body = is_problem_object(json.loads(response.get_data()), field=field)
    assert body["status"] == status
    if body["type"] == "about:blank":
        assert body["title"] == HTTPStatus(status).phrase
    if status in STOPS:
        assert body["stop"]
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Cache-Control"] == "no-store"
    return body


def is_problem_object(body: Any, *, field: str | None = None) -> dict[str, Any]:
    """Assert that *body* is a problem object and tells nothing of the program's inside."""
    assert isinstance(body, dict)
    assert body["type"] == "about:blank" or body["type"].startswith("/problems/")
    assert body["title"] and body["detail"]
    text = json.dumps(body)
    assert not [word for word in FORBIDDEN_WORDS if word in text], text
    for error in body.get("errors", []):
        assert error["pointer"].startswith("#") and error["detail"]
    if field is not None:
        assert field in [error["pointer"] for error in body.get("errors", [])], body
    return body
