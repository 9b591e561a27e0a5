"""How far a device has the log: a place, the chain's head there, and a seal.

A bare number goes wrong without a sound after a restore: the device believes
that its data is there. The head says whether it is the same log, the seal that
it was this store that said so. To the device the text is opaque.
"""

from __future__ import annotations

import hashlib
import hmac
import re
from dataclasses import dataclass

_CURSOR = re.compile(r"([0-9a-f]{16}):(0|[1-9][0-9]{0,15}):([0-9a-f]{64}):([0-9a-f]{32})")


@dataclass(frozen=True)
class Cursor:
    """A place in the log: epoch, row [1] and head of the chain there."""

    epoch: str
    seq: int
    head: bytes


def write_cursor(cursor: Cursor, key: bytes) -> str:
    """Write a cursor under the store's seal."""
    return f"{_bare(cursor)}:{_mac(cursor, key)}"


def read_cursor(text: str, key: bytes) -> Cursor | None:
    """Read a cursor; None if this store did not write it."""
    found = _CURSOR.fullmatch(text)
    if found is None:
        return None
    cursor = Cursor(found[1], int(found[2]), bytes.fromhex(found[3]))
    return cursor if hmac.compare_digest(_mac(cursor, key), found[4]) else None


def _bare(cursor: Cursor) -> str:
    return f"{cursor.epoch}:{cursor.seq}:{cursor.head.hex()}"


def _mac(cursor: Cursor, key: bytes) -> str:
    return hmac.new(key, f"cur|{_bare(cursor)}".encode(), hashlib.sha256).hexdigest()[:32]
