"""A store in which every field that takes text holds text that would be a script on a page."""

from __future__ import annotations

import time
from pathlib import Path
from uuid import UUID

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.door import submit
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.db.tables import DOCUMENT_TABLES
from spares.domain.documents import DOCUMENTS
from spares.domain.draft import Draft, setting

HOSTILE = ("\"'><img src=x onerror=\"window.ran=1\"><script>window.ran=1</script>"
           "<svg/onload=window.ran=1><a href=javascript:window.ran=1>x</a>${window.ran=1}\u202e")
#: What things are called by in addresses, and what a part may never change.
KEPT = {"no", "mark", "unit", "kind", "template"}


def make_hostile(path: Path) -> None:
    """Write hostile texts into every field of a store of the demo."""
    store = open_store(path)
    with store.writing() as session:
        for vessel, _ in vessels(session):
            submit(session, vessel, hostile_drafts(session, vessel),
                   wall_ms=time.time_ns() // 10**6)
    store.close()


def text_fields(kind: str) -> list[str]:
    return [name for name, field in DOCUMENTS[kind].items()
            if field.type == "text" and name not in KEPT]


def hostile_drafts(session: Session, vessel: str) -> list[Draft]:
    """Every text field of every document becomes hostile; and some that are new from the start."""
    found = []
    for kind, table in DOCUMENT_TABLES.items():
        names = text_fields(kind)
        for ident in session.execute(select(col(table.id)).where(
                col(table.vessel) == vessel)).scalars():
            found += [setting(f"{kind}/{ident}", **dict.fromkeys(names, HOSTILE))] if names else []
    part, point, machine, locker = (f"{kind}/{UUID(int=7, version=4)}" for kind in (
        "part", "point", "machine", "locker"))
    return [*found,
            setting(part, no=HOSTILE, name=HOSTILE, kind=HOSTILE, unit=HOSTILE),
            setting(machine, no=HOSTILE, name=HOSTILE),
            setting(point, no=HOSTILE, name=HOSTILE, machine=machine, kind=HOSTILE),
            setting(locker, no=HOSTILE, name=HOSTILE, aboard=True),
            Draft("put", {"part": part, "locker": locker, "lot": "", "q": 1000, "note": HOSTILE}),
            Draft("photo", {"doc": part, "sha256": "0" * 64, "bytes": 9, "mime": "image/jpeg",
                            "note": HOSTILE})]
