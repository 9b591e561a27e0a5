"""Run one of the computations on a request that a program wrote."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from spares.errors import InvalidInput
from spares.transfer.compute import computation, request_shape
from spares.transfer.compute.own_requests import own_request

if TYPE_CHECKING:
    from marshmallow import ValidationError

    from spares.domain.fit import KindSheet


def compute(name: str, request: Any,
            sheets: Mapping[str, KindSheet] | None = None) -> dict[str, Any]:
    """Answer *request* (plain JSON) with the computation called *name*.

    Args:
        name: Which one [-].
        request: What is asked [-].
        sheets: Kind sheets for the fit check; the program's own when left out [-].

    Raises:
        NotFound: no such computation.
        InvalidInput: the request has another shape; `errors` says where.
        OutOfRange: a value outside the range in which the computation holds.
    """
    loaded, module = compute_request(name, request), computation(name)
    if name == "history":
        from spares.actions.story import play_story  # late: the whole exchange comes with it
        return play_story(loaded)
    found: dict[str, Any] = (module.answer(loaded, sheets) if name == "fit" else
                             module.answer(loaded))
    return found


def compute_request(name: str, request: Any) -> dict[str, Any]:
    """Read *request* (plain JSON) in the shape of the computation called *name*.

    Raises:
        NotFound: no such computation.
        InvalidInput: the request has another shape; `errors` says where.
    """
    own = own_request(name, request)
    if own is not None:
        return own
    shape = request_shape(name)
    if not isinstance(request, dict):
        raise InvalidInput.at("#", "a JSON object is needed")
    from marshmallow import ValidationError  # late: see `own_requests`

    try:
        loaded: dict[str, Any] = shape().load(request)
    except ValidationError as err:
        raise invalid_shape(err) from err
    return loaded


def invalid_shape(err: ValidationError) -> InvalidInput:
    """Turn marshmallow's nested messages into JSON Pointers (RFC 6901)."""
    errors = sorted(_flatten(err.normalized_messages(), "#"), key=lambda e: e["pointer"])
    first = errors[0]
    where = first["pointer"].removeprefix("#").removeprefix("/") or "the input"
    more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
    return InvalidInput(f"{where}: {first['detail']}{more}", errors=errors)


def _flatten(messages: Any, pointer: str) -> list[dict[str, str]]:
    if isinstance(messages, dict):
        found = []
        for key, value in messages.items():
            step = "" if key == "_schema" else "/" + str(key).replace("~", "~0").replace("/", "~1")
            found += _flatten(value, pointer + step)
        return found
    if isinstance(messages, list):
        return [{"pointer": pointer, "detail": str(m)} for m in messages]
    return [{"pointer": pointer, "detail": str(messages)}]
