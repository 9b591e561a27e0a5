"""The shape of an answer, as an office looks at it before anything is made of it."""

from __future__ import annotations

from typing import Any

from spares.errors import Refused, Stopped
from spares.sync import checks
from spares.sync.checks import (
    GREATEST_WHOLE,
    anything,
    flag,
    list_of,
    matching,
    one_of,
    shape,
    text,
    whole,
)
from spares.sync.request import MOST_CHANGES, MOST_WANTED

#: Epochs that an answer names: one for each time that a log was put back, or met by an office.
MOST_EPOCHS = 100_000


def check_answer(answer: dict[str, Any]) -> None:
    """See that an answer can be taken in.

    Raises:
        Stopped: its `stop` is malformed, or says why there is nothing to take.
    """
    if answer.get("cursor", "") is None:
        raise Stopped("she has let this office go: it hands in, and gets nothing any more",
                      stop="revoked")
    if answer.get("reload"):
        raise Stopped("her program is newer than this one; bring this one up first",
                      stop="app_old")
    try:
        _ANSWER({name: answer[name] for name in _NAMES if name in answer}, "#")
    except Refused as err:
        raise Stopped(f"what she answers cannot be read ({err.detail})", stop="malformed") from err


def _object(value: Any, pointer: str) -> None:
    if type(value) is not dict:
        raise checks.refuse("bad_shape", pointer, "an object is needed")


def _result(value: Any, pointer: str) -> None:
    _object(value, pointer)
    one_of("ok", "dup", "held", "refused")(value.get("result"), f"{pointer}/result")


def _epoch(value: Any, pointer: str) -> None:
    list_of(anything, 2, 2)(value, pointer)
    matching(checks.EPOCH, "an epoch (16 hex digits)")(value[0], f"{pointer}/0")
    if value[1] is not None:
        whole(0, GREATEST_WHOLE)(value[1], f"{pointer}/1")


_row = shape({"seq": whole(1, GREATEST_WHOLE), "envelope": _object})
_ANSWER = shape({
    "cursor": text(200), "changes": list_of(_row, 0, MOST_WANTED),
    "relayed": list_of(_result, 0, MOST_CHANGES), "epochs": list_of(_epoch, 1, MOST_EPOCHS),
    "more": flag, "clock": one_of("good", "doubt")}, {"reset": flag})
_NAMES = ("cursor", "changes", "relayed", "epochs", "more", "clock", "reset")
