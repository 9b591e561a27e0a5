"""The demo as files for others: read by readers that know nothing of us, and brought in again."""

from __future__ import annotations

import io
import json
import zipfile
from datetime import date
from pathlib import Path
from typing import Any

import icalendar
import pytest

from spares.actions.bring_in import bring_in
from spares.actions.context import Context
from spares.actions.done import done
from spares.actions.due import due
from spares.actions.exchange import exchange
from spares.actions.export import export_csv, export_ics, export_json
from spares.actions.lent import lent
from spares.actions.reading import reading
from spares.actions.took import took
from spares.actions.trip.restock import restock
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.domain.cautions import cautions_for, closing_sentence
from tests.demo.expected import DAY_ZERO
from tests.transfer.rfc4180 import NotCsv, read_csv


def _entries(ctx: Context, **how: Any) -> dict[str, Any]:
    """Give the calendar's entries by UID, through PyPI icalendar."""
    calendar = icalendar.Calendar.from_ical(export_ics(ctx, **how))
    assert (calendar["VERSION"], "PRODID" in calendar) == ("2.0", True)     # RFC 5545 3.6
    found = [one for one in calendar.walk() if one.name in ("VTODO", "VEVENT")]
    assert len({one["UID"] for one in found}) == len(found)
    return {str(one["UID"]): one for one in found}


def test_the_calendar_holds_every_service_with_a_day_and_no_other(demo: Context) -> None:
    dated = {one["service"]: one for one in due(demo)["services"]
             if one["due_on"] and one["state"] != "not-wanted"}
    entries = _entries(demo).values()
    assert len(dated) > 20
    assert {one["SUMMARY"].split()[0]: one.decoded("DUE").isoformat() for one in entries} == {
        no: one["due_on"] for no, one in dated.items()}
    for one in entries:
        line = dated[one["SUMMARY"].split()[0]]
        assert ("Estimated date." in one.get("DESCRIPTION", "")) == line["estimated"]
        assert all(remark in one["DESCRIPTION"] for remark in line["remarks"])
        assert one["SUMMARY"].startswith(f"{line['service']} {line['what']} (")


def test_a_calendar_entry_names_the_cautions_and_who_decides(demo: Context) -> None:
    by_no = {one["SUMMARY"].split()[0]: one for one in _entries(demo).values()}
    hazardous = [one for one in due(demo)["services"]
                 if one["cautions"] and one["service"] in by_no]
    assert hazardous
    for line in hazardous:
        text = by_no[line["service"]]["DESCRIPTION"]
        assert all(one.text in text for one in cautions_for(line["cautions"]))
        assert text.endswith(closing_sentence())


def test_an_entry_keeps_its_uid_and_rises_when_its_service_was_done(own_demo: Context) -> None:
    before = _entries(own_demo)
    uid = next(uid for uid, one in before.items() if one["SUMMARY"].startswith("S01 "))
    done(own_demo, "S01", kit=False)
    after = _entries(own_demo)
    assert after.keys() >= before.keys() - {uid} and uid in after
    assert after[uid]["SEQUENCE"] > before[uid]["SEQUENCE"]
    assert after[uid].decoded("DUE") > before[uid].decoded("DUE")
    others = before.keys() - {uid}
    assert {one: before[one].decoded("DUE") for one in others} == {
        one: after[one].decoded("DUE") for one in others}


def test_events_say_the_same_days_as_to_dos(demo: Context) -> None:
    events = _entries(demo, as_events=True)
    assert {uid: one.decoded("DTSTART") for uid, one in events.items()} == {
        uid: one.decoded("DUE") for uid, one in _entries(demo).items()}


@pytest.mark.parametrize("text", ["a,b", 'a"b\r\n', '"a"b\r\n', '"a', "a,b\r\nc\r\n", "a\nb\r\n",
                                  "a\tb\r\n"])
def test_the_strict_reader_is_strict(text: str) -> None:
    if text == "a,b":
        assert read_csv(text) == [["a", "b"]]       # the last line may go without CRLF (2.2)
        return
    with pytest.raises(NotCsv):
        read_csv(text)


def test_every_table_is_what_the_grammar_of_csv_allows(demo: Context) -> None:
    with zipfile.ZipFile(io.BytesIO(export_csv(demo))) as archive:
        tables = {name: read_csv(archive.read(name).decode()) for name in archive.namelist()}
    assert len(tables["parts.csv"]) == 1 + len(demo.aboard().all("part"))
    assert not any(cell[:1] in tuple("=+-@\t\r") for rows in tables.values()
                   for row in rows for cell in row if cell)


def _state(ctx: Context) -> dict[str, Any]:
    """Give all that is known aboard; ids and stamps of the changes that said it left out."""
    aboard = ctx.aboard()
    def said(some: Any, skip: tuple[str, ...] = ("change", "at")) -> list[str]:
        return sorted(str({k: v for k, v in one._asdict().items() if k not in skip})
                      for one in some)
    return {"docs": {kind: {ident: tuple(one) for ident, one in ones.items() if not one.gone}
                     for kind, ones in aboard.docs.items()},
            "vessel": tuple(aboard.vessel), "readings": said(aboard.readings),
            "done": said(aboard.done), "fitted": said(aboard.fitted),
            "lying": sorted((one.part, one.locker, one.lot, one.quantity, one.low, one.high)
                            for one in aboard.lying if one.quantity and one.counted)}


def test_a_lived_in_vessel_comes_in_elsewhere_as_the_same_vessel(
        own_demo: Context, tmp_path: Path) -> None:
    """As the text of a JSON file into an empty store: the same records, the same answers."""
    done(own_demo, "S01", failed=["P001"])
    reading(own_demo, "HBR", 3120, because="ran all night")
    reading(own_demo, "AIR", 2, because="new counter")
    took(own_demo, "P003", "L01")
    exchange(own_demo, "ENG-04", "P008")
    lent(own_demo, "P037", "L17", "the yard")
    text = json.dumps(export_json(own_demo))
    (tmp_path / "ashore").mkdir()
    store = open_store(tmp_path / "ashore" / "spares.sqlite")
    bring_in(store, text.encode(), name="vessel.json")
    with store.reading() as session:
        ashore = Context(store, vessels(session)[0][0], date.fromisoformat(DAY_ZERO))
    here, there = _state(own_demo), _state(ashore)
    for what in here:
        assert there[what] == here[what], what
    assert due(ashore) == due(own_demo)
    assert restock(ashore, "T1") == restock(own_demo, "T1")
    assert export_csv(ashore) == export_csv(own_demo)
    assert json.loads(text) == json.loads(json.dumps(export_json(ashore)))
    store.close()
