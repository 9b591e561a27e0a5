"""Which movements concern a loan: those of its borrower's place, or of its lots."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from typing import TYPE_CHECKING, Any

from spares.db.asking import is_in, listed
from spares.db.history import LogLine, body_of, entry, lines, standing, undone_among
from spares.domain.identity import joined_id

if TYPE_CHECKING:
    from spares.db.asking import Reader


def moves_at(reader: Reader, vessel: str, lockers: Sequence[str]) -> list[LogLine]:
    """Give the movements to or from these places that stand, in their order."""
    return _standing(reader, vessel, "locker", lockers)


def moves_of(reader: Reader, vessel: str, lots: Sequence[str]) -> list[LogLine]:
    """Give the movements of these lots that stand, in their order."""
    return _standing(reader, vessel, "lot", lots)


def act_of_slip(reader: Reader, vessel: str, kind: str, *names: str) -> tuple[str, bool]:
    """Name the act by which a loan came here, or so much of it is back; say whether it stands.

    Its name follows from what it does: of two slips that are taken in on two devices, what both
    tell of is done once. One that was undone is done anew under a further name.
    """
    for again in count():
        ident = joined_id(kind, *names, *([str(again)] if again else []))
        is_there = entry(reader, vessel, ident) is not None
        if not is_there or not undone_among(reader, vessel, [ident]):
            break
    return ident, is_there


def told(row: LogLine) -> dict[str, Any]:
    """Give what a movement says."""
    return body_of(row.raw)


def _standing(reader: Reader, vessel: str, column: str, among: Sequence[str]) -> list[LogLine]:
    return standing(reader, vessel, lines(
        reader, "WHERE vessel = :vessel AND id IN (SELECT change_id FROM effect "
        f"WHERE vessel = :vessel AND {column} {is_in(reader, 'among')}) ORDER BY seq",
        vessel=vessel, among=listed(among)))
