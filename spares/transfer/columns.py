"""Which tables there are, which columns each has, and what a column means.

This is the one list of the import format: the reader, the importer and the
export follow it. `field` is the document's field where its name differs;
columns whose field is None are dealt with by the table's own code.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True)
class Column:
    """A column: its cells' type, whether it must be there, which kinds of thing it names."""

    name: str
    type: str = "text"
    needed: bool = False
    names: tuple[str, ...] = ()
    field: str | None = ""
    shape: str = ""

    @property
    def doc_field(self) -> str | None:
        """Name of the document's field, None where the table's own code decides."""
        return self.name if self.field == "" else self.field


@dataclass(frozen=True)
class Table:
    """A table: the kind of document of each row and the columns that tell rows apart."""

    name: str
    kind: str | None
    key: tuple[str, ...]
    columns: tuple[Column, ...]

    @property
    def file(self) -> str:
        """Name of the table's file."""
        return f"{self.name}.csv"

    @cached_property
    def by_name(self) -> dict[str, Column]:
        """The columns by name."""
        return {column.name: column for column in self.columns}


def _text(*names: str) -> tuple[Column, ...]:
    return tuple(Column(name) for name in names)


def _ref(name: str, *kinds: str, needed: bool = False) -> Column:
    return Column(name, "no", needed, kinds or (name,))


def _need(name: str, type_: str = "text", **more: str | None) -> Column:
    return Column(name, type_, needed=True, **more)


def _shaped(name: str, shape: str = "") -> Column:
    return Column(name, "shaped", shape=shape or name)


_NO, _NAME = _need("no", "no"), _need("name")
_PART = _ref("part", needed=True)
_CLAIM = (Column("value", "claimed", field=None), Column("unit", field=None),
          Column("u", "decimal", field=None), Column("how", field=None),
          Column("when", "day", field=None), Column("by", field=None),
          Column("more", "object", field=None))
_SEAT = (Column("pieces", "whole"), Column("weight"), Column("kind"), Column("place", "object"))

