"""A change as a device makes it, and the envelope in which the server keeps it.

A change says what happened (`kind`, `body`), who is meant by its number (`id`,
`n`) and what its author knew (`seen`, `after`, `t`). The server adds who sent it
(`dev`), when it holds (`at`), how far that time can be trusted (`g`), where it
stands in the log (`pos`) and a seal (`mac`). Each envelope is hashed into a chain.

Sources: JSON Canonicalization Scheme (RFC 8785), HMAC (RFC 2104) with SHA-256.
"""

from __future__ import annotations

import hashlib
import hmac
from dataclasses import dataclass, fields
from typing import Any

import orjson
import rfc8785

from spares.sync import checks
from spares.sync.bodies import BODY_VERSION, KINDS, check_body
from spares.sync.checks import (
    GREATEST_WHOLE,
    Check,
    anything,
    clock,
    matching,
    refuse,
    shape,
    whole,
)
from spares.sync.strict_json import parse_json_strict

__all__ = ["BODY_VERSION", "Change", "Envelope", "FIRST_HEAD", "KINDS", "canonical", "check_body",
           "content_hash", "envelope_from_json", "link", "mac_is_good", "next_head",
           "parse_change", "parse_json_strict", "seal"]

#: Head of the chain of an empty log.
FIRST_HEAD = bytes(32)
#: Largest change [bytes of canonical JSON].
LARGEST_CHANGE = 64 * 1024
_MAC_BYTES = 16


@dataclass(frozen=True)
class Change:
    """One recorded edit or movement, as its device made it.

    `t` is the raw clock of the device [ms since 1970], `g` 1 when the device
    already knew that its clock was doubtful.
    """

    id: str
    n: int
    kind: str
    v: int
    t: int
    seen: dict[str, Any] | None
    after: str
    g: int
    body: dict[str, Any]

    def to_json(self) -> dict[str, Any]:
        """Give the change as it goes over the wire; `g` only when it is 1."""
        return _without_zero_grade(_plain(self))


@dataclass(frozen=True)
class Envelope(Change):
    """A change with what the server added; `pos` is {epoch: seq} [1]."""

    dev: str
    at: str
    pos: dict[str, int]
    mac: str

    def to_json(self) -> dict[str, Any]:
        """Give the envelope as it is kept, hashed and sent; `g` is always there."""
        return _plain(self)

    def change(self) -> Change:
        """Give the change inside, with the grade that the server gave it."""
        return Change(**{f.name: getattr(self, f.name) for f in fields(Change)})


_SAID = tuple(field.name for field in fields(Change))
_IS_UUID = matching(checks.UUID, "a UUID in lower case")
_IS_STAMP = matching(checks.STAMP, "a stamp")
_IS_SEQ = whole(0, GREATEST_WHOLE, "bad_shape")


def _is_seen(value: Any, pointer: str) -> None:
    if value is not None:
        _SEEN(value, pointer)


def _is_after(value: Any, pointer: str) -> None:
    if value != "":
        _IS_STAMP(value, pointer)


_SEEN = shape({"epoch": matching(checks.EPOCH, "an epoch (16 hex digits)"), "seq": _IS_SEQ})
_OF_CHANGE: dict[str, Check] = {
    "id": _IS_UUID, "n": whole(1, GREATEST_WHOLE, "bad_shape"),
    "kind": checks.text(32, 1), "v": whole(1, BODY_VERSION, "bad_shape"), "t": clock,
    "seen": _is_seen, "after": _is_after, "body": anything}
_CHANGE = shape(_OF_CHANGE, {"g": whole(1, 1, "bad_shape")})
_ENVELOPE = shape({
    **_OF_CHANGE, "g": whole(0, 1, "bad_shape"),
    "dev": matching(checks.DEV, "a device number (8 letters or digits)"),
    "at": _IS_STAMP, "pos": checks.positions, "mac": matching(checks.MAC, "32 hex digits")})


def parse_change(obj: Any) -> Change:
    """Take a change as it came over the wire, or refuse it.

    A clock beyond what JavaScript can count is cut to that (its stamp is
    graded doubtful anyway): a mad clock is no reason to lose a movement.

    Raises:
        Refused: `reason` bad_shape, bad_value, too_long, or not_allowed (a
            restamp is only made by the server), `pointer` to the place.
    """
    _CHANGE(obj, "#/")
    if obj["kind"] == "restamp":
        raise refuse("not_allowed", "#/kind", "only the server restamps a change")
    check_body(obj["kind"], obj["body"])
    change = Change(**{**obj, "g": obj.get("g", 0),
                       "t": min(max(obj["t"], -GREATEST_WHOLE), GREATEST_WHOLE)})
    if len(written_form(change)) > LARGEST_CHANGE:
        raise refuse("too_long", "#/", f"larger than {LARGEST_CHANGE} bytes")
    return change


