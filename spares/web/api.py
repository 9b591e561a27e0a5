"""The frame of the API: how blueprints read, answer and describe themselves."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from threading import Lock
from typing import Any

import orjson
from flask import Flask, Request, Response, abort
from flask.json.provider import JSONProvider
from flask_smorest import Api, Blueprint
from flask_smorest.utils import prepare_response
from marshmallow import RAISE
from webargs.flaskparser import FlaskParser
from werkzeug import Response as BaseResponse

import spares
from spares.actions.read_json import read_json
from spares.web import problems
from spares.web.schemas.base import Problem

JSON_TYPE = "application/json"


class OrjsonProvider(JSONProvider):
    """Write answers with orjson, as bytes from end to end."""

    def dumps(self, obj: Any, **kwargs: Any) -> str:
        """Write *obj* as text."""
        return orjson.dumps(obj).decode()

    def loads(self, s: str | bytes, **kwargs: Any) -> Any:
        """Read JSON that our own code wrote; what others send goes through strict_json."""
        return orjson.loads(s)

    def response(self, *args: Any, **kwargs: Any) -> Response:
        """Answer with *args* as JSON."""
        return Response(orjson.dumps(self._prepare_response_obj(args, kwargs)),
                        mimetype=JSON_TYPE)


class StrictParser(FlaskParser):
    """Read requests strictly: JSON only, nothing unknown, nothing that can be read in two ways."""

    DEFAULT_UNKNOWN_BY_LOCATION = dict.fromkeys(FlaskParser.DEFAULT_UNKNOWN_BY_LOCATION, RAISE)

    def _raw_load_json(self, req: Request) -> Any:
        return json_body(req)


def json_body(req: Request) -> Any:
    """Give the JSON value in the body of *req*; 415 if it says to be something else."""
    check_json_type(req)
    return read_json(req.get_data(cache=True))


def check_json_type(req: Request) -> None:
    """Refuse a body that does not say that it is JSON in UTF-8."""
    charset = req.mimetype_params.get("charset", "utf-8").lower()
    if req.mimetype != JSON_TYPE or charset not in ("utf-8", "utf8"):
        abort(415, f"Send {JSON_TYPE}.")


class ApiBlueprint(Blueprint):
    """One group of addresses under /api."""

    ARGUMENTS_PARSER = StrictParser()
    PAGINATION_HEADER_NAME = None

    def __init__(self, name: str, about: str) -> None:
        super().__init__(name, __name__, url_prefix="/api", description=about)

    def register_views_in_doc(self, api: Any, *args: Any, **names: Any) -> None:
        """Leave the description until somebody asks for the document."""
        api.undescribed.append(partial(super().register_views_in_doc, api, *args, **names))


class SparesApi(Api):
    """The OpenAPI document, with problems as the answer to every error.

    To work it out takes longer than all else at a start, and few starts are asked for it.
    """

    ERROR_SCHEMA = Problem

    def __init__(self, app: Flask) -> None:
        self.undescribed: list[Callable[[], None]] = []
        self._lock = Lock()
        super().__init__(app)

    def document(self) -> dict[str, Any]:
        """Give the whole document."""
        with self._lock:
            while self.undescribed:
                self.undescribed.pop(0)()
            described: dict[str, Any] = self.spec.to_dict()
            return described

    def _openapi_json(self) -> BaseResponse:
        return Response(orjson.dumps(self.document()), mimetype=JSON_TYPE)

    def handle_http_exception(self, error: Any) -> BaseResponse:
        """Leave errors to the one translator."""
        return problems.from_http(error)

    def _register_responses(self) -> None:
        answer: dict[str, Any] = {"description": "A problem (RFC 9457)", "schema": Problem}
        prepare_response(answer, self.spec, problems.PROBLEM_TYPE)
        for name in ("UNPROCESSABLE_CONTENT", "UNPROCESSABLE_ENTITY", "DEFAULT_ERROR"):
            self.spec.components.response(name, answer, lazy=True)


def configure(app: Flask) -> SparesApi:
    """Give *app* its JSON and its OpenAPI document."""
    app.json = OrjsonProvider(app)
    app.config.update(
        API_TITLE="Spares", API_VERSION=spares.__version__, OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api", OPENAPI_JSON_PATH="openapi.json",
        API_SPEC_OPTIONS={"info": {"description": (
            "Where the spare is, whether it fits, what the trip needs, what is due. Every "
            "error is a problem (RFC 9457). Quantities are plain numbers of the part's unit, "
            "hours have one decimal, dates are ISO text cut to what is known. A request that "
            "writes carries the header `X-Spares: 1`; a page of another site cannot send it.")}},
    )
    api = SparesApi(app)
    api.spec.components.security_scheme("own_program", {
        "type": "apiKey", "in": "header", "name": "X-Spares",
        "description": "`1`: says that the request is a program's own and not another site's."})
    return api