TABLES: dict[str, Table] = {table.name: table for table in (
    Table("vessel", "vessel", (), (
        _need("mark"), _NAME, *_text("about", "base"), Column("baseline_on", "full-day"),
        Column("day_zero", "full-day", field=None))),
    Table("lockers", "locker", ("no",), (
        _NO, _NAME, _ref("parent", "locker"), Column("code"), Column("aboard", "flag"),
        Column("reachable", "flag"), *_text("lent_to", "climate", "note"))),
    Table("machines", "machine", ("no",), (
        _NO, _NAME, *_text("maker", "model", "serial", "place", "counter"),
        _ref("counter_of", "machine"), *_text("code", "hazards", "weight"),
        _shaped("burns"), Column("note"))),
    Table("parts", "part", ("no",), (
        _NO, _NAME, *_text("maker", "number", "kind", "unit", "made"),
        Column("dropped_on", "day"), _ref("taken_over_by", "part"),
        Column("price", "minor", field=None), Column("currency", field=None),
        Column("lead_days", "whole"), Column("pack", "quantity"), Column("mass_g", "whole"),
        *_text("seller", "use", "note", "left_over", "left_over_note"))),
    Table("numbers", "number", ("part", "number"), (
        _PART, Column("maker"), _need("number"), Column("what"))),
    Table("inner_points", "inner", ("no",), (_NO, _PART, _NAME, *_SEAT)),
    Table("points", "point", ("no",), (
        _NO, _NAME, _ref("machine", needed=True), _ref("parent", "point"),
        _ref("as_part", "part"), _ref("template", "inner"), *_SEAT, *_text("hazards", "note"))),
    Table("requirements", "requirement", ("subject", "attribute", "how", "when", "by"), (
        _ref("subject", "point", "inner", needed=True), _need("attribute"),
        Column("cmp", field=None), Column("tol", "decimal", field=None),
        Column("severity", field=None), *_CLAIM)),
    Table("specs", "spec", ("part", "attribute", "how", "when", "by"), (
        _PART, _need("attribute"), *_CLAIM)),
    Table("links", "link", ("part", "to", "use", "with_part"), (
        _PART, _ref("to", "point", "inner", "machine", "part"), *_text("use", "role", "proof"),
        _ref("with_part", "part"), Column("note"), Column("on", "day"))),
    Table("stand_ins", "stand-in", ("part", "for_part"), (
        _PART, _ref("for_part", "part", needed=True), *_text("proof", "note"))),
    Table("stock", "lot", ("part", "locker", "condition", "expires", "batch", "code"), (
        _PART, _ref("locker", needed=True), _need("quantity", "count"), Column("condition"),
        Column("expires", "day"), Column("batch"), Column("reserved", "quantity"),
        *_text("code", "note"))),
    Table("services", "service", ("no",), (
        _NO, _need("what"), _ref("machine"), _ref("point"),
        Column("also_at", "names", names=("point",), field=None),
        Column("every_h", "hours", field="every_minutes"), Column("every_months", "whole"),
        Column("first_h", "hours", field="first_minutes"), *_text("weight", "cautions"),
        Column("in_port", "flag"), Column("not_wanted", "flag"), *_text("steps", "note"))),
    Table("kits", "kit-line", ("service", "part"), (
        _ref("service", needed=True), _PART, _need("quantity", "quantity", field="q"),
        Column("set_aside", "flag"), Column("share", "decimal"))),
    Table("keep", "keep", ("part",), (_PART, _need("quantity", "quantity", field="q"))),
    Table("trips", "trip", ("no",), (
        _NO, _NAME, Column("departs_on", "full-day"), Column("returns_on", "full-day"),
        Column("hours_before_departure"), Column("ready_days", "whole"),
        Column("crew", "whole"), Column("count_failures", "flag"),
        _shaped("at_anchor", "at-anchor"),
        *(_shaped(name) for name in ("protection", "limits", "prices", "legs", "energy", "water",
                                     "fuel", "stops")), *_text("border", "note"))),
    Table("trip_hours", "trip-hours", ("trip", "machine"), (
        _ref("trip", needed=True), _ref("machine", needed=True),
        _need("hours", "hours", field="minutes"))),
    Table("trip_accepts", "trip-accept", ("trip", "part"), (
        _ref("trip", needed=True), _PART, Column("by"), Column("on", "day"), Column("note"))),
    Table("failures", "failure", ("part", "machine", "point"), (
        _PART, _ref("machine"), _ref("point"), _shaped("figures"),
        Column("origin", "origin", shape="origin"),
        _ref("renewed_by", "service"), Column("note"))),
    Table("orders", "order", ("no",), (
        _NO, _PART, _ref("trip"), Column("quantity", "quantity", field="q"), Column("seller"),
        Column("price", "minor", field=None), Column("currency", field=None),
        *(Column(name, "full-day") for name in (
            "wanted_on", "ordered_on", "promised_on", "arrived_on", "stowed_on",
            "cancelled_on")),
        _ref("locker"), Column("note"))),
    Table("trails", "trail", ("no",), (
        _NO, _ref("machine", needed=True), _ref("point"), _need("what"),
        Column("of_pieces", "whole"), Column("missing", "whole"), Column("began_on", "full-day"),
        Column("by"), _shaped("accepted", "trail-accepted"),
        _shaped("first_run", "trail-first-run"), Column("note"))),
    Table("trail_places", "trail-place", ("no",), (
        _NO, _ref("trail", needed=True), Column("position", "whole"), _NAME,
        *_text("opens", "seal"), _ref("point"), _ref("part"), _shaped("look", "trail-look"),
        Column("note"))),
    Table("findings", "finding", ("about", "question", "origin"), (
        _ref("about", "machine", "point", "service", needed=True), _need("question"),
        _need("origin"), *_text("answer", "by"), Column("on", "day"), Column("note"))),
    Table("joints", "joint", ("no",), (
        _NO, _NAME, _ref("point"), _ref("service"), Column("pieces"),
        *(Column(name, "whole") for name in ("fasteners", "rows", "passes")),
        *_text("pattern", "thread", "strength", "surface", "torque", "page", "note"))),
    Table("drain_points", "drain-point", ("no",), (
        _NO, _NAME, _ref("machine", needed=True), Column("walk", "whole"),
        *_text("way", "plug", "cock", "note"))),
    Table("drain_records", "drain-record", ("point", "turn", "on"), (
        _ref("point", "drain-point", needed=True), _need("turn"), _need("on", "full-day"),
        Column("done"),
        Column("seen_to_run", "flag"), Column("protects_to_c", "decimal"), Column("cock"),
        *(Column(name, "flag") for name in ("plug_in", "seal_renewed", "no_leak")),
        *_text("by", "note"))),
    Table("gauges", "gauge", ("no",), (
        _NO, _NAME, _ref("machine", needed=True), *_text("unit", "place"),
        Column("low", "decimal"), Column("high", "decimal"), *_text("source", "by"),
        Column("on", "full-day"), _ref("cleaned_by", "service"), Column("note"))),
    Table("gauge_readings", "gauge-reading", ("gauge", "on", "value", "service", "minute"), (
        _ref("gauge", needed=True), _need("on", "full-day"), _need("value", "decimal"),
        Column("hours", "hours", field="minutes"), Column("rpm", "whole"),
        Column("load_percent", "whole"), _ref("service"), Column("minute", "whole"),
        *_text("by", "note"))),
    Table("test_runs", "test-run", ("machine", "on", "service"), (
        _ref("machine", needed=True), _need("on", "full-day"), _ref("service"),
        *_text("leaks", "accepted_by", "by", "note"))),
    Table("daily_runs", "daily-run", ("machine", "on"), (
        _ref("machine", needed=True), _need("on", "full-day"), _ref("trip"),
        Column("hours", "hours", field="minutes"),
        *(Column(name, "decimal") for name in ("litres", "charge_ah", "amps")),
        *_text("by", "note"))),
    Table("joint_records", "joint-record", ("joint", "on"), (
        _ref("joint", needed=True), _need("on", "full-day"), Column("torque_used"),
        Column("again_on", "full-day"), Column("again_at_h", "hours", field="again_at_minutes"),
        *_text("by", "note"))),
    Table("count_doubts", "count-doubt", ("part", "locker"), (
        _PART, _ref("locker", needed=True), Column("on", "full-day"), *_text("by", "note"))),
    Table("lessons", "lesson", ("service", "learner", "on"), (
        _ref("service", needed=True), _need("learner"), _need("on", "full-day"),
        *_text("seen", "confirmed_by", "note"))),
    Table("decks", "deck", ("no",), (_NO, _NAME, Column("position", "whole"), Column("note"))),
    Table("deck_lines", "deck-line", ("deck", "corners"), (
        _ref("deck", needed=True), _need("corners"), Column("closed", "flag"))),
    Table("deck_places", "deck-place", ("locker",), (
        _ref("locker", needed=True), _ref("deck", needed=True), _need("x", "whole"),
        _need("y", "whole"))),
    Table("photo_marks", "photo-mark", ("photo", "point"), (
        _need("photo"), _ref("point", needed=True), _need("x", "whole"), _need("y", "whole"))),
    Table("fitted", None, ("point", "since"), (
        _ref("point", needed=True), _ref("part"), Column("since", "day"), *_text("why", "note"))),
    Table("readings", None, ("machine", "date", "hours"), (
        _ref("machine", needed=True), _need("date", "day"), _need("hours", "hours"),
        *_text("because", "doubt"))),
    Table("done", None, ("service", "date", "hours"), (
        _ref("service", needed=True), Column("date", "day"), Column("hours", "hours"),
        *_text("proof", "by", "note"), Column("failed", "names", names=("part",)))),
)}
