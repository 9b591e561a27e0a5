"""A piece broke off: its trail is begun, looked at, put right, and closed or accepted."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.check import check
from spares.actions.export import export_csv
from spares.actions.trail_closing import trail_accept, trail_count, trail_first_run
from spares.actions.trailing import trail_begin, trail_look, trail_place
from spares.actions.trails import trail, trail_start, trails
from spares.actions.undo import undo
from spares.db.engine import open_store
from spares.db.find import head_of, vessels
from spares.errors import Conflict, InvalidInput, NotAllowed, NotFound

PLACES = [{"name": "oil cooler inlet", "opens": "hose"},
          {"name": "filter housing", "point": "ENG-02"},
          {"name": "injection elbow", "part": "P03"}]


@pytest.fixture
def begun(ctx):
    """A blade of six is missing on the engine's pump."""
    trail_begin(ctx, "ENG", "impeller blade", missing=1, of_pieces=6, point="ENG-03",
                places=PLACES, by="Tove")
    return ctx


def _stopped(ctx):
    return [(one["machine"], one["trails"]) for one in trails(ctx)["do_not_run"]]


def test_a_trail_stops_its_machine_until_the_piece_is_found(begun):
    assert _stopped(begun) == [("ENG", ["ENG-T1"])]
    trail_look(begun, "ENG-T1", "1", by="Tove")
    assert _stopped(begun) == [("ENG", ["ENG-T1"])]
    answer = trail_look(begun, "ENG-T1", "3", 1, by="Ole", at="2027-03-14")
    assert answer["trail"]["state"] == "found"
    assert answer["trail"]["places"][2]["look"] == {"found": 1, "by": "Ole", "on": "2027-03-14"}
    assert _stopped(begun) == []


def test_the_next_place_is_the_first_where_nobody_looked(begun):
    ids = [one["place"] for one in trail(begun, "ENG-T1")["places"]]
    assert trail(begun, "ENG-T1")["next"] == ids[0]
    assert trail_look(begun, "ENG-T1", ids[0])["trail"]["next"] == ids[1]
    assert trail_look(begun, "ENG-T1", ids[0], taken_back=True)["trail"]["next"] == ids[0]


def test_a_place_names_what_seals_it_and_the_locker(begun):
    found = trail(begun, "ENG-T1")["places"]
    assert [one["parts"] and one["parts"][0]["part"] for one in found] == [[], "P05", "P03"]
    assert [(one["locker"], one["quantity"]) for one in found[1]["parts"][0]["where"]] == [
        ("L01", 4)]
    assert found[2]["parts"][0]["usable"] == 6      # 3 and 2 new, 1 used but good, all in date


def test_pieces_stay_missing_only_with_name_and_reason(begun):
    for said in ({"by": "Tove"}, {"why": "gone overboard"}, {"by": " ", "why": "gone"}):
        with pytest.raises(InvalidInput):
            trail_accept(begun, "ENG-T1", **said)
    answer = trail_accept(begun, "ENG-T1", by="Tove", why="seen to leave with the hose")
    assert answer["trail"]["state"] == "accepted"
    assert answer["trail"]["accepted"] == {
        "by": "Tove", "why": "seen to leave with the hose", "on": "2027-03-15", "pieces": 1}
    assert _stopped(begun) == []
    trail_accept(begun, "ENG-T1", taken_back=True)
    assert _stopped(begun) == [("ENG", ["ENG-T1"])]


def test_an_acceptance_holds_for_no_more_pieces_than_it_was_written_for(begun):
    trail_accept(begun, "ENG-T1", by="Tove", why="seen to leave")
    trail_count(begun, "ENG-T1", missing=2)
    assert _stopped(begun) == [("ENG", ["ENG-T1"])]
    trail_look(begun, "ENG-T1", "1", 1)
    assert trail(begun, "ENG-T1")["state"] == "accepted"


def test_nobody_knows_how_many_is_never_closed_by_finding_some(begun):
    trail_count(begun, "ENG-T1", missing=None)
    trail_look(begun, "ENG-T1", "1", 5)
    assert trail(begun, "ENG-T1")["left"] is None
    assert _stopped(begun)
    trail_accept(begun, "ENG-T1", by="Tove", why="pump opened by the yard")
    assert not _stopped(begun)


def test_more_found_than_missing_is_a_wrong_number_and_stays_open(begun):
    trail_look(begun, "ENG-T1", "1", 2)
    assert trail(begun, "ENG-T1")["left"] == -1
    assert _stopped(begun)
    with pytest.raises(Conflict, match="put right"):
        trail_accept(begun, "ENG-T1", by="Tove", why="whatever")
    trail_count(begun, "ENG-T1", missing=2)
    assert not _stopped(begun)
    with pytest.raises(Conflict, match="nothing to accept"):
        trail_accept(begun, "ENG-T1", by="Tove", why="whatever")


def test_the_flow_order_is_put_right_by_hand(begun):
    trail_place(begun, "ENG-T1", name="thermostat housing", opens="three screws", before="3")
    trail_place(begun, "ENG-T1", place="1", gone=True)
    trail_place(begun, "ENG-T1", place="1", seal="O-ring 62 x 3")
    found = trail(begun, "ENG-T1")["places"]
    assert [(one["name"], one["seal"]) for one in found] == [
        ("filter housing", "O-ring 62 x 3"), ("thermostat housing", None),
        ("injection elbow", None)]
    trail_place(begun, "ENG-T1", place="3", before="1")
    assert [one["name"] for one in trail(begun, "ENG-T1")["places"]][0] == "injection elbow"
    with pytest.raises(InvalidInput):
        trail_place(begun, "ENG-T1", opens="a place without a name")
    with pytest.raises(InvalidInput):
        trail_place(begun, "ENG-T1", place="1")


