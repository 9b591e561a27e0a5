"""A vessel's records as rows of the import format: the reverse of bringing them in.

Rows that speak of a thing that is gone are left out; where only a cell would, the
cell stays empty.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from spares.domain.aboard import Aboard
from spares.domain.identity import kind_of, ref
from spares.domain.shapes import Renamed
from spares.domain.trip_fields import shown
from spares.transfer.columns import Column, Table
from spares.transfer.happening_rows import NEW, UNCOUNTED

Values = dict[str, Any]


def table_rows(aboard: Aboard, table: Table) -> Iterator[Values]:
    """Give the rows of one table, numbers instead of references."""
    make = _OWN.get(table.name)
    rows = make(aboard) if make is not None else _documents(aboard, table)
    shared = {column.name: _shared_numbers(aboard, column) for column in table.columns}
    found = [_numbered(aboard, table, row, shared) for row in rows]
    yield from sorted((row for row in found if row is not None), key=lambda row: [
        str(row.get(column) or "") for column in table.key])


def _documents(aboard: Aboard, table: Table) -> Iterator[Values]:
    more = _MORE.get(table.name)
    records = [aboard.vessel] if table.name == "vessel" else aboard.all(table.kind or "")
    for record in records:
        row = {column.name: getattr(record, column.doc_field)
               for column in table.columns if column.doc_field}
        if more is not None:
            row |= more(aboard, ref(table.kind or "", record.id), record)
        if "no" in row:
            row["no"] = number_of(aboard, ref(table.kind or "", record.id))
        yield row


def number_of(aboard: Aboard, name: str) -> str:
    """Give the number by which the files call a document; one without gets one here.

    A fit point inside a part model is called after the part: P036.1, P036.2.
    """
    record = aboard.get(name)
    if getattr(record, "no", None):
        return str(record.no).strip()
    if kind_of(name) == "inner" and record is not None and aboard.get(record.part) is not None:
        same = sorted(one.id for one in aboard.by("inner", "part").get(record.part, ()))
        return f"{number_of(aboard, record.part)}.{same.index(record.id) + 1}"
    return name.partition("/")[2]


def _numbered(aboard: Aboard, table: Table, row: Values,
              shared: dict[str, set[str]]) -> Values | None:
    """Write references as numbers; None if the row speaks of a thing that is not there."""
    found = dict(row)
    for column in table.columns:
        value = row.get(column.name)
        if column.shape:
            found[column.name] = shown(column.shape, value, _short_name(aboard))
            continue
        if not column.names or value is None or value == "":
            continue
        if isinstance(value, list):
            found[column.name] = [number_of(aboard, one) for one in value if _there(aboard, one)]
        elif _there(aboard, value):
            number = number_of(aboard, value)
            kind = f"{kind_of(value)}/" if number in shared[column.name] else ""
            found[column.name] = kind + number
        elif column.needed or column.name in table.key:
            return None
        else:
            found[column.name] = None
    return {name: None if value in ("", []) else value for name, value in found.items()}


def _short_name(aboard: Aboard) -> Renamed:
    """Give what lists call a thing; one that is gone keeps its document's name."""
    def name(value: Any, kinds: tuple[str, ...], path: str) -> Any:
        return number_of(aboard, value) if _there(aboard, value) else value
    return name


def _shared_numbers(aboard: Aboard, column: Column) -> set[str]:
    """Numbers that mean more than one of the things which a column may name."""
    if len(column.names) < 2:
        return set()
    count = Counter(number_of(aboard, ref(kind, one.id))
                    for kind in column.names for one in aboard.all(kind))
    return {number for number, times in count.items() if times > 1}


def _there(aboard: Aboard, name: str) -> bool:
    record = aboard.get(name)
    return record is not None and not record.gone


def _price(aboard: Aboard, name: str, part: Any) -> Values:
    price = part.price or {}
    return {"price": price.get("minor"), "currency": price.get("currency")}


def _claim(aboard: Aboard, name: str, record: Any) -> Values:
    claim = dict(record.claim or {})
    origin = claim.pop("origin", None) or {}
    own = {key: claim.pop(key, None) for key in ("cmp", "value", "unit", "tol", "u", "severity")}
    own |= {key: origin.get(key) for key in ("how", "when", "by")}
    return {**own, "more": claim or None}


def _also_at(aboard: Aboard, name: str, service: Any) -> Values:
    further = [one.point for one in aboard.by("service-at", "service").get(name, ())]
    return {"also_at": sorted(further, key=aboard.label)}


_MORE: dict[str, Callable[[Aboard, str, Any], Values]] = {
    "parts": _price, "orders": _price, "requirements": _claim, "specs": _claim,
    "services": _also_at,
}


def _stock(aboard: Aboard) -> Iterator[Values]:
    """What lies where; lots that only their id tells apart are one row."""
    sums: dict[tuple[Any, ...], Any] = defaultdict(int)
    lots: dict[tuple[Any, ...], Any] = {}
    for one in aboard.lying:
        lot = aboard.get(one.lot)
        key = (one.part, one.locker, getattr(lot, "condition", None) or NEW,
               *(getattr(lot, name, None) for name in ("expires", "batch", "code")))
        lots[key] = lot
        if not one.counted:
            sums[key] = UNCOUNTED
        elif sums[key] != UNCOUNTED:
            sums[key] += max(one.quantity, 0)
    for key in sums:
        if sums[key] != 0:
            row = dict(zip(("part", "locker", "condition", "expires", "batch", "code"), key,
                           strict=True))
            yield {**row, "quantity": sums[key], "reserved": getattr(lots[key], "reserved", None),
                   "note": getattr(lots[key], "note", None)}


def _fitted(aboard: Aboard) -> Iterator[Values]:
    for one in aboard.fitted:
        yield {"point": one.point, "part": one.part, "since": one.date, "why": one.why}


def _readings(aboard: Aboard) -> Iterator[Values]:
    for one in aboard.readings:
        if one.minutes is not None:
            yield {"machine": one.machine, "date": one.date, "hours": one.minutes,
                   "because": one.because, "doubt": one.doubt}


def _done(aboard: Aboard) -> Iterator[Values]:
    for one in aboard.done:
        yield {"service": one.service, "date": one.date, "hours": one.minutes,
               "proof": one.proof, "by": one.by, "note": one.note,
               "failed": list(one.failed)}


_OWN: Mapping[str, Callable[[Aboard], Iterator[Values]]] = {
    "stock": _stock, "fitted": _fitted, "readings": _readings, "done": _done,
}
