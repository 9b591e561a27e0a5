"""Vessels made from files in a store of their own, for the tests of this folder."""

from __future__ import annotations

from pathlib import Path

from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.db.load import load_aboard
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft
from spares.transfer.tables import Tables, read_tables
from spares.transfer.vessel_rows import vessel_drafts

SEED = Path(__file__).parents[2] / "seed"
TGL = "0f0e4f0a-27b5-4c3e-9d6b-3d1f5f6a7b01"
OTHER = "0f0e4f0a-27b5-4c3e-9d6b-3d1f5f6a7b02"
_NOW_MS = 1_805_068_800_000


class Harbour:
    """A store and what is brought into it."""

    def __init__(self, folder: Path) -> None:
        self.store: Store = open_store(folder / "spares.sqlite")

    def bring(self, tables: Tables, vessel: str = TGL, **how) -> Aboard:
        """Bring tables in, founding the vessel if need be; gives her as she then is."""
        return self.submit(vessel_drafts(tables, vessel, **how), vessel)

    def submit(self, drafts: list[Draft], vessel: str = TGL) -> Aboard:
        with self.store.writing() as session:
            if not self._is_there(vessel):
                found_vessel(session, vessel)
            self.outcomes = submit(session, vessel, drafts, wall_ms=_NOW_MS)
        return self.aboard(vessel)

    def aboard(self, vessel: str = TGL) -> Aboard:
        with self.store.reading() as session:
            return load_aboard(session, vessel)

    def _is_there(self, vessel: str) -> bool:
        from spares.db.tables import Logbook
        with self.store.reading() as session:
            return session.get(Logbook, vessel) is not None


def tables_of(**texts: str) -> Tables:
    """Read tables written as texts: name of the table, then its lines."""
    from spares.transfer.export_csv import zipped
    return read_tables(zipped({f"{name}.csv": text for name, text in texts.items()}))
