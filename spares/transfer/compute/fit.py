"""The fit check, from a request as `fit_shape` loads it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import date
from typing import Any
from unicodedata import decimal

from spares.domain.fit import (
    Claim,
    FitRequest,
    KindSheet,
    Link,
    Origin,
    Place,
    check_fit,
    reading,
    sheet,
)
from spares.domain.fit.prepared import known_attributes
from spares.errors import InvalidInput, json_pointer
from spares.transfer.compute.own_fit import origin as own_origin
from spares.transfer.compute.own_rows import NotPlain

_BESIDE = ("unit", "u", "origin")
_PARTS = {"value", "system", "at_rpm", "at_bar", "seen_from", "min", "max", "major", "pitch",
          "tpi", "taper", "flank_deg", "left"}


def answer(loaded: dict[str, Any],
           sheets: Mapping[str, KindSheet] | None = None) -> dict[str, Any]:
    """Check the fit and give the verdict as plain JSON, by *sheets* or the program's own.

    Raises:
        InvalidInput: a kind, an attribute or a value cannot be read; `errors` says where.
    """
    request = read_request(loaded)
    known_attributes(sheet(request.kind, sheets), request.offers)
    return check_fit(request, sheets).as_dict()


def read_request(loaded: Mapping[str, Any]) -> FitRequest:
    """Turn a request as loaded by the schema into the domain's value.

    Raises:
        InvalidInput: an offer has a field that nobody knows.
    """
    return FitRequest(
        kind=loaded["kind"],
        requires=tuple(requirement(given, f"#/requires/{n}")
                       for n, given in enumerate(loaded.get("requires", ()))),
        offers=tuple(claim for attr, given in loaded.get("offers", {}).items()
                     for claim in offers(attr, given)),
        recorded_as=loaded.get("recorded_as") or "",
        place=Place(**(loaded.get("place") or {})),
        links=tuple(Link(**link) for link in loaded.get("links", ())),
        today=loaded.get("today") or _today(),
        companions={a: tuple(p) for a, p in loaded.get("companions", {}).items()})


def requirement(given: Mapping[str, Any], pointer: str = "") -> Claim:
    """Make a claim of what is asked: `{attr, value, unit, tol, u, cmp, severity, origin}`."""
    return Claim(given["attr"], _plain(given.get("value"), f"{pointer}/value", whole=True),
                 unit=given.get("unit"), cmp=given.get("cmp"), tol=given.get("tol"),
                 u=given.get("u"), severity=given.get("severity"),
                 origin=_origin(given.get("origin")), pointer=pointer)


def offers(attr: str, given: Any) -> list[Claim]:
    """Make the claims of what is offered: a value, an object with its parts, or several objects.

    Raises:
        InvalidInput: an object has a field that nobody knows.
    """
    pointer = json_pointer("offers", attr)
    if isinstance(given, list) and any(isinstance(one, Mapping) for one in given):
        return [_offer(attr, one, f"{pointer}/{n}") for n, one in enumerate(given)]
    return [_offer(attr, given, pointer)]


def _offer(attr: str, given: Any, pointer: str) -> Claim:
    if not isinstance(given, Mapping):
        return Claim(attr, _plain(given, pointer), pointer=pointer)
    strange = sorted(set(given) - _PARTS - set(_BESIDE))
    if strange:
        raise InvalidInput.at(pointer + json_pointer(strange[0])[1:], "Unknown field.")
    origin = given.get("origin")
    if origin is not None:
        _check_origin(origin, pointer)
    parts = {name: value for name, value in given.items() if name not in _BESIDE}
    value = parts.get("value") if set(parts) <= {"value"} else parts
    return Claim(attr, _plain(value, pointer), unit=given.get("unit"), u=given.get("u"),
                 origin=_origin(origin), pointer=pointer)


def _check_origin(given: Any, pointer: str) -> None:
    try:
        own_origin(given)
    except NotPlain:
        from marshmallow import ValidationError  # late: see `own_requests`

        from spares.transfer.compute.fit_shape import OriginShape
        try:
            OriginShape().load(given)
        except ValidationError as err:
            raise InvalidInput.at(f"{pointer}/origin", str(err.messages)) from err


def _plain(value: Any, pointer: str, *, whole: bool = False) -> Any:
    """Let through only what can be a value; a value with parts names parts that exist."""
    if isinstance(value, Mapping):
        strange = sorted(set(value) - _PARTS - {"u"})
        if strange:
            raise InvalidInput.at(pointer + json_pointer(strange[0])[1:], "Unknown field.")
        return {name: _plain(item, f"{pointer}/{name}") for name, item in value.items()}
    if isinstance(value, list):
        if not value or None in value:
            raise InvalidInput.at(pointer, "a list needs values, none of them null")
        if any(map(reading.is_unsaid, value)):
            return None     # with one of them nobody knows what all of them are
        return [_plain(item, f"{pointer}/{n}") for n, item in enumerate(value)]
    return None if reading.is_unsaid(value) else _with_plain_digits(value)


def _with_plain_digits(value: Any) -> Any:
    """Write the digits of every script as 0 to 9, as both programs read them."""
    if not isinstance(value, str) or value.isascii():
        return value
    return "".join(str(decimal(c)) if c.isdecimal() else c for c in value)


def _origin(given: Mapping[str, Any] | None) -> Origin:
    return Origin(**{name: value for name, value in (given or {}).items() if value is not None})


def _today() -> date:
    """Give today's date; `SPARES_TODAY` stands in for it."""
    said = os.environ.get("SPARES_TODAY")
    try:
        return date.fromisoformat(said) if said else date.today()
    except ValueError as err:
        raise InvalidInput(f"SPARES_TODAY is no date: {said!r}") from err
