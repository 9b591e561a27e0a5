"""Rows that describe things: each becomes the setting of one document's fields."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from spares.domain import documents
from spares.domain.cautions import cautions_for, hazard_words
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput
from spares.transfer.bringing import Bringing
from spares.transfer.columns import TABLES
from spares.transfer.tables import Row

#: Tables in an order in which what is named mostly comes before what names it.
ORDER = ("vessel", "lockers", "machines", "parts", "numbers", "inner_points", "points",
         "requirements", "specs", "links", "stand_ins", "services", "kits", "keep", "trips",
         "trip_hours", "trip_accepts", "failures", "orders", "trails", "trail_places",
         "findings", "joints", "drain_points", "drain_records", "gauges", "gauge_readings",
         "test_runs", "daily_runs", "joint_records", "count_doubts", "lessons",
         "decks", "deck_lines", "deck_places", "photo_marks")

#: What holds for a new thing when its cell is empty or its column not there.
_NEW: dict[str, dict[str, Any]] = {
    "lockers": {"aboard": True, "reachable": True},
    "parts": {"unit": "pcs", "made": "not-known"},
    "points": {"pieces": 1},
    "inner_points": {"pieces": 1},
    "links": {"role": "takes"},
}

Values = dict[str, Any]


def document_drafts(bringing: Bringing) -> Iterator[Draft]:
    """Give the drafts for all tables that describe things, faults noted in *bringing*."""
    codes: dict[str, str] = {}
    for table in ORDER:
        for row, values in bringing.rows(table):
            yield from _document(bringing, table, row, values)
            _code_once(bringing, table, row, codes)


def check_fields(bringing: Bringing, table: str, row: Row, kind: str, fields: Values) -> bool:
    """Note what is wrong with the fields of a document; True if nothing is."""
    columns = {c.doc_field: c.name for c in TABLES[table].columns}
    count = bringing.faults.count
    for name, value in fields.items():
        detail = documents.fault(kind, name, value)
        if detail:
            bringing.fault(table, row, columns.get(name, name), detail)
    return bringing.faults.count == count


def _document(bringing: Bringing, table: str, row: Row, values: Values) -> Iterator[Draft]:
    kind = TABLES[table].kind or ""
    fields = {c.doc_field: values[c.name] for c in TABLES[table].columns
              if c.doc_field and c.name in values}
    more = _MORE.get(table)
    if more is not None:
        fields |= more(bringing, row, values)
    ident = _ident(bringing, table, values)
    usual = _NEW.get(table, {})
    fields = {name: usual.get(name) if v is None else v for name, v in fields.items()}
    if not bringing.is_there(ref(kind, ident)):
        fields = {**usual, **{name: v for name, v in fields.items() if v is not None}}
    if _words_are_known(bringing, table, row) and check_fields(bringing, table, row, kind, fields):
        doc = ref(kind, ident)
        yield setting(doc, **fields)
        if table == "services":
            yield from _further_points(doc, values)


def _ident(bringing: Bringing, table: str, values: Values) -> str:
    kind, key = TABLES[table].kind or "", TABLES[table].key
    if table == "vessel":
        return bringing.vessel
    if key == ("no",):
        return bringing.names.id(kind, values["no"])
    return joined_id(kind, *(str(values.get(column) or "") for column in key))


def _further_points(service: str, values: Values) -> Iterator[Draft]:
    for point in values.get("also_at") or []:
        yield setting(ref("service-at", joined_id("service-at", service, point)),
                      service=service, point=point)


def _price(bringing: Bringing, row: Row, values: Values) -> Values:
    if "price" not in values:
        return {}
    minor, currency = values["price"], values.get("currency")
    if minor is not None and not currency:
        bringing.fault("parts", row, "currency", "a price needs its currency, such as EUR")
        return {}
    return {"price": None if minor is None else {"minor": minor, "currency": currency}}


def _claim(bringing: Bringing, row: Row, values: Values) -> Values:
    origin = {name: values[name] for name in ("how", "when", "by") if values.get(name)}
    claim = {name: values[name] for name in ("cmp", "unit", "tol", "u", "severity")
             if values.get(name) is not None}
    claim |= values.get("more") or {}
    if origin:
        claim["origin"] = origin
    return {"claim": {"value": values.get("value"), **claim}}


def _service_place(bringing: Bringing, row: Row, values: Values) -> Values:
    """A service at a fit point is at that point's machine."""
    machine, point = values.get("machine"), values.get("point")
    if machine is None and point is None:
        bringing.fault("services", row, "machine", "a machine or a fit point is needed")
    expected = _machine_of(bringing, row.get("point"), point) if point else None
    if machine is None:
        return {"machine": expected}
    if expected is not None and machine != expected:
        bringing.fault("services", row, "machine", f"{row.get('point')} is not on this machine")
    return {}


def _machine_of(bringing: Bringing, no: str, point: str) -> str | None:
    in_files = bringing.names.rows["point"].get(no.removeprefix("point/"))
    if in_files is not None:
        return bringing.ready("points", in_files, "machine")
    there = bringing.aboard.get(point) if bringing.aboard is not None else None
    return there.machine if there is not None else None


def _inside(bringing: Bringing, row: Row, values: Values) -> Values:
    """A fit point inside a part names the point it lies at, the part, and which of it."""
    given = [name for name in ("parent", "as_part", "template") if values.get(name)]
    if given and len(given) < 3:
        lacking = next(n for n in ("parent", "as_part", "template") if n not in given)
        bringing.fault("points", row, lacking, f"must stand with {' and '.join(given)}")
    return {}


_MORE: dict[str, Callable[[Bringing, Row, Values], Values]] = {
    "parts": _price, "orders": _price, "requirements": _claim, "specs": _claim,
    "services": _service_place, "points": _inside,
}


def _words_are_known(bringing: Bringing, table: str, row: Row) -> bool:
    """Cautions are called by known words only, so that none is lost to a slip."""
    for column in ("hazards", "cautions"):
        if column in TABLES[table].by_name:
            try:
                cautions_for(hazard_words(row.get(column)))
            except InvalidInput as err:
                bringing.fault(table, row, column, err.facts["errors"][0]["detail"])
                return False
    return True


def _code_once(bringing: Bringing, table: str, row: Row, codes: dict[str, str]) -> None:
    code = row.get("code") if table in ("lockers", "machines") else None
    if code:
        here = f"{TABLES[table].file}, row {row.number}"
        if codes.setdefault(code, here) != here:
            bringing.fault(table, row, "code", f"stands on {codes[code]} already")
