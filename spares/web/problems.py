"""Errors to RFC 9457 problem details: the only translator.

`stop` carries the protocol's word for a refusal of the whole request, where it has one.
"""

from __future__ import annotations

import logging
from http import HTTPStatus
from typing import Any

from flask import Flask, Response, current_app, request
from marshmallow import ValidationError
from werkzeug import Response as BaseResponse
from werkzeug.exceptions import HTTPException, InternalServerError

from spares import errors
from spares.actions.compute import invalid_shape
from spares.actions.read_json import NotJson
from spares.db.engine import DAMAGED
from spares.web.store import OpenStore

PROBLEM_TYPE = "application/problem+json"

# The nearest class in an error's line of descent decides.
STATUS: dict[type[errors.SparesError], int] = {
    errors.SparesError: 500,
    NotJson: 400,
    errors.InvalidInput: 422,
    errors.OutOfRange: 422,
    errors.Refused: 422,
    errors.NotFound: 404,
    errors.UnknownTable: 404,
    errors.Ambiguous: 409,
    errors.Conflict: 409,
    errors.AskFirst: 409,
    errors.NotAllowed: 403,
    errors.StoreBusy: 503,
    errors.StoreDamaged: 503,
    errors.DiskFull: 507,
}
#: The status of a request that was stopped, by the protocol's word for it.
STATUS_OF_STOP = {
    "malformed": 400, "not_paired": 401, "revoked": 403, "wrong_code": 403, "wrong_boat": 409,
    "fork": 409, "pairing_used": 410, "pairing_over": 410, "pairing_refused": 410,
    "server_old": 426, "app_old": 426, "slow_down": 429}
STOPS = {400: "malformed", 403: "not_allowed", 413: "too_big", 415: "not_json",
         421: "wrong_host", 503: "busy", 507: "disk_full"}
_RETRY_AFTER_S = 2
_log = logging.getLogger("spares")


def register(app: Flask) -> None:
    """Answer every error of *app* with a problem."""
    app.register_error_handler(errors.SparesError, from_error)
    app.register_error_handler(ValidationError, lambda err: from_error(invalid_shape(err)))
    app.register_error_handler(HTTPException, from_http)
    app.register_error_handler(Exception, from_crash)


def status_of(error: errors.SparesError) -> int:
    """Give the HTTP status that answers *error*."""
    if isinstance(error, errors.Stopped):
        return STATUS_OF_STOP.get(error.facts.get("stop", ""), 400)
    return next(STATUS[kind] for kind in type(error).__mro__ if kind in STATUS)


def from_error(error: errors.SparesError) -> Response:
    """Answer an error that was raised on purpose."""
    status = status_of(error)
    if status == 500:
        _log.error("%s: %s", error.code, error.detail)
    body = {**error.problem(), "status": status}
    if isinstance(error, errors.StoreDamaged):
        body["stop"] = "damaged"        # asking again mends nothing
    response = problem(body)
    if status == 429 or isinstance(error, errors.StoreBusy):
        response.headers["Retry-After"] = str(error.facts.get("retry_after_s", _RETRY_AFTER_S))
    if status == 401:
        response.headers["WWW-Authenticate"] = "Bearer"
    return response


def from_http(error: HTTPException) -> BaseResponse:
    """Answer an error of HTTP itself; headers such as Allow are kept."""
    cause = getattr(error, "exc", None)
    if isinstance(cause, ValidationError):
        return from_error(invalid_shape(_body_of(cause)))
    if error.response is not None or error.code is None or error.code < 400:
        return error.get_response()
    response = problem({
        "type": "about:blank", "title": HTTPStatus(error.code).phrase, "status": error.code,
        "detail": error.description or HTTPStatus(error.code).description,
        **getattr(error, "facts", {})})
    for name, value in error.get_headers():
        if name.lower() not in ("content-type", "content-length"):
            response.headers[name] = value
    return response


def from_crash(error: Exception) -> BaseResponse:
    """Answer a fault of the program without a word about its inside.

    Where the store's file proves to be damaged, that was the fault.
    """
    _log.error("%s %s failed", request.method, request.path.encode("unicode_escape").decode(),
               exc_info=error)
    opened: OpenStore | None = current_app.extensions.get("spares_store")
    if opened is not None and opened.is_damaged():
        return from_error(errors.StoreDamaged(DAMAGED))
    return from_http(InternalServerError("The program made a mistake while answering this."))


def problem(body: dict[str, Any]) -> Response:
    """Write one problem, with the protocol's word added where it has one."""
    status = body["status"]
    if status in STOPS:
        body = {"stop": STOPS[status], **body}
    answer = current_app.response_class(current_app.json.dumps(body), status=status)
    answer.headers["Content-Type"] = PROBLEM_TYPE
    return answer


def _body_of(error: ValidationError) -> ValidationError:
    """Take off webargs' outer layer, which names the place (json, query) of the input."""
    messages = error.messages
    if isinstance(messages, dict) and len(messages) == 1:
        place, inner = next(iter(messages.items()))
        if place in ("json", "query", "path", "headers", "files", "form"):
            return ValidationError(inner)
    return error
