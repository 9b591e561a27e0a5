"""Which part records are one part, as far as somebody said so."""

from __future__ import annotations

from collections.abc import Iterable

from spares.db.tables import Sameness


class Groups:
    """Which part records are one part, by what was said so far."""

    def __init__(self, sames: Iterable[Sameness]) -> None:
        self.members: dict[str, set[str]] = {}
        for row in sames:
            joined = self.of(row.keep) | self.of(row.drop)
            for part in joined:
                self.members[part] = joined

    def of(self, part: str) -> set[str]:
        return self.members.get(part, {part})
