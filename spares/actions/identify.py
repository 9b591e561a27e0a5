"""Tell which device a token stands for."""

from __future__ import annotations

from dataclasses import dataclass

from spares.actions.context import clock_ms, one_called
from spares.db import devices
from spares.db.engine import Store
from spares.db.logbook import vessel_head


@dataclass(frozen=True)
class Known:
    """A device whose token was good, and the vessel that it belongs to.

    Of a device that can be given another number its token's hash alone stays the same.
    """

    dev: str
    token_hash: str
    vessel: str
    mark: str | None
    vessel_name: str | None
    name: str
    role: str
    grants: tuple[str, ...]
    revoked: str


def identify(store: Store, token: str, asked: str | None = None) -> Known | None:
    """Find the device that *token* stands for; None if nobody's, or if its time is over.

    One statement decides, whatever was shown, and what it compares are hashes: neither the
    words nor the time of a refusal tell how near a token was to a good one. A device with roles
    aboard several vessels is what it is aboard the one with the mark *asked*, else aboard its
    own, which it was paired with first: once its time there is over it is nobody's there, and is
    not taken for one of the next vessel. One that was reported lost aboard any of them is lost.

    Raises:
        Ambiguous: two of its vessels have the mark *asked*.
    """
    with store.reading() as session:
        rows = devices.by_token_in_time(session, token, clock_ms())
        found = [row for row, now_ms in rows if not (row.until_ms and now_ms > row.until_ms)]
        if not found:
            return None         # before anything else is asked
        heads = [vessel_head(session, row.vessel) for row in found]
        lost = next((row for row, _ in rows if row.revoked == "lost"), None)
        there = one_called([(row.vessel, mark or "") for row, (mark, _) in zip(
            found, heads, strict=True)], asked or "")
        at = next((at for at, row in enumerate(found) if row.vessel == there), None)
        if at is None and lost is None and found[0] is not rows[0][0]:
            return None         # its own vessel is meant, and there its time is over
        at = at or 0
        row = lost or found[at]
        mark, name = vessel_head(session, row.vessel) if lost else heads[at]
        return Known(row.dev, row.token_hash, row.vessel, mark, name, row.name, row.role,
                     tuple(row.grants or ()), row.revoked)


def turn_away(store: Store, known: Known) -> None:
    """Count that a lost device asked; nothing else of its request is kept."""
    with store.writing(known.vessel) as session:
        devices.count_turned_away(session, known.vessel, known.dev)
