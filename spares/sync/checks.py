"""Small checks of single values in a change.

A check takes a value and its JSON Pointer and raises `Refused` with the code of
the protocol: `bad_shape` (names, ids, containers), `bad_value` (numbers, texts),
`too_long`. It never changes a value: what was sent is what is kept and hashed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from spares.errors import Refused

Check = Callable[[Any, str], None]

#: JavaScript rounds whole numbers above this one.
GREATEST_WHOLE = 2**53 - 1
#: Names that reach an object's machinery in JavaScript.
UNSAFE_NAMES = frozenset({"__proto__", "constructor", "prototype"})

_UUID_TEXT = r"[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"
UUID = re.compile(_UUID_TEXT)
REF = re.compile(rf"([a-z][a-z0-9_-]{{0,31}})/{_UUID_TEXT}")
FIELD_NAME = re.compile(r"[a-z][a-z0-9_]{0,31}")
STAMP = re.compile(r"[0-9a-f]{12}\.[0-9a-f]{4}\.[0-9A-Za-z]{8}")
DEV = re.compile(r"[0-9A-Za-z]{8}")
EPOCH = re.compile(r"[0-9a-f]{16}")
MAC = re.compile(r"[0-9a-f]{32}")
SHA256 = re.compile(r"[0-9a-f]{64}")
DECIMAL = re.compile(r"-?[0-9]{1,15}(\.[0-9]{1,9})?")
_DATE = re.compile(r"[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?")


def refuse(reason: str, pointer: str, detail: str) -> Refused:
    """Make the refusal of one value; *reason* is the code of the protocol."""
    where = pointer.removeprefix("#/") or "the change"
    return Refused(f"{where}: {detail}", reason=reason, pointer=pointer)


def whole(low: int, high: int, reason: str = "bad_value") -> Check:
    """Check a whole number from *low* to *high* [1]; True and 1.0 are none."""
    def check(value: Any, pointer: str) -> None:
        if type(value) is not int:
            raise refuse(reason, pointer, "a whole number is needed")
        if not low <= value <= high:
            raise refuse(reason, pointer, f"must lie between {low} and {high}")
    return check


def text(longest: int, shortest: int = 0) -> Check:
    """Check a text by its length [1, characters]; it must be storable everywhere."""
    def check(value: Any, pointer: str) -> None:
        if type(value) is not str:
            raise refuse("bad_value", pointer, "a text is needed")
        if len(value) > longest:
            raise refuse("too_long", pointer, f"longer than {longest} characters")
        if len(value) < shortest:
            raise refuse("bad_value", pointer, "must not be empty")
        _check_storable(value, pointer)
    return check


def matching(pattern: re.Pattern[str], what: str, reason: str = "bad_shape") -> Check:
    """Check a text against the whole of *pattern*; *what* names it to the person."""
    def check(value: Any, pointer: str) -> None:
        if type(value) is not str or not pattern.fullmatch(value):
            raise refuse(reason, pointer, f"must be {what}")
    return check


def one_of(*words: str) -> Check:
    """Check that the value is one of these words."""
    def check(value: Any, pointer: str) -> None:
        if type(value) is not str or value not in words:
            raise refuse("bad_value", pointer, f"must be one of {', '.join(words)}")
    return check


def ref(*kinds: str, or_word: str | None = None) -> Check:
    """Check a reference `kind/uuid`; *kinds* empty: of any kind."""
    what = " or ".join(f"{kind}/<uuid>" for kind in kinds) or "<kind>/<uuid>"

    def check(value: Any, pointer: str) -> None:
        if or_word is not None and value == or_word:
            return
        found = REF.fullmatch(value) if type(value) is str else None
        if found is None or (kinds and found.group(1) not in kinds):
            raise refuse("bad_shape", pointer, f"must be {what}")
    return check


def is_date(value: Any, pointer: str) -> None:
    """Check ISO 8601 text cut to what is known: 2023, 2023-05 or 2023-05-14."""
    if type(value) is not str or not _DATE.fullmatch(value):
        raise refuse("bad_value", pointer, "must be a date such as 2023-05-14, 2023-05 or 2023")
    try:
        date.fromisoformat((value + "-01-01")[:10])
    except ValueError as err:
        raise refuse("bad_value", pointer, "there is no such day") from err


def anything(value: Any, pointer: str) -> None:
    """Leave what is inside to a check of its own: one bad entry must not stop the others."""


def flag(value: Any, pointer: str) -> None:
    """Check true or false."""
    if type(value) is not bool:
        raise refuse("bad_value", pointer, "true or false is needed")


def clock(value: Any, pointer: str) -> None:
    """Check what a clock said [ms]; nothing is ever refused for a wrong one."""
    if type(value) is not int:
        raise refuse("bad_value", pointer, "a whole number of milliseconds is needed")


def list_of(item: Check, fewest: int, most: int) -> Check:
    """Check a list of *fewest* to *most* [1] items, each by *item*."""
    def check(value: Any, pointer: str) -> None:
        if type(value) is not list:
            raise refuse("bad_shape", pointer, "a list is needed")
        if not fewest <= len(value) <= most:
            raise refuse("bad_value", pointer, f"must have {fewest} to {most} entries")
        for place, entry in enumerate(value):
            item(entry, f"{pointer}/{place}")
    return check


def shape(required: Mapping[str, Check], optional: Mapping[str, Check] | None = None) -> Check:
    """Check an object that has all *required* names and no other than *optional* ones."""
    known = {**required, **(optional or {})}

    def check(value: Any, pointer: str) -> None:
        if type(value) is not dict:
            raise refuse("bad_shape", pointer, "an object is needed")
        if odd := value.keys() - known.keys():
            name = next(name for name in value if name in odd)
            raise refuse("bad_shape", pointer, f"the name {name[:40]!a} is not known here")
        for name in required:
            if name not in value:
                raise refuse("bad_shape", under(pointer, name), "is missing")
        stem = pointer.rstrip("/")      # a name that is known has nothing to be escaped
        for name, entry in value.items():
            known[name](entry, f"{stem}/{name}")
    return check


def plain_json(deepest: int, longest_text: int) -> Check:
    """Check a JSON value without floats, nested at most *deepest* [1] levels."""
    of_text = text(longest_text)
    of_whole = whole(-GREATEST_WHOLE, GREATEST_WHOLE)

    def check(value: Any, pointer: str, depth: int = 0) -> None:
        if value is None or type(value) is bool:
            return
        if type(value) is str:
            of_text(value, pointer)
        elif type(value) in (dict, list):
            if depth == deepest:
                raise refuse("bad_value", pointer, f"nested deeper than {deepest}")
            if type(value) is dict:
                for name in value:
                    _check_inner_name(name, pointer)
            for name, entry in value.items() if type(value) is dict else enumerate(value):
                check(entry, under(pointer, str(name)), depth + 1)
        else:
            of_whole(value, pointer)
    return check


def positions(value: Any, pointer: str) -> None:
    """Check positions in the log, {epoch: seq} [1]."""
    if type(value) is not dict or not 1 <= len(value) <= 1000:
        raise refuse("bad_shape", pointer, "positions by epoch are needed")
    for epoch, seq in value.items():
        matching(EPOCH, "an epoch (16 hex digits)")(epoch, pointer)
        whole(1, GREATEST_WHOLE, "bad_shape")(seq, under(pointer, epoch))


def under(pointer: str, name: str) -> str:
    """Give the pointer one step further down (RFC 6901)."""
    step = name.replace("~", "~0").replace("/", "~1")
    return f"{pointer.rstrip('/')}/{step}"


def _check_inner_name(name: str, pointer: str) -> None:
    if len(name) > 100:
        raise refuse("too_long", pointer, "a name is longer than 100 characters")
    if name in UNSAFE_NAMES:
        raise refuse("bad_shape", pointer, f"the name {name!r} is not allowed")
    _check_storable(name, pointer)


def _check_storable(value: str, pointer: str) -> None:
    if "\x00" in value:
        raise refuse("bad_value", pointer, "holds a NUL character")
    try:
        value.encode("utf-8")
    except UnicodeEncodeError as err:
        raise refuse("bad_value", pointer, "holds half a character (lone surrogate)") from err
