"""Read one vessel whole, as the plain values that the computations take."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from functools import cache
from typing import TYPE_CHECKING, Any

import orjson

from spares.db.apart import heads_apart
from spares.db.asking import AS_JSON, TABLE_OF, ask, is_in, is_sqlite, listed, reads_json
from spares.db.chains import named_beside
from spares.domain.aboard import RECORDS, Aboard, Done, Fitted, Lying, MeterReading
from spares.domain.book import kept_names
from spares.domain.document_kinds import DOCUMENTS
from spares.domain.identity import id_of, ref
from spares.domain.movements import Entry
from spares.errors import NotFound

if TYPE_CHECKING:
    from spares.db.asking import Reader

#: The place of the flag in a record that says that it is gone.
GONE = 2
#: Documents that hang on a part, and the column that names it.
OF_PARTS = {"part": "id", "spec": "part", "number": "part", "link": "part", "lot": "part",
            "stand-in": "for_part"}


def load_aboard(reader: Reader, vessel: str, parts: Collection[str] | None = None) -> Aboard:
    """Read everything about the vessel with this id.

    Args:
        reader: What is asked: of a store that is looked at, or a session.
        vessel: The vessel's id [-].
        parts: Names of parts; if given, of parts and of what hangs on parts only
            theirs is read, and of those that their lines name, so that one line of
            twenty thousand is cheap [-].

    Raises:
        NotFound: the store holds no such vessel.
    """
    kept = kept_parts(reader, vessel)
    if parts is not None:
        asked = {kept.get(part, part) for part in parts}
        asked |= {kept.get(one, one) for one in named_beside(reader, vessel, asked)}
        parts = [*asked, *(part for part, name in kept.items() if name in asked and part != name)]
    docs = {kind: joined(_documents(reader, vessel, kind, parts), kind, kept)
            for kind in DOCUMENTS}
    if vessel not in docs["vessel"]:
        raise NotFound("there is no such vessel in this store", vessel=vessel)
    read = reads_json(reader)
    return Aboard(
        vessel=docs["vessel"][vessel], docs=docs, lying=tuple(_lying(reader, vessel, docs, parts)),
        readings=tuple(MeterReading(*row) for row in _live(
            reader, vessel, "reading", "change_id, machine, date, minutes, because, doubt, at")),
        done=tuple(Done(*row, tuple(kept.get(part, part) for part in read(failed) or ()))
                   for *row, failed in _live(
                       reader, vessel, "service_record", "change_id, service, machine, date, "
                       'minutes, proof, "by", note, at, failed')),
        fitted=tuple(Fitted(change, point, kept.get(part, part), on, at, why)
                     for change, point, part, on, at, why in _live(
                         reader, vessel, "fitting", "change_id, point, part, date, at, why")),
        kept_parts=kept, rivals=_rivals(reader, vessel, docs))


def joined(records: dict[str, Any], kind: str, kept: dict[str, str]) -> dict[str, Any]:
    """Let what was said of a merged part speak of the one that was kept."""
    if not kept:
        return records
    names = [name for name, spec in DOCUMENTS[kind].items() if "part" in spec.among]
    found = {}
    for ident, one in records.items():
        moved = {name: kept[value] for name in names
                 if (value := getattr(one, name)) in kept and kept[value] != value}
        if kind == "part" and kept.get(f"part/{ident}", f"part/{ident}") != f"part/{ident}":
            moved["gone"] = True
        found[ident] = one._replace(**moved) if moved else one
    return found


def kept_parts(reader: Reader, vessel: str) -> dict[str, str]:
    """Give, for each part that was merged into another, the name that was kept."""
    rows = ask(reader, 'SELECT change_id, at, keep, "drop" FROM sameness '
               'WHERE vessel = :vessel AND change_id NOT IN (SELECT "of" FROM settlement '
               "WHERE vessel = :vessel AND kind = 'void')", vessel=vessel)
    return kept_names(Entry(ident, "", 0, "same", at, 0, None, {}, {"keep": keep, "drop": drop})
                      for ident, at, keep, drop in rows)


def _documents(reader: Reader, vessel: str, kind: str,
               parts: Collection[str] | None) -> dict[str, Any]:
    make, turned = RECORDS[kind]._make, _turned(kind) if is_sqlite(reader) else ()
    if parts is None or kind not in OF_PARTS:
        rows = ask(reader, _of_vessel(kind), vessel=vessel)
    else:
        wanted = [id_of(part) for part in parts] if kind == "part" else parts
        among = f'AND "{OF_PARTS[kind]}" {is_in(reader, "parts")}'
        rows = ask(reader, _of_vessel(kind, among), vessel=vessel, parts=listed(wanted))
    if turned:
        rows = (_read_row(row, turned) for row in rows)
    return {row[0]: make(row) for row in rows}


def _of_vessel(kind: str, among: str = "") -> str:
    columns = ", ".join(f'"{name}"' for name in ("id", "vessel", "gone", *DOCUMENTS[kind]))
    # A database would put those without a number behind all others, a file puts them in front.
    order = "no NULLS FIRST, id" if "no" in DOCUMENTS[kind] else "id"
    return (f"SELECT {columns} FROM {TABLE_OF[kind]} "
            f"WHERE vessel = :vessel {among} ORDER BY {order}")


@cache
def _turned(kind: str) -> tuple[tuple[int, Callable[[Any], Any]], ...]:
    """Give the places in a row at which a file keeps flags as numbers and JSON as text."""
    types = {"flag": bool, **dict.fromkeys(AS_JSON, orjson.loads)}
    return ((GONE, bool), *((place, types[spec.type]) for place, spec in enumerate(
        DOCUMENTS[kind].values(), GONE + 1) if spec.type in types))


def _read_row(row: tuple[Any, ...], turned: tuple[tuple[int, Callable[[Any], Any]], ...],
              ) -> list[Any]:
    values = list(row)
    for place, read in turned:
        if values[place] is not None:
            values[place] = read(values[place])
    return values


def _rivals(reader: Reader, vessel: str, docs: dict[str, dict[str, Any]],
            ) -> dict[str, dict[str, tuple[Any, ...]]]:
    """Give the values of trails that still stand side by side, in the order of their stamps."""
    named = [ref(kind, ident) for kind in ("trail", "trail-place") for ident in docs[kind]]
    return {doc: {name: tuple(_each_once([one.value for one in heads]))
                  for name, heads in fields.items()}
            for doc, fields in heads_apart(reader, vessel, named).items()}


def _each_once(values: list[Any]) -> list[Any]:
    """Leave out what stands there already; a value may be a list or table."""
    return [value for place, value in enumerate(values) if value not in values[:place]]


def _lying(reader: Reader, vessel: str, docs: dict[str, dict[str, Any]],
           parts: Collection[str] | None) -> list[Lying]:
    among = "" if parts is None else f"AND part {is_in(reader, 'parts')}"
    rows = ask(reader, "SELECT part, locker, lot, quantity, low, high, doubts, rivals, flags "
               f"FROM cell WHERE vessel = :vessel {among} ORDER BY part, locker, lot",
               vessel=vessel, **({} if parts is None else {"parts": listed(parts)}))
    read = reads_json(reader)
    found = [Lying(part, locker, lot, quantity, low, high,
                   *[() if one == "[]" else tuple(read(one)) for one in lists])
             for part, locker, lot, quantity, low, high, *lists in rows]
    there = {(one.part, one.locker, one.lot) for one in found if one.lot}
    for lot in docs["lot"].values():
        key = (lot.part, lot.lies_in, f"lot/{lot.id}")
        if lot.lies_in and not lot.gone and key not in there:
            found.append(Lying(*key, 0, 0, 0, counted=False))
    return found


def _live(reader: Reader, vessel: str, table: str, columns: str) -> Iterable[Any]:
    return ask(reader, f"SELECT {columns} FROM {table} WHERE vessel = :vessel AND NOT voided "
               "ORDER BY at", vessel=vessel)
