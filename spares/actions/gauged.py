"""Gauges and test runs: what was read at a machine beside its hours, and the book's limits."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from spares.actions.amounts import day, minutes
from spares.actions.context import Context, in_turn
from spares.actions.documents import revived
from spares.actions.stock_moves import a_change_id, as_one_act, is_known
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, numbered_id, ref
from spares.errors import InvalidInput

Fields = dict[str, Any]
_FIGURE = re.compile(r"-?\d{1,9}(\.\d{1,6})?")


@in_turn
def gauge(ctx: Context, machine: str, name: str, *, unit: str | None = None,
          place: str | None = None, low: Any = None, high: Any = None, source: str | None = None,
          by: str | None = None, at: str | None = None, cleaned_by: str | None = None,
          note: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Write down a gauge and the limits that the maker's book gives for it.

    What is left out stays as it is; an empty text takes it out.

    Args:
        ctx: Where it happens.
        machine, name: Whose gauge, and what it shows, such as coolant [-].
        unit, place: Its unit, such as °C, and where on the machine it is read [-].
        low, high: Limits of the maker's book [the gauge's unit].
        source: Where the limits stand, in words: book and page [-].
        by, at: Who entered them, and when; today unless said [-].
        cleaned_by: The service after which the trend begins anew [-].
        note, change_id: Free text; chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: machine or service cannot be told.
        InvalidInput: limits that are no numbers or the wrong way round, or limits without a
            source.
    """
    given = {"unit": unit, "place": place, "source": source, "by": by, "note": note}
    fields: Fields = {key: _words(one) for key, one in given.items() if one is not None}
    fields |= {key: figure(one, key) for key, one in (("low", low), ("high", high))
               if one is not None}
    ident, aboard = a_change_id(change_id), ctx.aboard()
    doc, begun = gauge_of(ctx, aboard, ctx.named(machine, "machine", "machine"), name, unit)
    _check_limits(aboard, doc, fields)
    if "low" in fields or "high" in fields:
        fields["on"] = day(at, "at", ctx.today)
    if cleaned_by is not None:
        fields["cleaned_by"] = ctx.named(cleaned_by, "cleaned_by", "service") \
            if cleaned_by.strip() else None
    fields = {**begun, **fields}
    if not fields:
        raise InvalidInput.at("#/unit", "say what is to be written down of it")
    if was_new := not is_known(ctx, ident, "set", doc=doc):
        ctx.write([replace(setting(doc, **revived(aboard, doc, fields)), id=ident)])
    label = ctx.aboard().label(doc)
    return {"change": ident, "kind": "gauge", "was_new": was_new, "gauge": label,
            "text": f"{label}: limits" if "on" in fields else label}


