"""The first hour: from an empty store to labelled lockers, machines and a trip's list."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from spares.actions.beginning import begin_lockers, begin_machine, begin_vessel, sets_to_choose
from spares.actions.bring_in import bring_in
from spares.actions.changes import changes
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.due import due
from spares.actions.export import export_json
from spares.actions.undo import undo
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.domain.codes import is_code
from spares.domain.fit.sheets import load_sheets
from spares.domain.starter_sets import starter_sets
from spares.errors import Conflict, InvalidInput


@pytest.fixture
def ctx(tmp_path: Path):
    store = open_store(tmp_path / "first.sqlite")
    begin_vessel(store, "abc", "Maagen")
    with store.reading() as session:
        (ident, _), = vessels(session)
    yield Context(store, ident, date(2027, 3, 15))
    store.close()


def test_a_vessel_begins_with_mark_and_name(ctx):
    vessel = ctx.aboard().vessel
    assert (vessel.mark, vessel.name) == ("ABC", "Maagen")


@pytest.mark.parametrize(("mark", "name", "pointer"), [
    ("", "Maagen", "#/mark"), ("ABCD", "Maagen", "#/mark"), ("Å", "Maagen", "#/mark"),
    ("XY", " ", "#/name")])
def test_a_vessel_needs_a_short_mark_and_a_name(ctx, mark, name, pointer):
    with pytest.raises(InvalidInput) as refused:
        begin_vessel(ctx.store, mark, name)
    assert [one["pointer"] for one in refused.value.facts["errors"]] == [pointer]


def test_a_mark_names_one_vessel_only(ctx):
    with pytest.raises(Conflict):
        begin_vessel(ctx.store, "ABC", "Another")
    assert begin_vessel(ctx.store, "ABD", "Another")["vessel"] == "ABD"
    with pytest.raises(Conflict, match="bears the mark"):
        write_document(ctx, "vessel", {"mark": "abd"}, doc=f"vessel/{ctx.vessel}")
    given = {**export_json(ctx), "documents": {"vessel": {ctx.vessel: {"mark": "ABD"}}}}
    with pytest.raises(Conflict, match="bears the mark"):
        bring_in(ctx.store, json.dumps(given).encode(), name="vessel.json")
    with ctx.store.reading() as session:
        assert sorted(mark for _, mark in vessels(session)) == ["ABC", "ABD"]
    write_document(ctx, "vessel", {"mark": "ABE"}, doc=f"vessel/{ctx.vessel}")


def test_ten_lockers_are_named_at_once_with_codes_for_their_labels(ctx):
    names = [f"Port shelf, bin {at}" for at in range(10)]
    answer = begin_lockers(ctx, [*names, "", "  "])
    lockers = ctx.aboard().all("locker")
    assert [one.name for one in lockers] == names
    assert [one.no for one in lockers] == [f"L{at:02}" for at in range(1, 11)]
    codes = [one.code for one in lockers]
    assert len(set(codes)) == 10 and all(map(is_code, codes))
    assert [one["code"] for one in answer["lockers"]] == codes
    begin_lockers(ctx, ["One more"])
    assert ctx.aboard().all("locker")[-1].no == "L11"


def test_lockers_begun_together_are_undone_together_and_begin_again(ctx):
    change = begin_lockers(ctx, ["Forepeak", "Lazarette"])["change"]
    undo(ctx, change)
    assert ctx.aboard().all("locker") == []
    assert len(begin_lockers(ctx, ["Forepeak"])["lockers"]) == 1


def test_no_name_or_too_many_begin_nothing(ctx):
    for names in ([], [" "], ["x"] * 51, ["x" * 2000]):
        with pytest.raises(InvalidInput):
            begin_lockers(ctx, names)
    assert ctx.aboard().all("locker") == []


def test_a_machine_comes_with_the_fit_points_and_services_of_its_type(ctx):
    answer = begin_machine(ctx, "diesel-engine", place="engine room")
    aboard = ctx.aboard()
    machine, = aboard.all("machine")
    assert (answer["machine"], machine.no, machine.name) == ("ENG", "ENG", "Main engine")
    assert is_code(machine.code) and "common practice, no source" in machine.note
    assert [one.no for one in aboard.all("point")] == [f"ENG-{at:02}" for at in range(1, 8)]
    impeller = next(one for one in aboard.all("service") if "impeller" in one.what)
    assert (impeller.every_minutes, impeller.every_months) == (300 * 60, 12)
    assert aboard.get(impeller.point).name == "sea-water pump impeller"


def test_a_machine_is_written_down_in_the_words_of_who_begins_it(ctx):
    begin_machine(ctx, "outboard", language="da")
    aboard = ctx.aboard()
    machine, = aboard.all("machine")
    assert (machine.name, "almindelig praksis, ingen kilde" in machine.note) == (
        "Påhængsmotor", True)
    assert "vandpumpens impeller" in [one.name for one in aboard.all("point")]
    assert "forny vandpumpens impeller" in [one.what for one in aboard.all("service")]


def test_what_nobody_dated_is_not_shown_as_good(ctx):
    begin_machine(ctx, "diesel-engine")
    states = {one["state"] for one in due(ctx)["services"]}
    assert states == {"history-unknown"}


def test_a_place_that_she_lacks_takes_its_service_with_it(ctx):
    begin_machine(ctx, "diesel-engine", points=[1, 4])
    aboard = ctx.aboard()
    assert [one.name for one in aboard.all("point")] == ["oil filter", "sea-water pump impeller"]
    assert [one.what for one in aboard.all("service")] == [
        "change oil and filter", "renew impeller"]


def test_two_machines_of_one_type_bear_two_numbers(ctx):
    begin_machine(ctx, "bilge-pump")
    begin_machine(ctx, "bilge-pump", name="Bilge pump forward")
    assert [one.no for one in ctx.aboard().all("machine")] == ["BIL", "BIL2"]
    codes = [one.code for one in ctx.aboard().all("machine")]
    assert len(set(codes)) == 2


def test_a_machine_asked_for_twice_with_one_id_is_one(ctx):
    first = begin_machine(ctx, "heater")
    again = begin_machine(ctx, "heater", change_id=first["change"])
    assert not again["was_new"] and len(ctx.aboard().all("machine")) == 1


def test_an_id_of_another_beginning_names_no_lockers_and_says_so(ctx):
    first = begin_machine(ctx, "heater")
    with pytest.raises(Conflict, match="id was used"):
        begin_lockers(ctx, ["Forepeak"], change_id=first["change"])


def test_a_machine_begun_is_undone_whole(ctx):
    undo(ctx, begin_machine(ctx, "outboard")["change"])
    aboard = ctx.aboard()
    assert not any(aboard.all(kind) for kind in ("machine", "point", "service"))
    assert changes(ctx)["changes"]


@pytest.mark.parametrize(("starter", "more", "pointer"), [
    ("warp-drive", {}, "#/starter"), ("heater", {"points": [0]}, "#/points"),
    ("heater", {"points": [9]}, "#/points"), ("heater", {"name": "x" * 2000}, "#/name")])
def test_a_machine_that_cannot_be_begun_is_refused_at_its_field(ctx, starter, more, pointer):
    with pytest.raises(InvalidInput) as refused:
        begin_machine(ctx, starter, **more)
    assert [one["pointer"] for one in refused.value.facts["errors"]] == [pointer]
    assert ctx.aboard().all("machine") == []


def test_every_starter_names_kinds_cautions_and_places_that_are_there(ctx):
    """All of them are common practice, no source; each can be begun as it stands."""
    kinds = set(load_sheets())
    for one in starter_sets():
        assert one.source == "common practice, no source"
        assert {point.kind for point in one.points} <= kinds, one.id
        assert all(1 <= work.at <= len(one.points) for work in one.services if work.at), one.id
        assert all(work.every_h or work.every_months for work in one.services), one.id
        begin_machine(ctx, one.id)
    assert len(ctx.aboard().all("machine")) == len(sets_to_choose()["sets"]) >= 5


def test_a_first_trip_lists_what_is_due_before_leaving(ctx):
    begin_lockers(ctx, ["Forepeak"])
    begin_machine(ctx, "diesel-engine")
    trip = write_document(ctx, "trip", {"name": "First", "departs_on": "2027-04-01",
                                        "returns_on": "2027-04-05"})
    assert trip["no"] == "T1"
