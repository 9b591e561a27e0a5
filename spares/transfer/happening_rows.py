"""Rows that say what happened: what was fitted, read, done, and what lies where.

Their changes have ids made from what the row says, so a file that comes twice
changes nothing. Counts are one statement together: `stock.csv` says what lay in
its lockers when it was made, and only the same counts again change nothing.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Any

from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, ref
from spares.transfer.bringing import Bringing
from spares.transfer.document_rows import check_fields
from spares.transfer.tables import Row

Values = dict[str, Any]
NEW = "new"
UNCOUNTED = "?"


def happening_drafts(bringing: Bringing) -> Iterator[Draft]:
    """Give the drafts of what happened, oldest first, then what lies where."""
    yield from _exchanges(bringing)
    yield from _readings(bringing)
    yield from _done(bringing)
    yield from _stock(bringing)


def _exchanges(bringing: Bringing) -> Iterator[Draft]:
    rows = sorted(bringing.rows("fitted"), key=lambda pair: pair[1].get("since") or "")
    sits: dict[str, str] = {}
    for row, values in rows:
        point, part = values["point"], values.get("part") or ""
        body = _without_none(point=point, part=part, date=values.get("since"),
                             old_part=sits.get(point) or None, why=values.get("why"),
                             note=values.get("note"))
        sits[point] = part
        yield Draft("exchange", body, bringing.change_id(
            "fitted", point, part, row.get("since") or ""))


def _readings(bringing: Bringing) -> Iterator[Draft]:
    for row, values in _by_date(bringing, "readings"):
        body = _without_none(machine=values["machine"], minutes=values["hours"],
                             date=values["date"], because=values.get("because"),
                             doubt=values.get("doubt"))
        yield Draft("reading", body, bringing.change_id(
            "reading", values["machine"], row.get("date"), values["hours"]))


def _done(bringing: Bringing) -> Iterator[Draft]:
    for row, values in _by_date(bringing, "done"):
        if values.get("date") is None and values.get("hours") is None:
            bringing.fault("done", row, "date", "a date or the hours are needed")
            continue
        body = _without_none(service=values["service"], date=values.get("date"),
                             minutes=values.get("hours"), proof=values.get("proof"),
                             by=values.get("by"), note=values.get("note"),
                             failed=values.get("failed") or None)
        yield Draft("service", {**body, "lines": []}, bringing.change_id(
            "done", values["service"], row.get("date") or "", row.get("hours")))


def _by_date(bringing: Bringing, table: str) -> list[tuple[Row, Values]]:
    return sorted(bringing.rows(table), key=lambda pair: pair[1].get("date") or "")


def _stock(bringing: Bringing) -> Iterator[Draft]:
    lots: dict[str, Values] = {}
    counts: list[Values] = []
    for row, values in bringing.rows("stock"):
        lot = _lot(bringing, row, values)
        if lot and not _agrees(bringing, row, lots, lot):
            continue
        if values["quantity"] != UNCOUNTED:
            counts.append({"part": values["part"], "locker": values["locker"],
                           "lot": lot.get("doc", ""), "q": values["quantity"]})
    for lot in lots.values():
        yield setting(lot["doc"], **lot["fields"])
    file = _digest(counts)
    for body in counts:
        yield Draft("counted", body, bringing.change_id("counted", file, *body.values()))


def _lot(bringing: Bringing, row: Row, values: Values) -> Values:
    """Give name and fields of a row's lot; {} for plain new pieces, which need none."""
    part, locker = values["part"], values["locker"]
    fields = {name: values.get(name) for name in
              ("condition", "expires", "batch", "reserved", "code", "note")}
    fields["condition"] = fields["condition"] or NEW
    uncounted = values["quantity"] == UNCOUNTED
    if not uncounted and not any(v for k, v in fields.items() if (k, v) != ("condition", NEW)):
        return {}
    # The id is made of what the file says: it stays when dates move to another day zero.
    ends = [part, fields["condition"], row.get("expires") or "", row.get("batch") or "",
            row.get("code") or ""]
    if uncounted:
        ends += ["lies-in", locker]
        fields["lies_in"] = locker
    fields = {"part": part, **{k: v for k, v in fields.items() if v is not None}}
    if not check_fields(bringing, "stock", row, "lot", fields):
        return {}
    return {"doc": ref("lot", joined_id("lot", *ends)), "fields": fields, "row": row.number}


def _agrees(bringing: Bringing, row: Row, lots: dict[str, Values], lot: Values) -> bool:
    """Rows of one lot in several lockers must say the same of it."""
    first = lots.setdefault(lot["doc"], lot)
    for column in ("reserved", "note"):
        if first["fields"].get(column) != lot["fields"].get(column):
            bringing.fault("stock", row, column, f"row {first['row']} says otherwise of this lot")
            return False
    return True


def _digest(counts: list[Values]) -> str:
    lines = sorted("|".join(map(str, body.values())) for body in counts)
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def _without_none(**body: Any) -> Values:
    return {name: value for name, value in body.items() if value is not None}