def envelope_from_json(obj: Any) -> Envelope:
    """Take an envelope that a device brings back; its seal is checked apart.

    Raises:
        Refused: as `parse_change`.
    """
    _ENVELOPE(obj, "#/")
    whole(-GREATEST_WHOLE, GREATEST_WHOLE)(obj["t"], "#/t")
    check_body(obj["kind"], obj["body"])
    return Envelope(**obj)


def read_envelope(raw: str) -> Envelope:
    """Read an envelope as a log keeps it; it was checked when it was taken."""
    return Envelope(**orjson.loads(raw))


def canonical(obj: Any) -> bytes:
    """Write plain JSON in the one form of RFC 8785, for hashing.

    A fast writer gives that form where all numbers are whole and JavaScript counts them exactly,
    and no character lies so far up that the order of keys by UTF-16 is another than by code point.
    """
    return (_written(obj) if _is_plain(obj) else None) or rfc8785.dumps(obj)


def written_form(change: Change) -> bytes:
    """Write a change or an envelope whose values were checked, as `canonical` writes it."""
    obj = change.to_json()
    return _written(obj) or rfc8785.dumps(obj)


def _written(obj: Any) -> bytes | None:
    written = orjson.dumps(obj, option=orjson.OPT_SORT_KEYS)
    return written if written.isascii() or max(written.decode()) < "\ud800" else None


def _is_plain(value: Any) -> bool:
    kind = type(value)
    if kind is str or value is None or kind is bool:
        return True
    if kind is int:
        return -GREATEST_WHOLE <= value <= GREATEST_WHOLE
    if kind is dict:
        return all(type(name) is str and _is_plain(one) for name, one in value.items())
    return kind is list and all(map(_is_plain, value))


def content_hash(change: Change) -> str:
    """Hash what the author said; two changes of one id must agree in it.

    `n` and `g` are left out: they may change while the change is unsent.
    """
    said = {name: getattr(change, name)
            for name in ("id", "kind", "v", "t", "seen", "after", "body")}
    return hashlib.sha256(canonical(said)).hexdigest()


def seal(change: Change, *, dev: str, at: str, g: int, pos: dict[str, int],
         key: bytes) -> Envelope:
    """Put a change into its envelope: author, stamp, grade, position, seal.

    Args:
        change: The change as parsed, so that its values are known to be sound.
        dev: Number of the device whose token sent it [-].
        at: Stamp [-].
        g: 0 if the stamp's time can be trusted, else 1 [1].
        pos: Position in the log, {epoch: seq} [1].
        key: Secret of the store, 32 bytes.
    """
    said = {name: getattr(change, name) for name in _SAID}     # it may be an envelope itself
    bare = {**said, "g": g, "dev": dev, "at": at, "pos": dict(pos)}
    return Envelope(**bare, mac=_mac(_written(bare) or rfc8785.dumps(bare), key))


def mac_is_good(envelope: Envelope, key: bytes) -> bool:
    """Say whether this store sealed the envelope and nothing in it changed since."""
    bare = envelope.to_json()
    found = bare.pop("mac")
    return hmac.compare_digest(_mac(canonical(bare), key), found)


def next_head(head: bytes, envelope: Envelope) -> bytes:
    """Hash one more envelope into the chain: SHA256(head || SHA256(envelope))."""
    return link(head, canonical(envelope.to_json()))


def link(head: bytes, written: bytes) -> bytes:
    """Hash an envelope, given as `canonical` wrote it, into the chain."""
    return hashlib.sha256(head + hashlib.sha256(written).digest()).digest()


def _mac(written: bytes, key: bytes) -> str:
    return hmac.digest(key, written, "sha256")[:_MAC_BYTES].hex()


def _plain(value: Change) -> dict[str, Any]:
    return dict(vars(value))


def _without_zero_grade(obj: dict[str, Any]) -> dict[str, Any]:
    if obj["g"] == 0:
        del obj["g"]
    return obj
