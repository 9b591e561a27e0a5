"""The log of a vessel at an office, which follows that of her own server (sync/meeting.py)."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.epochs import cut_epochs
from spares.db.rebuild import make_anew
from spares.db.sync_store import SyncStore
from spares.db.tables import Logbook, Setting
from spares.sync.meeting import Home


class OfficeStore(SyncStore):
    """One vessel's log as an office keeps it, inside one transaction."""

    def __init__(self, session: Session, vessel: str) -> None:
        super().__init__(session, vessel)
        self._is_rewound = False

    def home(self) -> Home:
        """Give how far this log is the vessel's own."""
        known = home_of(self.session, self.vessel)
        return Home(known.get("cursor"), known.get("common", 0),
                    known.get("doubted", False))

    def set_home(self, home: Home) -> None:
        """Keep how far this log is the vessel's own."""
        known = home_of(self.session, self.vessel)
        keep_home(self.session, self.vessel,
                  {**known, "cursor": home.cursor, "common": home.common, "doubted": home.doubted})

    def rewind(self, seq: int) -> None:
        """Take the rows behind *seq* out; all tables are made anew when this is closed."""
        self.log.rewind(seq)
        cut_epochs(self.session, self.vessel, seq)
        self._epochs, self._is_rewound = None, True
        self._last_at, self._set_now, self._unused = {}, set(), set()

    def close(self) -> None:
        """Write all that was gathered."""
        super().close()
        if self._is_rewound:
            make_anew(self.session, self.vessel)


def home_of(session: Session, vessel: str) -> dict[str, Any]:
    """Give what is known of the vessel's own server; nothing where none was ever met."""
    known = session.get(Setting, _name(vessel))
    return dict(known.value) if known is not None and isinstance(known.value, dict) else {}


def homes(session: Session) -> list[tuple[str, dict[str, Any]]]:
    """Give the vessels of this store, by id, with what is known of their own servers."""
    return [(vessel, home_of(session, vessel)) for vessel in session.execute(
        select(col(Logbook.vessel)).order_by(col(Logbook.vessel))).scalars()]


def keep_home(session: Session, vessel: str, home: dict[str, Any]) -> None:
    """Keep what is known of the vessel's own server."""
    known = session.get(Setting, _name(vessel)) or Setting(name=_name(vessel))
    known.value = home
    session.add(known)
    session.flush()


def _name(vessel: str) -> str:
    return f"home {vessel}"
