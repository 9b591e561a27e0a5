"""Read JSON that a program or a person gives us, strictly, before anything is made of it."""

from __future__ import annotations

import re
from typing import Any

from spares.errors import InvalidInput
from spares.sync.strict_json import parse_json_strict

MAX_WHOLE = 2**53 - 1       # the largest whole number that JavaScript keeps exactly
_NO_TEXT = re.compile("[\0\ud800-\udfff]")
_SHOWN = 80


class NotJson(InvalidInput):
    """The text is not JSON, or not JSON that every reader understands alike."""

    code = "malformed"
    title = "This is not well-formed JSON"


def read_json(raw: bytes) -> Any:
    """Read one JSON value from *raw* (UTF-8).

    Raises:
        NotJson: it is no strict JSON, or holds what no store can keep: whole numbers
            beyond 2^53, the character NUL, half a surrogate pair. `errors` says where.
    """
    try:
        value = parse_json_strict(raw)
    except InvalidInput as err:
        raise NotJson(err.detail, **err.facts) from err
    waiting = [("#", value)]
    while waiting:
        pointer, this = waiting.pop()
        if isinstance(this, str):
            check_text(this, pointer)
        elif isinstance(this, int) and abs(this) > MAX_WHOLE:
            raise NotJson.at(pointer, "the number is too large to be kept exactly")
        elif isinstance(this, dict):
            for name, inner in this.items():
                check_text(name, pointer)
                waiting.append((f"{pointer}/{pointer_step(name)}", inner))
        elif isinstance(this, list):
            waiting += [(f"{pointer}/{index}", inner) for index, inner in enumerate(this)]
    return value


def check_text(text: str, pointer: str) -> None:
    """Refuse a text with NUL or half a surrogate pair in it; NotJson names *pointer*."""
    if found := _NO_TEXT.search(text):
        what = ("the character NUL cannot be kept" if found.group() == "\0"
                else "half a surrogate pair is no character")
        raise NotJson.at(pointer, what)


def pointer_step(name: str) -> str:
    """Write *name* as one step of a JSON Pointer (RFC 6901, 3), shortened if very long."""
    safe = name.encode("utf-8", "replace").decode()
    short = safe if len(safe) <= _SHOWN else safe[:_SHOWN] + "..."
    return short.replace("~", "~0").replace("/", "~1")