@in_turn
def gauged(ctx: Context, machine: str, name: str, value: Any, *, unit: str | None = None,
           run: Any = None, rpm: int | None = None, load_percent: int | None = None,
           place: str | None = None, by: str | None = None, at: str | None = None,
           note: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record what a gauge of a machine shows; one that nobody wrote down yet is begun.

    Args:
        ctx: Where it happens.
        machine, name: Whose gauge, and what it shows, such as coolant [-].
        value: The figure [the gauge's unit].
        unit: Its unit; needed the first time [-].
        run: What the hour counter shows [h].
        rpm, load_percent: Speed and load at which it was read [1/min], [%].
        place, by, note: Where it was read, who, free text [-].
        at: The day; today unless said [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the machine cannot be told.
        InvalidInput: no figure, another unit than the gauge's, a day to come.
    """
    shown = figure(value, "value")
    if shown is None:
        raise InvalidInput.at("#/value", "a number is needed")
    ident, on = a_change_id(change_id), _not_to_come(ctx, at)
    aboard = ctx.aboard()
    doc, begun = gauge_of(ctx, aboard, ctx.named(machine, "machine", "machine"), name, unit)
    if begun and _words(place):
        begun["place"] = _words(place)
    record, fields = _record(doc, on, shown)
    fields |= {"minutes": None if run in (None, "") else minutes(run, "hours"), "rpm": rpm,
               "load_percent": load_percent, "by": _words(by), "note": _words(note)}
    if was_new := not is_known(ctx, ident, "set", doc=record):
        drafts = [replace(setting(record, **revived(aboard, record, fields)), id=ident),
                  *([setting(doc, **revived(aboard, doc, begun))] if begun else [])]
        ctx.write(as_one_act(drafts, ident))
    aboard = ctx.aboard()
    return {"change": ident, "kind": "gauged", "was_new": was_new, "gauge": aboard.label(doc),
            "text": f"{aboard.label(doc)}: {shown} {aboard.get(doc).unit or ''}".rstrip()}


@in_turn
def test_run(ctx: Context, machine: str, *, service: str | None = None,
             readings: Sequence[Fields] = (), leaks: str | None = None,
             accepted_by: str | None = None, by: str | None = None, at: str | None = None,
             note: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record the first run of a machine after work: figures by minute, leaks, who accepted it.

    Args:
        ctx: Where it happens.
        machine: Which ran [-].
        service: The service that it followed [-].
        readings: Each with `name`, `unit`, `minute` [min] and `value` [unit].
        leaks: Where leaks were looked for, and what was seen [-].
        accepted_by: Who takes the machine as good [-].
        by, at, note: Who read, the day (today unless said), free text [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: machine or service cannot be told.
        InvalidInput: nothing is said, no figure, or a day to come.
    """
    ident, on, aboard = a_change_id(change_id), _not_to_come(ctx, at), ctx.aboard()
    name = ctx.named(machine, "machine", "machine")
    job = ctx.named(service, "service", "service") if service else None
    if not readings and not _words(leaks) and not _words(accepted_by):
        raise InvalidInput.at("#/readings", "say what was read, seen or accepted")
    doc = ref("test-run", joined_id("test-run", name, on, job or ""))
    drafts: list[Draft] = []
    begun_here: set[str] = set()
    for place, one in enumerate(readings):
        value = figure(one.get("value"), f"readings/{place}/value")
        if value is None:
            raise InvalidInput.at(f"#/readings/{place}/value", "a number is needed")
        gauge_doc, begun = gauge_of(ctx, aboard, name, one.get("name", ""), one.get("unit"),
                                    f"readings/{place}/")
        if begun and gauge_doc not in begun_here:
            begun_here.add(gauge_doc)
            drafts.append(setting(gauge_doc, **revived(aboard, gauge_doc, begun)))
        record, fields = _record(gauge_doc, on, value, job, one.get("minute"))
        drafts.append(setting(record, **revived(aboard, record, {**fields, "by": _words(by)})))
    fields = {"machine": name, "service": job, "on": on, "leaks": _words(leaks),
              "accepted_by": _words(accepted_by), "by": _words(by), "note": _words(note)}
    if was_new := not is_known(ctx, ident, "set", doc=doc):
        first = replace(setting(doc, **revived(aboard, doc, fields)), id=ident)
        ctx.write(as_one_act([first, *drafts], ident))
    return {"change": ident, "kind": "test-run", "was_new": was_new,
            "text": f"Test run of {aboard.label(name)} on {on}", "machine": aboard.label(name)}


def _check_limits(aboard: Aboard, doc: str, fields: Fields) -> None:
    """Refuse limits the wrong way round, and limits of which nobody says where they stand."""
    now = {**{key: getattr(aboard.get(doc), key, None) for key in ("low", "high", "source")},
           **fields}
    if now["low"] and now["high"] and Decimal(now["low"]) > Decimal(now["high"]):
        raise InvalidInput.at("#/high", "the upper limit is below the lower one")
    if (now["low"] or now["high"]) and not now["source"]:
        raise InvalidInput.at("#/source", "say where the limit stands: book and page")


def gauge_of(ctx: Context, aboard: Aboard, machine: str, name: str, unit: str | None,
             field: str = "") -> tuple[str, Fields]:
    """Give the gauge of a machine that bears a name, and the fields that begin it if it is new.

    Raises:
        InvalidInput: no name, no unit for a new one, or another unit than it has.
    """
    wanted, unit = " ".join((name or "").split()), _words(unit)
    if not wanted:
        raise InvalidInput.at(f"#/{field}name", "say what was read, such as coolant")
    for one in aboard.all("gauge"):
        if one.machine == machine and (one.name or "").casefold() == wanted.casefold():
            if unit and one.unit and unit != one.unit:
                raise InvalidInput.at(f"#/{field}unit", f"this gauge shows {one.unit}")
            return ref("gauge", one.id), {}
    if not unit:
        raise InvalidInput.at(f"#/{field}unit", "say the unit, such as °C")
    no = f"{aboard.get(machine).no} {wanted.lower()}"
    return ref("gauge", numbered_id(ctx.vessel, "gauge", no)), {
        "no": no, "name": wanted, "machine": machine, "unit": unit}


def figure(value: Any, field: str) -> str | None:
    """Read a figure with comma or point as text, None where none is given.

    Raises:
        InvalidInput: it is no number.
    """
    if value in (None, "") or isinstance(value, bool):
        return None
    text = str(value).strip().replace(",", ".").replace("−", "-")
    if not _FIGURE.fullmatch(text):
        raise InvalidInput.at(f"#/{field}", "a number is needed")
    return text


def _record(gauge_doc: str, on: str, value: str, service: str | None = None,
            minute: int | None = None) -> tuple[str, Fields]:
    """Name a reading by what it says, so that the same one in a file is this one."""
    ends = (gauge_doc, on, value, service or "", str(minute or ""))
    fields = {"gauge": gauge_doc, "on": on, "value": value}
    more = {"service": service, "minute": minute}
    return ref("gauge-reading", joined_id("gauge-reading", *ends)), {
        **fields, **{key: one for key, one in more.items() if one is not None}}


def _not_to_come(ctx: Context, at: str | None) -> str:
    on = day(at, "at", ctx.today)
    if on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    return on


def _words(text: str | None) -> str | None:
    return (text or "").strip() or None
