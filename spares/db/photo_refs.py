"""Which photos the log names: of one thing, or all of a vessel."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING, NamedTuple

from spares.db.asking import ask, first_column, is_in, listed
from spares.db.history import LogLine

if TYPE_CHECKING:
    from spares.db.asking import Reader


class PhotoRef(NamedTuple):
    """A photo that a document refers to; its bytes lie apart."""

    change_id: str
    doc: str
    sha256: str
    bytes: int
    mime: str


_REF = tuple(f"photo_ref.{name}" for name in PhotoRef._fields)
_LINE = tuple(f"log.{name}" for name in LogLine._fields)


def photos_of(reader: Reader, vessel: str, docs: Collection[str] | None = None
              ) -> list[tuple[PhotoRef, LogLine]]:
    """Give the photos of these things, of all for None, that stand: each with its change."""
    among = "" if docs is None else f"AND photo_ref.doc {is_in(reader, 'docs')}"
    rows = ask(reader, f"SELECT {', '.join((*_REF, *_LINE))} FROM photo_ref "
               "JOIN log ON log.vessel = photo_ref.vessel AND log.id = photo_ref.change_id "
               f"WHERE photo_ref.vessel = :vessel AND NOT photo_ref.voided {among} "
               "ORDER BY log.at", vessel=vessel,
               **({} if docs is None else {"docs": listed(docs)}))
    return [(PhotoRef(*row[:len(_REF)]), LogLine(*row[len(_REF):])) for row in rows]


def is_named(reader: Reader, vessel: str, sha256: str) -> bool:
    """Say whether a photo of this hash stands in the vessel's log."""
    return bool(first_column(
        reader, "SELECT change_id FROM photo_ref WHERE vessel = :vessel AND sha256 = :sha256 "
        "AND NOT voided LIMIT 1", vessel=vessel, sha256=sha256))


def standing(reader: Reader) -> set[str]:
    """Name the photos that stand in any vessel's log."""
    return set(first_column(reader, "SELECT DISTINCT sha256 FROM photo_ref WHERE NOT voided"))


def ever_named(reader: Reader) -> set[str]:
    """Name the photos that any vessel's log ever named."""
    return set(first_column(reader, "SELECT DISTINCT sha256 FROM photo_ref"))


def removed(reader: Reader) -> dict[str, int]:
    """Give the photos of which a change was undone, and when the last was [ms since 1970]."""
    found: dict[str, int] = {}
    for sha256, at in ask(
            reader, "SELECT photo_ref.sha256, log.at FROM photo_ref JOIN settlement "
            'ON settlement.vessel = photo_ref.vessel AND settlement."of" = photo_ref.change_id '
            "JOIN log ON log.vessel = settlement.vessel AND log.id = settlement.change_id "
            "WHERE photo_ref.voided AND settlement.kind = 'void'"):
        found[sha256] = max(found.get(sha256, 0), int(at[:12], 16))
    return found
