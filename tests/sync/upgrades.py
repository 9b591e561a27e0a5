"""Another version of the program on the boat's computer, and pages that are renewed later.

An older page hands in and gets no rows; a newer one keeps all until the server is brought up, too.
"""

from __future__ import annotations

import json
from typing import Any

from hypothesis import strategies as st
from hypothesis.stateful import rule
from sqlalchemy import text

from spares.db.engine import open_store
from spares.db.upgrade import LATEST, version_of
from spares.sync import exchange, request

OLDER, NEWER = request.SCHEMA, request.SCHEMA + 1
#: The step before the last one of the store's file, and what takes the last one back.
BEFORE = "0011"
TAKEN_BACK = ("DROP TABLE cut_off", "DROP INDEX ix_effect_cell",
              "ALTER TABLE effect DROP COLUMN seq",
              "CREATE INDEX ix_effect_cell ON effect (vessel, part, locker, lot, is_count)")


class Upgrades:
    """What the machine of the invariants (machine.py) does when the program is upgraded."""

    server: Any
    tokens: list[str]
    true_ms: int

    def begin_older(self) -> None:
        """Let server and pages have the older program."""
        self.program, self.pages, self.is_brought_up = OLDER, [OLDER] * 5, False

    @rule(is_newer=st.booleans())
    def upgrade(self, is_newer: bool) -> None:
        """Start the server with the newer program, or with the older one again."""
        if is_newer and not self.is_brought_up:
            self.is_brought_up = True
            self.bring_up_store()
        self.program = NEWER if is_newer else OLDER
        self.server.lose_time(0)        # a new start

    @rule(who=st.integers(0, 4))
    def use_the_new_page(self, who: int) -> None:
        """Renew a page; what the server has no more is not put in the place of it."""
        self.pages[who] = max(self.pages[who], self.program)

    def bring_up_store(self) -> None:
        """Bring a store up by its steps, where it is one that has steps."""

    def all_renewed(self) -> None:
        """Let all have the newer program."""
        self.program, self.pages = NEWER, [NEWER] * 5

    def ask(self, who: int, written: str) -> dict[str, Any]:
        """Ask the server, whichever program it has."""
        for module in (exchange, request):
            module.SCHEMA = self.program
        try:
            return self.server.handle(self.tokens[who], json.loads(written), self.true_ms)
        finally:
            for module in (exchange, request):
                module.SCHEMA = OLDER


def taken_back(store: Any) -> None:
    """Take a store back to before its last step."""
    with store.writing() as session:
        for words in TAKEN_BACK:
            session.execute(text(words))
        session.execute(text("UPDATE alembic_version SET version_num = :step"), {"step": BEFORE})


def brought_up(kept: Any) -> None:
    """Take a store (database.py) back to before its last step, and let the step be run on it."""
    if not kept.store.is_file:
        return
    taken_back(kept.store)
    kept.store.close()
    kept.store = open_store(kept.path)
    assert version_of(kept.store.engine) == LATEST
