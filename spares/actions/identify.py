"""Tell which device a token stands for."""

from __future__ import annotations

from dataclasses import dataclass

from spares.actions.context import clock_ms
from spares.db import devices
from spares.db.engine import Store


@dataclass(frozen=True)
class Known:
    """A device whose token was good, and the vessel that it belongs to."""

    dev: str
    vessel: str
    mark: str | None
    vessel_name: str | None
    name: str
    role: str
    grants: tuple[str, ...]
    revoked: str


def identify(store: Store, token: str) -> Known | None:
    """Find the device that *token* stands for; None if nobody's, or if its time is over."""
    with store.reading() as session:
        row = devices.by_token(session, token)
        if row is None:
            return None
        if row.until_ms and devices.time_ms(session, row.vessel, clock_ms()) > row.until_ms:
            return None
        mark, name = devices.vessel_head(session, row.vessel)
        return Known(row.dev, row.vessel, mark, name, row.name, row.role,
                     tuple(row.grants or ()), row.revoked)


def turn_away(store: Store, known: Known) -> None:
    """Count that a lost device asked; nothing else of its request is kept."""
    with store.writing() as session:
        devices.count_turned_away(session, known.vessel, known.dev)
