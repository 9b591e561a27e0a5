"""The call `stock`: envelopes in, what is on hand out.

Ids, parts and lockers may be any text here. Fields of an envelope that do not
bear on the count (`v`, `t`, `after`, `mac`) may stand in it and are passed over.
"""

from __future__ import annotations

from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate, validates_schema

from spares.domain.stock import Cell, CellKey, Entry, fold
from spares.transfer.compute.numbers import ByName, Exact

_STAMP = validate.Regexp(r"[0-9a-f]{12}\.[0-9a-f]{4}\.\S{1,64}\Z",
                         error="Must be 12 hex digits of milliseconds.4 of a counter.device.")
_QUANTITY = validate.Range(min=1, max=10**9)
_COUNT = validate.Range(min=0, max=10**9)
_NAME = validate.Length(min=1, max=200)


class _Strict(Schema):
    class Meta:
        unknown = RAISE


class _Whole(fields.Integer):
    """A whole number written as one: 1.0, "1" and true are none."""

    def _validated(self, value: Any) -> int:
        if type(value) is not int:
            raise self.make_error("invalid", input=value)
        return value


def _name() -> fields.String:
    return fields.String(required=True, validate=_NAME)


def _quantity(allowed: validate.Range = _QUANTITY) -> _Whole:
    return _Whole(required=True, validate=allowed)


class _Line(_Strict):
    part = _name()
    locker = _name()
    lot = fields.String(load_default="")
    q = _quantity()


class _Body(_Strict):
    batch = fields.String()
    note = fields.String()


class _Movement(_Body, _Line):
    machine = fields.String()
    to = fields.String()
    date = fields.String()


class _Counted(_Body, _Line):
    q = _quantity(_COUNT)
    shown = _Whole()


class _Elsewhere(_Body):
    @validates_schema
    def _goes_somewhere(self, body: dict[str, Any], **_: Any) -> None:
        if (body["from"], body["lot"]) == (body["to"], body.get("to_lot", body["lot"])):
            raise ValidationError("is where the pieces lie already", "to")


_Moved = _Elsewhere.from_dict({
    "part": _name(), "from": _name(), "to": _name(), "lot": fields.String(load_default=""),
    "to_lot": fields.String(), "q": _quantity(), "date": fields.String(),
    "back_by": fields.String()}, name="Moved")
_Convert = _Body.from_dict({
    "out": fields.List(fields.Nested(_Line), required=True, validate=validate.Length(min=1)),
    "in": fields.List(fields.Nested(_Line), required=True, validate=validate.Length(min=1))},
    name="Convert")
_Exchange = _Body.from_dict({
    "point": fields.String(), "part": fields.String(required=True), "from": fields.String(),
    "lot": fields.String(load_default=""), "old_part": fields.String(),
    "old_to": fields.String(load_default="landed"), "old_lot": fields.String(load_default=""),
    "q": _Whole(validate=_QUANTITY), "date": fields.String(), "why": fields.String()},
    name="Exchange")


class _Service(_Body):
    service = fields.String()
    machine = fields.String()
    date = fields.String()
    minutes = _Whole()
    hours = Exact()
    proof = fields.String()
    by = fields.String()
    failed = fields.List(fields.String())
    lines = fields.List(fields.Nested(_Line), required=True)


class _Void(_Body):
    of = _name()


class _Settle(_Void):
    count = _name()
    side = fields.String(required=True, validate=validate.OneOf(["before", "after"]))


class _Same(_Body):
    keep = _name()
    drop = _name()


class _Restamp(_Void):
    at = fields.String(required=True, validate=_STAMP)
    g = _Whole(validate=validate.OneOf([0, 1]))
    pos = ByName(_Whole())


_BODIES: dict[str, type[Schema]] = {
    "took": _Movement, "put": _Movement, "landed": _Movement, "moved": _Moved,
    "counted": _Counted, "convert": _Convert, "service": _Service, "exchange": _Exchange,
    "void": _Void, "settle": _Settle, "same": _Same, "restamp": _Restamp}
_OTHER_KINDS = ("set", "fit-check", "photo", "reading")


class _Seen(_Strict):
    epoch = _name()
    seq = _Whole(required=True, validate=validate.Range(min=0))


class _Envelope(_Strict):
    id = _name()
    dev = _name()
    n = _Whole(required=True, validate=validate.Range(min=1))
    kind = fields.String(required=True, validate=validate.OneOf([*_BODIES, *_OTHER_KINDS]))
    at = fields.String(required=True, validate=_STAMP)
    seen = fields.Nested(_Seen, load_default=None, allow_none=True)
    g = _Whole(load_default=0, validate=validate.OneOf([0, 1]))
    pos = ByName(_Whole(), load_default=dict)
    body = fields.Dict(fields.String(), fields.Raw(allow_none=True), required=True)
    v = _Whole()
    t = _Whole()
    after = fields.String()
    mac = fields.String()

    @validates_schema
    def _body_is_of_its_kind(self, envelope: dict[str, Any], **_: Any) -> None:
        schema = _BODIES.get(envelope["kind"])
        errors = schema().validate(envelope["body"]) if schema else {}
        if errors:
            raise ValidationError({"body": errors})


class Request(_Strict):
    """Envelopes in any order; copies of one make no difference."""

    changes = fields.List(fields.Nested(_Envelope), required=True)

    @validates_schema
    def _an_id_means_one_change(self, request: dict[str, Any], **_: Any) -> None:
        """Two envelopes of one id may differ in stamp and place, never in what they say."""
        known: dict[str, dict[str, Any]] = {}
        for place, one in enumerate(request.get("changes", [])):
            first = known.setdefault(one["id"], one)
            if any(first[name] != one[name] for name in ("dev", "n", "kind", "body")):
                raise ValidationError({"changes": {place: {"id": [
                    "Another change of this id says something else."]}}})
        numbered: dict[tuple[str, int], str] = {}
        for place, one in enumerate(request.get("changes", [])):
            if numbered.setdefault((one["dev"], one["n"]), one["id"]) != one["id"]:
                raise ValidationError({"changes": {place: {"n": [
                    "Another change of this device bears this number."]}}})


def answer(request: dict[str, Any]) -> dict[str, Any]:
    """Give what is on hand [thousandths of each part's unit], sorted by part, locker, lot."""
    cells = fold(_entry(envelope) for envelope in request["changes"])
    return {"on_hand": [_row(key, cells[key]) for key in sorted(cells)]}


def _entry(envelope: dict[str, Any]) -> Entry:
    return Entry(**{name: envelope[name] for name in (
        "id", "dev", "n", "kind", "at", "g", "seen", "pos", "body")})


def _row(key: CellKey, cell: Cell) -> dict[str, Any]:
    part, locker, lot = key
    return {"part": part, "locker": locker, "lot": lot, "quantity": cell.quantity,
            "low": cell.low, "high": cell.high, "doubts": list(cell.doubts),
            "rivals": list(cell.rivals), "flags": list(cell.flags)}
