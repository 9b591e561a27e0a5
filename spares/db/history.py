"""Look into the log: single changes, acts, what was undone, versions of a field.

In plain SQL, as commands that only look begin with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import orjson

from spares.db.asking import ask, first_column, is_in, listed, reads_json

if TYPE_CHECKING:
    from spares.db.asking import Reader

#: What a setting says in its note when it sets fields back.
UNDO_NOTE = "undo of "


class LogLine(NamedTuple):
    """One entry of a vessel's log; the change as it was written is `raw`."""

    vessel: str
    seq: int
    id: str
    kind: str
    dev: str
    n: int
    at: str
    batch: str
    raw: str


class Version(NamedTuple):
    """One version of one field of a document; `base` names those that it replaced."""

    doc: str
    field: str
    change_id: str
    at: str
    is_head: bool
    base: list[str]
    value: Any


_LINES = "SELECT " + ", ".join(f"log.{name}" for name in LogLine._fields) + " FROM log"
_TOUCHING = ("JOIN effect ON effect.change_id = log.id AND effect.vessel = log.vessel "
             "WHERE log.vessel = :vessel AND effect.vessel = :vessel")


def lines(reader: Reader, which: str, **given: Any) -> list[LogLine]:
    """Give the entries of which *which* says what stands behind FROM."""
    return [LogLine(*row) for row in ask(reader, f"{_LINES} {which}", **given)]


def entry(reader: Reader, vessel: str, ident: str) -> LogLine | None:
    """Give the change with this id."""
    return next(iter(lines(reader, "WHERE vessel = :vessel AND id = :ident", vessel=vessel,
                           ident=ident)), None)


def first_of_batch(reader: Reader, vessel: str, batch: str) -> LogLine | None:
    """Give the first change of what came in together under this id."""
    return next(iter(lines(reader, "WHERE vessel = :vessel AND batch = :batch ORDER BY seq LIMIT 1",
                           vessel=vessel, batch=batch)), None)


def newest(reader: Reader, vessel: str, limit: int, before: int | None = None) -> list[LogLine]:
    """Give the newest changes, those before position *before* of the log if it is given."""
    behind, given = ("", {}) if before is None else ("AND seq < :before", {"before": before})
    return lines(reader, f"WHERE vessel = :vessel {behind} ORDER BY seq DESC LIMIT :limit",
                 vessel=vessel, limit=limit, **given)


def whole_act_of(reader: Reader, row: LogLine) -> list[LogLine]:
    """Give the changes of one act, in their order, whether or not they were undone."""
    if not row.batch:
        return [row]
    return lines(reader, "WHERE vessel = :vessel AND batch = :batch ORDER BY seq",
                 vessel=row.vessel, batch=row.batch)


def act_size(reader: Reader, row: LogLine) -> int:
    """Count the changes of one act."""
    if not row.batch:
        return 1
    size, = first_column(reader, "SELECT count(*) FROM log WHERE vessel = :vessel "
                         "AND batch = :batch", vessel=row.vessel, batch=row.batch)
    return int(size)


def act_of(reader: Reader, row: LogLine) -> list[LogLine]:
    """Give the changes of one act that still stand, in their order."""
    return standing(reader, row.vessel, whole_act_of(reader, row))


def standing(reader: Reader, vessel: str, rows: Sequence[LogLine]) -> list[LogLine]:
    """Leave out of some changes those that were undone."""
    undone = undone_among(reader, vessel, [one.id for one in rows])
    return [one for one in rows if one.id not in undone]


def undone_among(reader: Reader, vessel: str, ids: Sequence[str]) -> set[str]:
    """Give which of these changes were undone, by a void or by setting fields back."""
    found = voided_among(reader, vessel, ids)
    # What sets fields back is among the versions of the same documents: not the whole log is read.
    docs = {body_of(raw)["doc"] for kind, raw in ask(
        reader, f"SELECT kind, raw FROM log WHERE vessel = :vessel AND id {is_in(reader, 'ids')}",
        vessel=vessel, ids=listed(ids)) if kind == "set"}
    if docs:
        for kind, raw in ask(
                reader, "SELECT kind, raw FROM log WHERE vessel = :vessel AND raw LIKE :note "
                "AND id IN (SELECT change_id FROM field_version WHERE vessel = :vessel "
                f"AND doc {is_in(reader, 'docs')})", vessel=vessel, docs=listed(docs),
                note=f'%"note":"{UNDO_NOTE}%'):
            if kind == "set":
                found.add(body_of(raw).get("note", "").removeprefix(UNDO_NOTE))
    return found & set(ids)


