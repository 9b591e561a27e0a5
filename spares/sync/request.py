"""The request of a device that wants to be brought together with the log."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

from spares.errors import Refused, Stopped
from spares.sync import checks
from spares.sync.checks import (
    GREATEST_WHOLE,
    Check,
    anything,
    clock,
    flag,
    list_of,
    matching,
    shape,
    text,
    whole,
)

#: Version of this exchange. A device with a greater one waits until the server is brought up.
PROTO = 1
#: Version of the kinds and their bodies; a device with a smaller one may hand in, not pull.
SCHEMA = 1
MOST_CHANGES = 500
MOST_WANTED = 1000
#: Epochs that an office names in one request.
MOST_EPOCHS = 1000


@dataclass(frozen=True)
class SyncRequest:
    """A request whose outside is sound; the changes in it are checked one by one.

    `now`, `off_prev` [ms]: the device's clock at sending, and how far it was
    ahead of the server's at the last completed sync. `last`: greatest number it
    made [1]. `gone`: ranges of its numbers that it no longer has. `dev`: the
    device number that all of these are of, "" if it does not say. `epochs`: of an
    office, up to which row the log in common stood in each epoch of its own.
    """

    proto: int
    schema: int
    vessel: str
    inst: str
    cursor: str | None
    now: int
    off_prev: int | None
    boot_prev: str | None
    stepped: bool
    last: int
    ops: list[Any]
    relay: list[Any]
    gone: list[list[int]]
    want: int
    dev: str
    epochs: list[list[Any]]


def parse_request(obj: Any) -> SyncRequest:
    """Take the outside of a request, or stop it as malformed.

    Clocks beyond reason are cut, as nothing is ever refused for a wrong clock.

    Raises:
        Stopped: `stop` is malformed or server_old, `pointer` says where.
    """
    if type(obj) is dict and type(obj.get("proto")) is int and obj["proto"] > PROTO:
        raise Stopped("the device's app is newer than this server; the server must be updated",
                      stop="server_old")
    try:
        _REQUEST(obj, "#/")
    except Refused as err:
        raise Stopped(err.detail, stop="malformed", pointer=err.facts["pointer"]) from err
    if obj["schema"] > SCHEMA:
        raise Stopped("the device's app is newer than this server; the server must be updated",
                      stop="server_old")
    given = {"gone": [], "relay": [], "ops": [], "want": MOST_WANTED, "dev": "",
             "epochs": [], **obj}
    given["now"] = _cut(given["now"])
    given["off_prev"] = None if given["off_prev"] is None else _cut(given["off_prev"])
    return SyncRequest(**{f.name: given[f.name] for f in fields(SyncRequest)})


def _cut(clock_ms: int) -> int:
    return min(max(clock_ms, -GREATEST_WHOLE), GREATEST_WHOLE)


def _or_null(check: Check) -> Check:
    def checked(value: Any, pointer: str) -> None:
        if value is not None:
            check(value, pointer)
    return checked


def _range(value: Any, pointer: str) -> None:
    list_of(whole(1, GREATEST_WHOLE), 2, 2)(value, pointer)
    if value[0] > value[1]:
        raise checks.refuse("bad_value", pointer, "a range runs from its smaller number")


def _epoch_end(value: Any, pointer: str) -> None:
    list_of(anything, 2, 2)(value, pointer)
    matching(checks.EPOCH, "an epoch (16 hex digits)")(value[0], f"{pointer}/0")
    whole(1, GREATEST_WHOLE)(value[1], f"{pointer}/1")


_REQUEST = shape({
    "proto": whole(1, PROTO), "schema": whole(1, GREATEST_WHOLE),
    "vessel": matching(checks.UUID, "the vessel's id"), "inst": text(64, 1),
    "cursor": _or_null(text(200)), "now": clock, "off_prev": _or_null(clock),
    "boot_prev": _or_null(text(64)), "stepped": flag, "last": whole(0, GREATEST_WHOLE)}, {
    "ops": list_of(anything, 0, MOST_CHANGES), "relay": list_of(anything, 0, MOST_CHANGES),
    "gone": list_of(_range, 0, MOST_CHANGES), "want": whole(0, MOST_WANTED),
    "dev": text(8),
    "epochs": list_of(_epoch_end, 0, MOST_EPOCHS)})
