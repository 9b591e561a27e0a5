"""Small helpers for rows, used by all of `db`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypeVar

T = TypeVar("T")


def chunks(items: Sequence[T], size: int) -> Iterator[list[T]]:
    """Cut a list into pieces that a statement can carry."""
    for start in range(0, len(items), size):
        yield list(items[start:start + size])
