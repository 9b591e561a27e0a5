"""The demo's pictures: drawn for her, with the fit points that are to be seen on them marked.

A picture lies at `seed/pictures/<vessel>/<machine>.jpg`; the table of the same name beside it gives
the marks, in thousandths of its width and height.
"""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Callable
from datetime import date
from pathlib import Path

from spares.actions.context import Context, clock_ms
from spares.actions.documents import write_document
from spares.actions.photos import photo, take_piece
from spares.config import seed_folder
from spares.db.engine import Store
from spares.db.find import vessels

NOTE = "Drawn for the demo, invented: her front."


def show_pictures(store: Store, on: date, *, now_ms: Callable[[], int] = clock_ms) -> int:
    """Put the demo's pictures beside her records, as if they had been taken aboard.

    Args:
        store: The open store, with the demo in it.
        on: Today [-].
        now_ms: The clock [ms since 1970].

    Returns:
        How many there are [1].
    """
    with store.reading() as session:
        ids = {mark: ident for ident, mark in vessels(session)}
    found = sorted((seed_folder() / "pictures").glob("*/*.jpg"))
    for path in found:
        _show(Context(store, ids[path.parent.name], on, now_ms=now_ms), path)
    return len(found)


def _show(ctx: Context, path: Path) -> None:
    data = path.read_bytes()
    sha256 = hashlib.sha256(data).hexdigest()
    photo(ctx, path.stem, sha256, len(data), "image/jpeg", note=NOTE)
    take_piece(ctx, sha256, 0, len(data), data)
    with path.with_suffix(".csv").open(encoding="utf-8", newline="") as table:
        for row in csv.DictReader(table, delimiter=";"):
            write_document(ctx, "photo-mark", {
                "photo": sha256, "point": ctx.named(row["point"], "point", "point"),
                "x": int(row["x"]), "y": int(row["y"])})
