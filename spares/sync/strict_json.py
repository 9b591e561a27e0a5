"""Read JSON that a stranger may have made.

Python's reader is more forgiving than RFC 8259: it takes NaN, turns 1e400 into
infinity, keeps the last of two equal keys, and fails with its own errors on deep
nesting and on very long numbers. Two readers that differ on such a text would
hold different changes, so all of it is refused here. Lone surrogates and NUL
inside a text are left to the check of the single change: one bad text must not
stop the other changes of a phone.
"""

from __future__ import annotations

import json
import re
from typing import Any

from spares.errors import InvalidInput

DEEPEST = 64
LONGEST_NUMBER = 40

_TOKEN = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"|[\[{]|[\]}]', re.DOTALL)


def parse_json_strict(raw: bytes) -> Any:
    """Parse UTF-8 JSON text; anything doubtful is refused.

    Args:
        raw: The bytes as they came, at most as long as the caller allows.

    Returns:
        Plain dict, list, str, int, float (finite), bool, None.

    Raises:
        InvalidInput: invalid UTF-8, byte order mark, NaN or infinity, equal keys,
            nesting deeper than 64, numbers longer than 40 characters, rest bytes.
    """
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as err:
        raise _malformed("the text is not UTF-8") from err
    if text.startswith("\ufeff"):
        raise _malformed("a byte order mark does not belong here")
    _check_depth(text, raw)
    try:
        return json.loads(text, object_pairs_hook=_pairs, parse_constant=_no_constant,
                          parse_int=_whole, parse_float=_decimal)
    except (json.JSONDecodeError, RecursionError) as err:
        raise _malformed("this is not JSON") from err


def _malformed(detail: str) -> InvalidInput:
    return InvalidInput.at("#", detail)


#: All bytes but those that open and close, and those that make texts.
_NO_BRACKETS = bytes(set(range(256)) - set(b'{}[]"\\'))
_ONE_SORT = bytes.maketrans(b"{}", b"[]")


def _check_depth(text: str, raw: bytes) -> None:
    if _is_flat(raw):
        return
    depth = 0
    for token in _TOKEN.finditer(text):
        first = token.group()[0]
        if first in "[{":
            depth += 1
            if depth > DEEPEST:
                raise _malformed(f"nested deeper than {DEEPEST}")
        elif first in "]}":
            depth -= 1


def _is_flat(raw: bytes) -> bool:
    """Say of most texts at once that they are not nested too deep: without going by character.

    Of `{"a":[{}]}` is left `[""[[]]]`; each round takes away the innermost pairs.
    """
    left = raw.translate(_ONE_SORT, _NO_BRACKETS).replace(b'""', b"")
    for _ in range(DEEPEST):
        left = left.replace(b"[]", b"")
    return not left


def _pairs(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) != len(pairs):
        raise _malformed("a name stands twice in one object")
    return made


def _no_constant(name: str) -> Any:
    raise _malformed(f"{name} is not a JSON number")


def _whole(digits: str) -> int:
    if len(digits) > LONGEST_NUMBER:
        raise _malformed("a number is too long")
    return int(digits)


def _decimal(digits: str) -> float:
    number = float(digits) if len(digits) <= LONGEST_NUMBER else float("inf")
    if number in (float("inf"), float("-inf")):
        raise _malformed("a number is too large or too long")
    return number