def voided_among(reader: Reader, vessel: str, ids: Sequence[str]) -> set[str]:
    """Give which of these changes were undone by a void: all but settings are."""
    return set(first_column(
        reader, 'SELECT "of" FROM settlement WHERE vessel = :vessel AND kind = \'void\' '
        f'AND "of" {is_in(reader, "ids")}', vessel=vessel, ids=listed(ids)))


def body_of(raw: str) -> dict[str, Any]:
    """Give the body of a change as the log keeps it."""
    body: dict[str, Any] = orjson.loads(raw)["body"]
    return body


def versions_of(reader: Reader, vessel: str, docs: Iterable[str]) -> dict[str, list[Version]]:
    """Give all that was ever set of some documents, by document, the oldest first."""
    found: dict[str, list[Version]] = {}
    read = reads_json(reader)
    for doc, field, change, at, is_head, base, value in ask(
            reader, f"SELECT {', '.join(Version._fields)} FROM field_version "
            f"WHERE vessel = :vessel AND doc {is_in(reader, 'docs')} ORDER BY at",
            vessel=vessel, docs=listed(docs)):
        found.setdefault(doc, []).append(
            Version(doc, field, change, at, bool(is_head), read(base), read(value)))
    return found


def value_before(versions: Sequence[Version], change: str,
                 name: str) -> tuple[Any, list[str], bool]:
    """Look at what setting a field replaced.

    Args:
        versions: All that was ever set of the document, the oldest first.
        change: The change that set the field [-].
        name: The field [-].

    Returns:
        The value before that change (None if there was none), the versions that stand
        now, and whether a later setting stands on it.
    """
    of_field = [one for one in versions if one.field == name]
    mine = next(one for one in of_field if one.change_id == change)
    before = [one for one in of_field if one.change_id in mine.base]
    return (before[-1].value if before else None,
            [one.change_id for one in of_field if one.is_head],
            any(change in one.base for one in of_field))


def places_of_others(reader: Reader, vessel: str, changes: Iterable[str]) -> set[str]:
    """Give the lockers and lots that movements and counts other than *changes* name."""
    ours, found = set(changes), set()
    for change, locker, lot in ask(reader, "SELECT change_id, locker, lot FROM effect "
                                   "WHERE vessel = :vessel", vessel=vessel):
        if change not in ours:
            found |= {locker, lot}
    return found


def counts_of(reader: Reader, vessel: str, part: str, locker: str, lot: str) -> list[LogLine]:
    """Give the counts of a cell that stand, the newest first."""
    return standing(reader, vessel, lines(
        reader, f"{_TOUCHING} AND effect.is_count AND effect.part = :part "
        "AND effect.locker = :locker AND effect.lot = :lot ORDER BY log.at DESC", vessel=vessel,
        part=part, locker=locker, lot=lot))


def all_counts(reader: Reader, vessel: str) -> list[tuple[str, str, str]]:
    """Give stamp, part and locker of each count that stands."""
    rows = list(ask(reader, "SELECT log.id, log.at, effect.part, effect.locker FROM log "
                    f"{_TOUCHING} AND log.kind = 'counted'", vessel=vessel))
    undone = voided_among(reader, vessel, list(dict.fromkeys(row[0] for row in rows)))
    return [(at, part, locker) for ident, at, part, locker in rows if ident not in undone]


def exchanges_from(reader: Reader, vessel: str, lots: Sequence[str]) -> set[str]:
    """Give the exchanges whose new part came from one of these lots."""
    return set(first_column(
        reader, f"SELECT log.id FROM log {_TOUCHING} AND log.kind = 'exchange' "
        f"AND effect.lot {is_in(reader, 'lots')}", vessel=vessel, lots=listed(lots)))
