"""The vessels of a store."""

from __future__ import annotations

from typing import Any

from spares.db.engine import Store
from spares.db.find import vessels as known_vessels
from spares.db.load import load_aboard


def vessels(store: Store) -> dict[str, Any]:
    """List the vessels, the one that is meant when none is named first."""
    with store.looking() as reader:
        found = []
        for ident, mark in known_vessels(reader):
            one = load_aboard(reader, ident, parts=[]).vessel
            found.append({"id": ident, "mark": mark, "name": one.name, "about": one.about,
                          "base": one.base})
    return {"vessels": found}
