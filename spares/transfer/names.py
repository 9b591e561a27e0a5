"""What the numbers in a file's rows stand for: `P034` to `part/<uuid>`.

A number counts as known when a row of the same files gives it or when the vessel
has it already; then the thing that is there keeps its id.
"""

from __future__ import annotations

from spares.domain import identity
from spares.domain.aboard import Aboard
from spares.transfer.tables import Row, Tables

NUMBERED = {"machine": "machines", "locker": "lockers", "part": "parts", "inner": "inner_points",
            "point": "points", "service": "services", "trip": "trips", "trail": "trails",
            "trail-place": "trail_places", "drain-point": "drain_points", "joint": "joints",
            "gauge": "gauges", "deck": "decks"}


class Names:
    """Finds the document that a number names; ids are bare, references `kind/id`."""

    def __init__(self, tables: Tables, vessel: str, aboard: Aboard | None) -> None:
        self.vessel = vessel
        self.known: dict[str, dict[str, str]] = {
            kind: {one.no: one.id for one in aboard.all(kind) if one.no} if aboard else {}
            for kind in NUMBERED}
        self.rows: dict[str, dict[str, Row]] = {
            kind: {row.get("no"): row for row in tables.get(table, [])}
            for kind, table in NUMBERED.items()}

    def is_known(self, kind: str, no: str) -> bool:
        """Tell whether the vessel had this before the files came."""
        return no in self.known.get(kind, {})

    def find(self, no: str, kinds: tuple[str, ...]) -> str:
        """Give the reference that *no* (or `kind/no`) stands for among *kinds*.

        Raises:
            ValueError: nothing, or more than one thing, has that number.
        """
        prefix, slash, rest = no.partition("/")
        if slash and prefix in kinds:
            no, kinds = rest, (prefix,)
        found = [kind for kind in kinds
                 if no in self.rows[kind] or no in self.known.get(kind, {})]
        if not found:
            raise ValueError(f"there is no {' or '.join(kinds)} {no!r}")
        if len(found) > 1:
            choices = " or ".join(f"{kind}/{no}" for kind in found)
            raise ValueError(f"{no!r} is more than one thing; write {choices}")
        return identity.ref(found[0], self.id(found[0], no))

    def id(self, kind: str, no: str) -> str:
        """Give the id of the thing of *kind* with number *no*.

        A fit point inside a fitted part has the id that any device would give it.

        Raises:
            ValueError: a fit point lies inside itself.
        """
        if self.is_known(kind, no):
            return self.known[kind][no]
        return self._point_id(no, ()) if kind == "point" else self._numbered(kind, no)

    def _point_id(self, no: str, inside: tuple[str, ...]) -> str:
        if no in inside:
            raise ValueError(f"{no!r} lies inside itself")
        if self.is_known("point", no):
            return self.known["point"][no]
        row = self.rows["point"].get(no)
        parent, template = (row.get("parent"), row.get("template")) if row else (None, None)
        if not parent or not template:
            return self._numbered("point", no)
        return identity.occurrence_id(
            identity.ref("point", self._point_id(parent, (*inside, no))),
            identity.ref("inner", self.id("inner", template)))

    def _numbered(self, kind: str, no: str) -> str:
        return identity.numbered_id(self.vessel, kind, no)
