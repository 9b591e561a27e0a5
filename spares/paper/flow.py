"""How lists go over from page to page: no title alone at the foot, no row alone on the next."""

from __future__ import annotations

from reportlab.platypus import Flowable, FrameBreak, KeepTogether, Table

#: Rows of a table that stay together at the foot of a page and on top of the next.
TOGETHER = 2


class Rows(Table):  # type: ignore[misc]
    """A table whose last row does not go over to the next page alone."""

    def split(self, room: float, height: float) -> list[Flowable]:
        parts = super().split(room, height)
        if len(parts) == 2 and _body(parts[1]) < TOGETHER < _body(parts[0]):
            earlier = super().split(room, sum(parts[0]._rowHeights) - 1)
            return [earlier[0], FrameBreak(), earlier[1]] if len(earlier) == 2 else parts
        return parts


class KeepStart(KeepTogether):  # type: ignore[misc]
    """Keeps a heading with what follows, or with the first rows of a list that is longer."""

    def split(self, room: float, height: float) -> list[Flowable]:
        if getattr(self, "_wrapInfo", None) != (room, height):
            self.wrap(room, height)
        *lead, last = self._content
        if self._H > height and isinstance(last, Rows):
            used = sum(one.wrapOn(self.canv, room, height)[1] for one in lead)
            parts = last.splitOn(self.canv, room, height - used) if used < height else []
            if len(parts) > 1 and _body(parts[0]) >= TOGETHER:
                return [*lead, *parts]
        return super().split(room, height)


def _body(table: Flowable) -> int:
    return int(table._nrows - table.repeatRows)
