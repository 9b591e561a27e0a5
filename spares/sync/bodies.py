"""The body of each kind of change, and the check that it has that shape.

References are `kind/uuid`; a lot may be "" for the plain lot. Quantities are
whole thousandths of the part's unit. Every body may also carry `batch` (the
changes of one import) and `note`. A movement that is typed in later bears its day as
`date`; its stamp stays that of the typing.
"""

from __future__ import annotations

from typing import Any

from spares.sync import checks
from spares.sync.checks import (
    Check,
    is_date,
    list_of,
    matching,
    one_of,
    plain_json,
    positions,
    ref,
    refuse,
    shape,
    text,
    whole,
)

#: Greatest quantity in one change [thousandths of the part's unit].
GREATEST_QUANTITY = 10**9
MOST_LINES = 500
#: Largest photo [bytes].
LARGEST_PHOTO = 5 * 1024 * 1024

VERDICTS = ("fits", "fits-with-changes", "does-not-fit", "not-known-yet")
#: Why a part came out.
WHY_OUT = ("failed", "worn", "planned", "other")

_PART = ref("part")
_LOCKER = ref("locker")
_LOT = ref("lot", or_word="")
_ANY = ref()
_MACHINE = ref("machine")
_CHANGE_ID = matching(checks.UUID, "a change's id (a UUID in lower case)")
_MOVED = whole(1, GREATEST_QUANTITY)
_COUNT = whole(0, GREATEST_QUANTITY)
_SHOWN = whole(-checks.GREATEST_WHOLE, checks.GREATEST_WHOLE)
_MINUTES = whole(0, GREATEST_QUANTITY)
_NOTE = text(2000)
_WORD = text(64)

_EVERYWHERE: dict[str, Check] = {"batch": _WORD, "note": _NOTE}
_CELL: dict[str, Check] = {"part": _PART, "locker": _LOCKER, "lot": _LOT}
_LINE = shape({**_CELL, "q": _MOVED})


def _body(required: dict[str, Check], **optional: Check) -> Check:
    return shape(required, {**optional, **_EVERYWHERE})


def _moved(body: Any, pointer: str) -> None:
    _MOVED_SHAPE(body, pointer)
    if (body["from"], body["lot"]) == (body["to"], body.get("to_lot", body["lot"])):
        raise refuse("bad_value", f"{pointer}/to", "it is moved to where it already is")


def _same(body: Any, pointer: str) -> None:
    _SAME_SHAPE(body, pointer)
    if body["keep"] == body["drop"]:
        raise refuse("bad_value", f"{pointer}/drop", "a part cannot be merged with itself")


def _reading(body: Any, pointer: str) -> None:
    _READING_SHAPE(body, pointer)
    if ("minutes" in body) == ("value" in body):
        raise refuse("bad_shape", pointer, "needs either minutes or value")
    if "unit" in body and "value" not in body:
        raise refuse("bad_shape", f"{pointer}/unit", "only stands beside value")


def _exchange(body: Any, pointer: str) -> None:
    _EXCHANGE_SHAPE(body, pointer)
    if "from" in body and not body["part"]:
        raise refuse("bad_value", f"{pointer}/part", "a locker is named but not what came out")
    if body.get("old_to", "landed") != "landed" and not body.get("old_part"):
        raise refuse("bad_shape", f"{pointer}/old_part",
                     "a locker is named for the old part but not which part it is")


def _set(body: Any, pointer: str) -> None:
    _SET_SHAPE(body, pointer)
    if not body["f"]:
        raise refuse("bad_value", f"{pointer}/f", "no field is set")
    for name in body["base"]:
        if name not in body["f"]:
            raise refuse("bad_shape", f"{pointer}/base", f"{name!a} is not a field of this change")


def _fields(value: Check) -> Check:
    def check(fields: Any, pointer: str) -> None:
        if type(fields) is not dict:
            raise refuse("bad_shape", pointer, "an object is needed")
        if len(fields) > 200:
            raise refuse("bad_value", pointer, "more than 200 fields")
        for name, entry in fields.items():
            if not checks.FIELD_NAME.fullmatch(name) or name in checks.UNSAFE_NAMES:
                raise refuse("bad_shape", pointer, f"{name[:40]!a} cannot be a field's name")
            value(entry, checks.under(pointer, name))
    return check


_MOVEMENT = _body({**_CELL, "q": _MOVED}, machine=_MACHINE, to=_ANY, date=is_date)
_MOVED_SHAPE = _body({"part": _PART, "from": _LOCKER, "to": _LOCKER, "lot": _LOT, "q": _MOVED},
                     to_lot=_LOT, date=is_date, back_by=is_date)
_SAME_SHAPE = _body({"keep": _PART, "drop": _PART})
_READING_SHAPE = _body(
    {"machine": _MACHINE, "date": is_date}, minutes=_MINUTES,
    value=matching(checks.DECIMAL, "a decimal number as text", "bad_value"),
    unit=_WORD, because=_NOTE, doubt=_NOTE)
_EXCHANGE_SHAPE = _body(
    {"point": _ANY, "part": ref("part", or_word="")},
    **{"from": _LOCKER}, date=is_date, lot=_LOT, old_part=_PART,
    old_to=ref("locker", or_word="landed"),
    old_lot=_LOT, q=_MOVED, why=one_of(*WHY_OUT))
_SET_SHAPE = _body({
    "doc": _ANY, "f": _fields(plain_json(deepest=4, longest_text=4000)),
    "base": _fields(list_of(_CHANGE_ID, 0, MOST_LINES))})
_LINES = list_of(_LINE, 1, MOST_LINES)

_CHECKS: dict[str, Check] = {
    "took": _MOVEMENT,
    "put": _MOVEMENT,
    "landed": _MOVEMENT,
    "moved": _moved,
    "counted": _body({**_CELL, "q": _COUNT}, shown=_SHOWN),
    "convert": _body({"out": _LINES, "in": _LINES}),
    "service": _body({"lines": list_of(_LINE, 0, MOST_LINES)}, service=_ANY, machine=_MACHINE,
                     date=is_date, minutes=_MINUTES, proof=_WORD, by=text(200),
                     failed=list_of(_PART, 1, MOST_LINES)),
    "void": _body({"of": _CHANGE_ID}),
    "settle": _body({"of": _CHANGE_ID, "count": _CHANGE_ID, "side": one_of("before", "after")}),
    "same": _same,
    "set": _set,
    "fit-check": _body(
        {"part": _PART, "inputs": plain_json(deepest=8, longest_text=4000),
         "verdict": one_of(*VERDICTS)}, point=_ANY, machine=_MACHINE),
    "photo": _body(
        {"doc": _ANY, "sha256": matching(checks.SHA256, "64 hex digits in lower case"),
         "bytes": whole(1, LARGEST_PHOTO),
         "mime": one_of("image/jpeg", "image/png", "image/webp")}),
    "reading": _reading,
    "exchange": _exchange,
    "restamp": shape({"of": _CHANGE_ID, "at": matching(checks.STAMP, "a stamp")},
                     {"g": whole(0, 1), "pos": positions}),
}

KINDS = tuple(_CHECKS)
#: Version of each kind's body that this program writes; older ones stay readable for ever.
BODY_VERSION = 1


def check_body(kind: str, body: Any) -> None:
    """Check that *body* is what a change of this *kind* carries.

    Raises:
        Refused: with `reason` (bad_shape, bad_value, too_long) and `pointer`.
    """
    if kind not in _CHECKS:
        raise refuse("bad_shape", "#/kind", "this kind of change is not known")
    _CHECKS[kind](body, "#/body")
