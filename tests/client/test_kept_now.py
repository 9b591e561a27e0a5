"""Does a phone without the server show what the server would show after the same acts?

A row of acts is made on the phone, from a copy of the log of before, and at the server. What the
phone then puts together from the server's answers of before is held to her answers of after.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from typing import Any

import pytest

from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.counts import counts
from spares.actions.daily_run import days_of_trip
from spares.actions.due import due
from spares.actions.fit import aftermath
from spares.actions.joints import joints
from spares.actions.lay_up import lay_up
from spares.actions.orders import orders, put_away
from spares.actions.show import show
from spares.actions.stranded import stranded
from spares.actions.trails import trail, trail_start, trails
from spares.actions.trip.restock import restock
from spares.actions.walk_round import walk_round
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.db.sync_store import SyncStore
from spares.domain.aboard import name_of
from spares.domain.tree import is_live
from spares.sync.store import entries_of
from spares.web.verbs import perform
from tests.client.node_process import Node
from tests.stores import DAY_ZERO, make_demo

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")

#: P008 is the pump that strands the small spares of P007; P041 and P078 are short or enough by
#: what lies aboard; S20 goes by hours, S30 by hours and months.
ACTS = [
    ("exchange", {"point": "ENG-04", "part": "P008", "old_to": "L03", "why": "worn"}),
    ("exchange", {"point": "SAN-01", "part": "P054", "old_to": "landed"}),
    ("exchange", {"point": "ENG-03", "part": "P036"}),
    ("took", {"part": "P041", "locker": "L17", "quantity": 1}),
    ("put", {"part": "P034", "locker": "L17", "quantity": 2, "expires": "2031-06"}),
    ("took", {"part": "P034", "locker": "L17", "quantity": 3}),
    ("left-over", {"part": "P056", "choice": "sell", "note": "to the yard"}),
    ("want", {"part": "P034", "quantity": 4, "trip": "T1"}),
    ("want", {"part": "P041", "quantity": 1, "trip": "T1"}),
    ("want", {"part": "P037", "quantity": 2}),
    ("ordered", {"orders": ["O1", "O3"], "promised_on": "2027-04-02"}),
    ("arrived", {"order": "O1", "quantity": 3}),
    ("stowed", {"order": "O3", "locker": "L03"}),
    ("reading", {"machine": "ENG", "hours": "1925.5"}),
    ("done", {"service": "S20", "at": "2027-03-14", "hours": 3107, "by": "Anna", "kit": True}),
    ("done", {"service": "S30", "at": DAY_ZERO, "kit": False}),
    ("done", {"service": "S08", "at": "2027-03", "kit": False}),
    ("done", {"service": "S07", "at": DAY_ZERO, "hours": 1925.5, "kit": False}),
    ("lent", {"part": "P037", "locker": "L17", "who": "Neighbour", "quantity": 1}),
    ("trail-begin", {"machine": "HBR", "what": "blade", "missing": 2, "of_pieces": 6, "places": [
        {"name": "oil cooler inlet", "opens": "hose"}, {"name": "cap", "point": "HBR-06"},
        {"name": "zinc", "point": "HBR-07"}, {"name": "elbow", "part": "P037"}]}),
    ("trail-look", {"trail": "HBR-T1", "place": "1", "by": "Ole"}),
    ("trail-look", {"trail": "HBR-T1", "place": "3", "found": 1}),
    ("trail-place", {"trail": "HBR-T1", "name": "thermostat", "before": "4"}),
    ("trail-begin", {"machine": "ENG", "what": "vane", "places": []}),
    ("trail-accept", {"trail": "ENG-T1", "by": "Tove", "why": "yard opened all"}),
    ("trail-first-run", {"trail": "ENG-T1", "flow": "as before", "temperature_c": 82.5}),
    ("trail-begin", {"machine": "AIR", "what": "plate", "missing": 1, "places": []}),
    ("found", {"question": "plate", "about": "WIN", "origin": "seen", "serial": "YM 12-9",
               "by": "Anna"}),
    ("found", {"question": "history", "about": "S15", "origin": "told", "done_on": "2026-06",
               "answer": "by the yard"}),
    ("found", {"question": "fit", "about": "WIN-01", "origin": "guessed", "answer": "6 mm"}),
    ("baseline", {"at": "2027-03-01"}),
    ("drained", {"turn": "lay-up", "point": "D02", "done": "drained", "seen_to_run": True,
                 "cock": "open", "by": "Anna", "at": "2026-11-02"}),
    ("drained", {"turn": "lay-up", "point": "D10", "done": "treated", "protects_to_c": "-25,5"}),
    ("drained", {"turn": "lay-up", "machine": "WMK", "name": "", "done": "treated"}),
    ("drained", {"turn": "fitting-out", "point": "D01", "plug_in": True, "cock": "open"}),
    *(("gauged", {"machine": "HBR", "name": "coolant", "unit": "°C", "value": value, "at": on,
                  "hours": hours, "load_percent": 40}) for on, hours, value in (
        ("2027-03-02", 3100, "80,1"), ("2027-03-05", 3102, 80.6), ("2027-03-09", 3104.5, 81.4),
        ("2027-03-12", 3106, 99), ("2027-03-14", 3107, 82))),
    ("gauged", {"machine": "HBR", "name": "coolant", "value": 90, "at": "2027-03-15",
                "load_percent": 80, "hours": 3108}),
    ("gauge", {"machine": "HBR", "name": "coolant", "high": 95, "source": "book, page 31",
               "cleaned_by": "S22", "by": "Anna"}),
    ("test-run", {"machine": "HBR", "service": "S20", "leaks": "none", "accepted_by": "Anna",
                  "readings": [{"name": "oil", "unit": "bar", "minute": 0, "value": "4,1"},
                               {"name": "coolant", "minute": 15, "value": 81.2}]}),
    ("daily-run", {"machine": "HBR", "trip": "T2", "hours": "2,1", "litres": 2.9,
                   "at": "2027-03-14"}),
    ("daily-run", {"machine": "HBR", "trip": "T2", "hours": 1, "charge_ah": 80, "by": "Ole"}),
    ("tightened", {"joint": "J1", "torque_used": "45 N·m", "again_at": "1962,4"}),
    ("lesson", {"service": "S20", "learner": "Mia", "seen": "the filter"}),
    ("doubt", {"part": "P035", "locker": "L17", "note": "in a hurry"}),
    ("doubt", {"part": "P103", "locker": "L15"}), ("counted", {"part": "P103", "locker": "L15",
                                                               "quantity": 14}),
    ("put", {"part": "P040", "locker": "L04", "quantity": 2, "batch": "LOT 47"}),
    ("pick", {"service": "S08"}), ("put", {"part": "P017", "locker": "BAG-S08", "quantity": 1}),
    ("put-back", {"service": "S08"}), ("pick", {"service": "S01"}), ("pick", {"service": "S06"}),
    ("done", {"service": "S06", "at": DAY_ZERO}),
]
ANSWERS = {
    "point": lambda ctx: show(ctx, "ENG-04", "point"),
    "gone": lambda ctx: show(ctx, "SAN-02", "point"),
    "machine": lambda ctx: show(ctx, "ENG", "machine"),
    "set": lambda ctx: show(ctx, "HBR", "machine"),
    "locker": lambda ctx: show(ctx, "L17", "locker"),
    "due": due,
    "cards": lambda ctx: {one.no: card(ctx, one.no) for one in ctx.aboard().all("service")},
    "restock": lambda ctx: restock(ctx, "T1"),
    "days": lambda ctx: days_of_trip(ctx, "T2"),
    "joints": joints,
    "round": walk_round,
    "autumn": lay_up,
    "spring": lambda ctx: lay_up(ctx, spring=True),
}


Both = tuple[Context, Node, dict[str, Any]]


def _plain(answer: Any) -> Any:
    return json.loads(json.dumps(answer))


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Both]:
    """The server after the acts, a phone that made the same, and the answers of before."""
    store = open_store(make_demo(tmp_path_factory.mktemp("now")))
    with store.reading() as session:
        vessel = vessels(session)[0][0]
        log = SyncStore(session, vessel)
        entries = entries_of(log.rows(0, log.size()), log.epochs())
        epoch, size = log.epochs()[-1][0], log.size()
    ctx = Context(store, vessel, date.fromisoformat(DAY_ZERO))
    before = {name: _plain(ask(ctx)) for name, ask in ANSWERS.items()}
    node = Node("sync_answers.js")
    try:
        _act(ctx, node, entries, {"epoch": epoch, "seq": size})
        yield ctx, node, before
    finally:
        node.close()
        store.close()


def _act(ctx: Context, node: Node, entries: Any, seen: dict[str, Any]) -> None:
    """Let phone and server do the same, each by its own means."""
    node.ask("open", entries=[asdict(one) for one in entries])
    for place, (verb, body) in enumerate(ACTS):
        ident = f"00000000-0000-4000-8000-0000000{place:05x}"
        told = node.ask("act", path=f"do/{verb}", body=body, id=ident, today=DAY_ZERO,
                        seen=seen)
        assert told.get("answer"), (verb, body, told)
        perform(ctx, verb, {**body, "change_id": ident})


def _now(both: Both, name: str) -> tuple[Any, Any]:
    """Give the phone's answer and the server's."""
    ctx, node, before = both
    return node.ask("now", answer=before[name], today=DAY_ZERO)["answer"], _plain(
        ANSWERS[name](ctx))


@pytest.mark.parametrize("name", ["point", "gone"])
def test_a_fit_point_shows_what_was_fitted_here(both: Any, name: str) -> None:
    ours, hers = _now(both, name)
    for field in ("fitted", "before", "live", "retired_on"):
        assert ours[field] == hers[field], field
    assert name == "gone" or ours["fitted"]["part"] == "P008"


def test_a_machine_shows_the_points_that_began_and_its_counter(both: Any) -> None:
    ours, hers = _now(both, "machine")
    assert ours["hours"] == hers["hours"] == 1925.5
    shown = [{key: point[key] for key in ("no", "name", "fitted", "live", "pieces", "weight")}
             for point in ours["points"]]
    wanted = [{key: point[key] for key in ("no", "name", "fitted", "live", "pieces", "weight")}
              for point in hers["points"]]
    assert sorted(shown, key=lambda point: point["no"]) == wanted
    assert len(wanted) > len(both[2]["machine"]["points"])      # some began with the new pump
    begun = both[1].ask("point", no=next(
        point["no"] for point in wanted if "." in point["no"] and point["live"]))["answer"]
    assert begun["live"] and begun["machine"] == "ENG"


def test_a_machine_shows_its_gauges_with_the_readings_of_this_phone(both: Any) -> None:
    ours, hers = _now(both, "set")
    before = {one["gauge"]: one["last"] for one in both[2]["set"]["gauges"]}
    assert [one["gauge"] for one in hers["gauges"] if one["last"] != before[one["gauge"]]] == [
        "HBR coolant", "HBR oil"]
    said = [{key: value for key, value in one.items() if key != "says"} for one in hers["gauges"]]
    assert ours["gauges"] == said
    assert ours["test_runs"] == hers["test_runs"]
    card_of = both[1].ask("now", answer=both[2]["cards"]["S20"], today=DAY_ZERO)["answer"]
    assert card_of["gauges"] == said
    assert [one["learner"] for one in card_of["lessons"]] == ["Mia"]


def test_days_joints_and_counts_are_told_with_what_was_recorded_here(both: Any) -> None:
    ours, hers = _now(both, "days")
    assert ours == hers and hers["real"]["days"] == 2
    ours, hers = _now(both, "joints")
    assert ours["to_tighten"] == hers["to_tighten"] != []
    assert [one["tightened"] for one in ours["joints"]] == [
        one["tightened"] for one in hers["joints"]]
    ctx, node, _ = both
    listed, wanted = node.ask("list", name="counts")["answer"], _plain(counts(ctx))
    assert [one["locker"] for one in listed["lockers"]][0] == "L17"
    for one, other in zip(listed["lockers"], wanted["lockers"], strict=True):
        assert one == other


def test_lists_from_the_copy_are_those_of_the_server(both: Any) -> None:
    ctx, node, _ = both
    assert node.ask("list", name="stranded")["answer"] == _plain(stranded(ctx))
    assert node.ask("list", name="orders")["answer"]["orders"] == _plain(
        orders(ctx, trip="T1"))["orders"]
    assert node.ask("list", name="put-away")["answer"] == _plain(put_away(ctx))
    assert stranded(ctx)["stranded"]
    assert node.ask("list", name="trails")["answer"] == _plain(trails(ctx))
    for no in ("HBR-T1", "ENG-T1", "AIR-T1"):
        start = _plain(trail_start(ctx, no.split("-")[0]))
        assert node.ask("trail", no=no, today=DAY_ZERO, start=start)["answer"] == _plain(
            trail(ctx, no))
    assert [one["machine"] for one in trails(ctx)["do_not_run"]] == ["AIR", "HBR"]


def test_phone_says_what_an_exchange_would_strand_as_the_server_does(both: Any) -> None:
    """After P008 came in, P007 would bring its small spares back and strand others."""
    ctx, node, _ = both
    aboard, told = ctx.aboard(), 0
    for point in [one for one in aboard.all("point") if is_live(aboard, one)][:12]:
        for part in ("P007", "P008", "P036", "P054", "P055", "P034"):
            hers = aftermath(aboard, name_of("point", point), ctx.named(part, "part", "part"))
            ours = node.ask("aftermath", point=point.no, part=part)["answer"]
            for field in ("would_strand", "no_longer_needed"):
                wanted = sorted(_plain(hers[field]), key=lambda line: line["part"])
                assert sorted(ours[field], key=lambda line: line["part"]) == wanted, (
                    point.no, part)
                told += len(wanted)
    assert told


def test_a_locker_shows_what_lies_in_it_now(both: Any) -> None:
    ours, hers = _now(both, "locker")
    keys = ("no", "quantity", "lot", "condition", "expires")
    def told(lines: list[dict[str, Any]]) -> list[tuple[Any, ...]]:
        return sorted(tuple(str(line[key]) for key in keys) for line in lines)
    assert told(ours["lines"]) == told(hers["lines"])


def test_job_cards_say_what_to_take_from_where_now(both: Any) -> None:
    ctx, node, before = both
    changed = 0
    for one in ctx.aboard().all("service"):
        hers = _plain(card(ctx, one.no))
        ours = node.ask("now", answer=before["cards"][one.no], today=DAY_ZERO)["answer"]
        for field in ("kit", "missing"):
            told = [{key: line[key] for key in ("part", "usable", "short", "take")}
                    if isinstance(line, dict) else line for line in ours[field]]
            wanted = [{key: line[key] for key in ("part", "usable", "short", "take")}
                      if isinstance(line, dict) else line for line in hers[field]]
            assert sorted(told, key=str) == sorted(wanted, key=str), (one.no, field)
        assert ours["bag"] == hers["bag"], one.no
        changed += ours["kit"] != before["cards"][one.no]["kit"]
    assert changed


def test_due_list_reflects_work_and_readings_of_this_phone(both: Any) -> None:
    ours, hers = _now(both, "due")
    wanted = {line["service"]: line for line in hers["services"]}
    was = {line["service"]: line for line in both[2]["due"]["services"]}
    changed = 0
    for line in ours["services"]:
        other = wanted[line["service"]]
        for field in ("state", "due_at_hours", "hours_left", "last"):
            assert line[field] == other[field], (line["service"], field)
        if not other["estimated"]:
            assert line["days_left"] == other["days_left"], line["service"]
        changed += line["state"] != was[line["service"]]["state"]
    assert changed >= 3


def test_trips_list_has_the_shortages_of_now(both: Any) -> None:
    ours, hers = _now(both, "restock")
    wanted = {line["part"]: line for line in hers["lines"]}
    was = {line["part"]: line for line in both[2]["restock"]["lines"]}
    changed = []
    for line in ours["lines"]:
        if line["part"] not in wanted or line["minimum"] != wanted[line["part"]]["minimum"]:
            continue        # another need since a service was done: a new plan, made aboard
        for field in ("usable", "short", "ordered", "accepted", "where"):
            assert line[field] == wanted[line["part"]][field], (line["part"], field)
        if line["usable"] != was[line["part"]]["usable"]:
            changed.append(line["part"])
            assert line["state"] == wanted[line["part"]]["state"], line["part"]
    assert all(line["state"] for line in ours["lines"])
    assert "P041" in changed


def test_the_walk_round_shows_what_was_found_here(both: Any) -> None:
    ours, hers = _now(both, "round")
    exchanged = ("ENG", "SAN")      # the points of what was fitted are told by the server
    def told(answer: Any) -> dict[str, Any]:
        return {one["machine"]: one for one in answer["machines"]
                if one["machine"] not in exchanged}
    assert told(ours) == told(hers) and ours["baseline_on"] == "2027-03-01"
    gone = {one["about"] for line in both[2]["round"]["machines"] for one in line["questions"]} - {
        one["about"] for line in ours["machines"] for one in line["questions"]}
    assert gone and not gone & {
        one["about"] for line in hers["machines"] for one in line["questions"]}


def test_what_nobody_can_date_is_counted_from_a_baseline_that_was_set_here(both: Any) -> None:
    ours, hers = _now(both, "due")
    told = {one["service"]: one for one in hers["services"] if one["from_baseline"]}
    here = {one["service"]: one for one in ours["services"] if one["from_baseline"]}
    assert here.keys() == told.keys() and len(told) > 3
    for no, line in here.items():
        assert (line["state"], line["last"]) == (told[no]["state"], None), no
        for field in ("due_at_hours", "hours_left"):    # here to a tenth of an hour
            assert line[field] == pytest.approx(told[no][field], abs=0.06), (no, field)


@pytest.mark.parametrize("name", ["autumn", "spring"])
def test_the_lay_up_list_shows_what_was_recorded_here(both: Any, name: str) -> None:
    ours, hers = _now(both, name)
    def told(answer: Any) -> dict[str, Any]:
        keys = ("no", "state", "left_open", "record", "autumn")
        return {one["machine"] + one["named"].replace("Watermaker", ""):
                {key: one[key] for key in keys} for one in answer["points"]}
    assert told(ours) == told(hers) and ours["progress"] == hers["progress"]