def test_the_next_trail_begins_with_the_order_as_it_was_put_right(begun):
    trail_place(begun, "ENG-T1", place="1", gone=True)
    start = trail_start(begun, "ENG")
    assert start["no"] == "ENG-T2"
    assert [one["name"] for one in start["flows"][0]["places"]] == [
        "filter housing", "injection elbow"]
    answer = trail_begin(begun, "ENG", "zinc", missing=1)
    assert [one["point"] for one in answer["trail"]["places"]] == ["ENG-02", None]
    assert _stopped(begun) == [("ENG", ["ENG-T1", "ENG-T2"])]


def test_a_starter_says_that_it_has_no_source(ctx):
    flows = trail_start(ctx, "ENG")["flows"]
    assert {one["source"] for one in flows} == {"common practice, no source"}
    assert len(trail_begin(ctx, "ENG", "blade", missing=1, flow="hydraulic")[
        "trail"]["places"]) == 6


def test_the_cautions_are_those_of_the_machine_and_of_a_broken_piece(begun):
    marks = [one["mark"] for one in trail(begun, "ENG-T1")["cautions"]]
    assert marks == ["stored energy", "rotating", "hot, pressure", "pieces", "stop values", ""]
    assert "Cooled, pressure let off" in trail(begun, "ENG-T1")["shut_off"]


def test_a_doubled_request_begins_and_looks_once(begun):
    ident, again = str(uuid4()), str(uuid4())
    for was_new in (True, False):
        assert trail_begin(begun, "WIN", "pawl", missing=1, places=[], change_id=ident)[
            "was_new"] is was_new
        assert trail_look(begun, "ENG-T1", "1", 1, change_id=again)["was_new"] is was_new
    assert [one["no"] for one in trails(begun)["trails"]] == ["WIN-T1", "ENG-T1"]
    with pytest.raises(Conflict):
        trail_begin(begun, "WIN", "pawl", missing=1, change_id=again)


def test_a_trail_begun_by_mistake_is_taken_back_whole(begun):
    begin = trail_begin(begun, "WIN", "pawl", missing=1, places=PLACES[:1])
    undo(begun, begin["change"])
    assert _stopped(begun) == [("ENG", ["ENG-T1"])]
    with pytest.raises(NotFound):
        trail(begun, "WIN-T1")
    assert trail_begin(begun, "WIN", "pawl", missing=1, places=[])["trail"]["no"] == "WIN-T2"


def test_what_the_first_run_showed_is_kept_with_the_trail(begun):
    trail_look(begun, "ENG-T1", "1", 1)
    crew = replace(begun, role="crew")
    answer = trail_first_run(crew, "ENG-T1", flow="as before", temperature_c="82.5", by="Ole")
    assert answer["trail"]["first_run"] == {"flow": "as before", "temperature_c": 82.5, "by": "Ole",
                                        "on": "2027-03-15"}
    with pytest.raises(InvalidInput):
        trail_first_run(crew, "ENG-T1", by="Ole")


def test_only_the_skipper_accepts_or_puts_the_number_right(begun):
    crew = replace(begun, role="crew")
    for act in (lambda: trail_accept(crew, "ENG-T1", by="Ole", why="no time"),
                lambda: trail_count(crew, "ENG-T1", missing=1)):
        with pytest.raises(NotAllowed):
            act()


@pytest.mark.parametrize(("said", "pointer"), [
    ({"missing": 0}, "#/missing"), ({"missing": 7, "of_pieces": 6}, "#/missing"),
    ({"what": "  "}, "#/what"), ({"at": "2027-02-30"}, "#/at"),
    ({"places": [{"name": " "}]}, "#/places/0/name")])
def test_a_trail_that_cannot_be_is_refused_by_its_field(ctx, said, pointer):
    with pytest.raises(InvalidInput) as caught:
        trail_begin(ctx, "ENG", **{"what": "blade", "missing": 1, **said})
    assert caught.value.facts["errors"][0]["pointer"] == pointer
    assert trails(ctx)["trails"] == []


def test_what_is_not_there_is_named(begun):
    for act in (lambda: trail_look(begun, "ENG-T1", "4"), lambda: trail(begun, "ENG-T9"),
                lambda: trail_begin(begun, "ENG", "blade", flow="nowhere")):
        with pytest.raises(NotFound):
            act()


def test_a_trail_goes_out_as_tables_and_comes_in_the_same(begun, tmp_path):
    trail_look(begun, "ENG-T1", "2", 0, by="Ole; of the watch")
    trail_accept(begun, "ENG-T1", by="Tove", why="seen to leave, \"flow\" as before")
    trail_first_run(begun, "ENG-T1", flow="as before", temperature_c="82.5")
    file = export_csv(begun)
    store = open_store(tmp_path / "copy.sqlite")
    bring_in(store, file, name="vessel.zip")
    with store.reading() as session:
        copy = replace(begun, store=store, vessel=vessels(session)[0][0])
    for said in (trails, lambda ctx: trail(ctx, "ENG-T1")["places"]):
        assert _without_ids(said(copy)) == _without_ids(said(begun))
    before = head_of_log(begun)
    bring_in(begun.store, file, name="vessel.zip")
    assert head_of_log(begun) == before
    assert check(begun, rebuild=True)["differences"] == []
    store.close()


def head_of_log(ctx):
    with ctx.store.reading() as session:
        return head_of(session, ctx.vessel)


def _without_ids(value):
    if isinstance(value, dict):
        return {key: _without_ids(one) for key, one in value.items()
                if key not in ("id", "place", "next", "locker_id", "lot")}
    return [_without_ids(one) for one in value] if isinstance(value, list) else value
