"""What the server answers to one request, honest or not."""

from __future__ import annotations

from typing import Any

import pytest

from spares.errors import Conflict, NotFound, Stopped
from spares.sync.change import mac_is_good
from spares.sync.exchange import approve, reject
from spares.sync.stamp import DAY_MS, stamp_text, time_of
from spares.sync.store import Device
from spares.sync.turn import Around
from tests.sync.bench import CELL, KEY, NOW, VESSEL, Bench, codes


def test_change_is_taken_sealed_and_told_of_by_its_result_alone(bench: Bench) -> None:
    op = bench.op(1)
    answer = bench.ask(ops=[op])
    (_, envelope), = bench.store.rows(0, 9)
    result, = answer["results"]
    assert (result["result"], result["seq"], answer["next_n"]) == ("ok", 1, 2)
    assert {**op, **result["sealed"]} == envelope.to_json() and mac_is_good(envelope, KEY)
    assert answer["changes"] == [] and answer["seen"]["seq"] == 1 and not answer["more"]
    (row,) = bench.ask("skipper")["changes"]
    assert row == {"seq": 1, "envelope": envelope.to_json()}


def test_what_others_made_comes_before_what_the_phone_just_made(bench: Bench) -> None:
    bench.ask("skipper", ops=[bench.op(n) for n in (1, 2, 3)])
    answer = bench.ask(ops=[bench.op(1)], want=2)
    assert [row["seq"] for row in answer["changes"]] == [1, 2] and answer["more"]
    rest = bench.ask(cursor=answer["cursor"], last=1)
    assert [row["seq"] for row in rest["changes"]] == [3, 4] and not rest["more"]


def test_phone_that_missed_the_answer_gets_its_rows_with_the_next(bench: Bench) -> None:
    op = bench.op(1)
    bench.ask(ops=[op])
    answer = bench.ask(ops=[op])
    assert codes(answer) == ["dup"] and [row["seq"] for row in answer["changes"]] == [1]


def test_change_sent_again_gets_its_first_answer(bench: Bench) -> None:
    op = bench.op(1)
    first = bench.ask(ops=[op])["results"][0]
    bench.wall_ms += DAY_MS
    again = bench.ask(ops=[op], now=NOW + DAY_MS)["results"][0]
    assert again["result"] == "dup" and again["was"] == "ok"
    assert again["sealed"] == first["sealed"] and len(bench.log()) == 1


def test_gap_in_the_numbers_stops_there_and_says_where(bench: Bench) -> None:
    answer = bench.ask(ops=[bench.op(1), bench.op(3), bench.op(4)])
    assert codes(answer) == ["ok"] and answer["next_n"] == 2
    assert answer["need"] == [[2, 4]]


def test_changes_enter_in_the_order_of_their_numbers(bench: Bench) -> None:
    one, two, three = bench.op(1), bench.op(2), bench.op(3)
    bench.ask(ops=[three, one, two])
    assert bench.log() == [one["id"], two["id"], three["id"]]


def test_refused_change_uses_its_number_and_delays_no_other(bench: Bench) -> None:
    bad = bench.op(2, body={**CELL, "q": 0})
    answer = bench.ask(ops=[bench.op(1), bad, bench.op(3)])
    assert codes(answer) == ["ok", "bad_value", "ok"]
    assert answer["results"][1]["pointer"] == "#/body/q" and answer["next_n"] == 4
    assert codes(bench.ask(ops=[bad])) == ["bad_value"]


@pytest.mark.parametrize("extra", ["dev", "at", "mac", "seq", "role", "g"])
def test_author_is_the_device_of_the_token_alone(bench: Bench, extra: str) -> None:
    assert codes(bench.ask(ops=[bench.op(1, **{extra: 0})])) == ["bad_shape"]
    assert bench.log() == []


@pytest.mark.parametrize("raw", [5, None, [], "x", {}, {"n": 0}, {"n": 2**63}, {"n": True}])
def test_thing_that_is_no_change_is_refused_without_a_number(bench: Bench, raw: Any) -> None:
    answer = bench.ask(ops=[raw, bench.op(1)])
    assert codes(answer) == ["bad_shape", "ok"]


def test_same_id_with_another_body_is_refused(bench: Bench) -> None:
    op = bench.op(1)
    bench.ask(ops=[op])
    assert codes(bench.ask(ops=[{**op, "body": {**CELL, "q": 2000}}])) == ["id_reused"]
    assert codes(bench.ask(ops=[{**op, "n": 2, "t": 5}])) == ["id_reused"]
    assert bench.ask(ops=[])["next_n"] == 3 and len(bench.log()) == 1


def test_another_id_under_a_used_number_is_a_fork(bench: Bench) -> None:
    old = bench.store.device_of("crew").dev
    bench.ask(ops=[bench.op(1), bench.op(2)])
    later = bench.op(2)
    answer = bench.ask(ops=[later])
    assert answer["stop"] == "fork" and answer["dev"] != old and answer["next_n"] == 1
    assert len(bench.log()) == 2
    assert codes(bench.ask(ops=[{**later, "n": 1}], inst="new")) == ["ok"]
    assert [e.dev for _, e in bench.store.rows(0, 9)] == [old, old, answer["dev"]]


def test_known_change_under_a_new_number_counts_once(bench: Bench) -> None:
    op = bench.op(1)
    bench.ask(ops=[op])
    bench.ask(ops=[bench.op(1)])        # a fork
    answer = bench.ask(ops=[op, bench.op(2)])
    assert [result["result"] for result in answer["results"]] == ["dup", "ok"]
    assert answer["results"][0]["sealed"]["n"] == 1 and len(bench.log()) == 2


def test_emptied_phone_goes_on_under_a_new_number_and_the_hole_is_shown(bench: Bench) -> None:
    old = bench.store.device_of("crew").dev
    bench.ask(ops=[bench.op(1)], last=4)
    answer = bench.ask(ops=[bench.op(1)], inst="emptied")
    assert answer["dev"] != old and codes(answer) == ["ok"]
    assert bench.store.lost_numbers() == {old: [(2, 4)]}


def test_device_that_begins_anew_for_ever_has_to_be_paired_again(
        bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("spares.sync.exchange.MOST_NUMBERS", 2)
    for inst in ("one", "two", "three"):
        bench.ask(ops=[bench.op(1)], inst=inst)
    before = bench.log()
    with pytest.raises(Stopped) as caught:
        bench.ask(ops=[bench.op(1)], inst="four")
    assert caught.value.facts["stop"] == "not_paired" and bench.log() == before
    assert codes(bench.ask(ops=[bench.op(2)], inst="three")) == ["ok"]
    with pytest.raises(Stopped):
        bench.ask(ops=[bench.op(2)], inst="three")      # a fork is one number more as well


def test_number_said_before_the_phone_heard_of_its_new_one_is_no_loss_later(bench: Bench) -> None:
    bench.ask(ops=[bench.op(n) for n in (1, 2, 3)], last=3)
    bench.ask(ops=[bench.op(3)])                        # a fork, and the answer is lost
    bench.ask(ops=[bench.op(3)], last=3)                # so it says its old numbers once more
    bench.ask(ops=[bench.op(1)], last=1)
    bench.ask(ops=[bench.op(1)], inst="emptied")
    assert bench.store.lost_numbers() == {}


def test_numbers_that_a_phone_no_longer_has_do_not_stop_it(bench: Bench) -> None:
    answer = bench.ask(ops=[bench.op(3)], gone=[[1, 2]])
    assert codes(answer) == ["ok"] and answer["next_n"] == 4
    assert list(bench.store.lost_numbers().values()) == [[(1, 2)]]


def test_change_that_was_thought_lost_is_taken_after_all(bench: Bench) -> None:
    bench.ask(gone=[[1, 3]], last=3)
    assert codes(bench.ask(ops=[bench.op(2)])) == ["ok"]
    assert list(bench.store.lost_numbers().values()) == [[(1, 1), (3, 3)]]


def test_absurd_range_of_lost_numbers_costs_nothing(bench: Bench) -> None:
    answer = bench.ask(gone=[[1, 2**53 - 1]], last=2**53 - 1)
    assert answer["need"] == []
    assert bench.ask("skipper", ops=[bench.op(1)])["results"][0]["result"] == "ok"


# --- rights -----------------------------------------------------------------------------------

SET_NAME = {"doc": CELL["part"], "f": {"name": "x"}, "base": {}}
SET_NOTE = {"doc": CELL["part"], "f": {"note": "x"}, "base": {}}
SAME = {"keep": CELL["part"], "drop": CELL["part"][:-1] + "9"}


@pytest.mark.parametrize(("who", "kind", "body", "outcome"), [
    ("skipper", "set", SET_NAME, "ok"), ("skipper", "same", SAME, "ok"),
    ("crew", "put", None, "ok"), ("crew", "set", SET_NOTE, "ok"),
    ("crew", "set", SET_NAME, "not_allowed"), ("crew", "same", SAME, "not_allowed"),
    ("guest", "put", None, "not_allowed"), ("guest", "took", None, "not_allowed"),
    ("guest", "set", SET_NOTE, "not_allowed"),
    *[(who, "restamp", {"of": VESSEL, "at": "0" * 12 + ".0000.a0000001"}, "not_allowed")
      for who in ("skipper", "crew", "guest")]])
def test_right_to_write_follows_the_role(bench: Bench, who: str, kind: str, body: dict | None,
                                         outcome: str) -> None:
    assert codes(bench.ask(who, ops=[bench.op(1, kind, body)])) == [outcome]


def test_guest_with_the_grant_may_take(bench: Bench) -> None:
    device = bench.store.device_of("guest")
    bench.store.save_device(Device(device.dev, "guest", grants=("take",)))
    assert codes(bench.ask("guest", ops=[bench.op(1, "took"), bench.op(2)])) == [
        "ok", "not_allowed"]


def test_crew_undoes_its_own_changes_only(bench: Bench) -> None:
    theirs, own = bench.op(1), bench.op(1)
    bench.ask("skipper", ops=[theirs])
    answer = bench.ask(ops=[own, bench.op(2, "void", {"of": own["id"]}),
                            bench.op(3, "void", {"of": theirs["id"]}),
                            bench.op(4, "void", {"of": bench.ident()})])
    assert codes(answer) == ["ok", "ok", "not_allowed", "held"]
    assert codes(bench.ask("skipper", ops=[bench.op(2, "void", {"of": own["id"]})])) == ["ok"]


def test_setting_or_an_undoing_cannot_be_undone_so(bench: Bench) -> None:
    took, written = bench.op(1, "took"), bench.op(2, "set", SET_NAME)
    void = bench.op(3, "void", {"of": took["id"]})
    answer = bench.ask("skipper", ops=[
        took, written, void, bench.op(4, "void", {"of": written["id"]}),
        bench.op(5, "void", {"of": void["id"]})])
    assert codes(answer) == ["ok", "ok", "ok", "bad_value", "bad_value"]


def test_change_that_an_earlier_role_allowed_is_held(bench: Bench) -> None:
    device = bench.store.device_of("crew")
    bench.store.save_device(Device(device.dev, "guest", roles_before=("crew",)))
    answer = bench.ask(ops=[bench.op(1), bench.op(2, "same", SAME)])
    assert codes(answer) == ["held", "not_allowed"] and bench.log() == []


def test_unit_of_a_part_stays_as_it_was_first_set(bench: Bench) -> None:
    def unit(n: int, value: str) -> dict:
        return bench.op(n, "set", {"doc": CELL["part"], "f": {"unit": value}, "base": {}})
    assert codes(bench.ask("skipper", ops=[unit(1, "m"), unit(2, "m"), unit(3, "pcs")])) == [
        "ok", "ok", "immutable"]


def test_lost_device_gets_nothing_and_stores_nothing(bench: Bench) -> None:
    device = bench.store.device_of("crew")
    bench.store.save_device(Device(device.dev, "crew", revoked="lost"))
    with pytest.raises(Stopped) as caught:
        bench.ask(ops=[bench.op(1)])
    assert caught.value.facts["stop"] == "revoked" and bench.log() == []


def retire(bench: Bench) -> None:
    device = bench.store.device_of("crew")
    bench.store.save_device(Device(device.dev, "crew", revoked="retired", revoked_ms=NOW))


def test_retired_device_hands_in_and_gets_nothing(bench: Bench) -> None:
    bench.ask("skipper", ops=[bench.op(1)])
    retire(bench)
    answer = bench.ask(ops=[bench.op(1), bench.op(2)], relay=[{}])
    assert codes(answer) == ["held", "held"] and len(bench.log()) == 1
    assert answer["changes"] == [] and answer["cursor"] is None and not answer["more"]
    with pytest.raises(Stopped):
        bench.ask(ops=[])


def test_leaver_hands_in_no_more_by_calling_itself_emptied(
        bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("spares.sync.exchange.MOST_HELD", 2)
    retire(bench)
    bench.ask(ops=[bench.op(1), bench.op(2)])
    with pytest.raises(Stopped) as caught:
        bench.ask(ops=[bench.op(1)], inst="emptied")
    assert caught.value.facts["stop"] == "revoked"


def test_retired_device_that_comes_too_late_is_turned_away(bench: Bench) -> None:
    retire(bench)
    bench.wall_ms += 91 * DAY_MS
    with pytest.raises(Stopped):
        bench.ask(ops=[bench.op(1)], now=bench.wall_ms)


def test_held_change_enters_with_the_stamp_of_its_arrival(bench: Bench) -> None:
    retire(bench)
    op, other = bench.op(1, t=NOW - DAY_MS), bench.op(2)
    bench.ask(ops=[op, other])
    bench.wall_ms += 5 * DAY_MS
    assert approve(bench.store, op["id"]) == 1
    (_, envelope), = bench.store.rows(0, 9)
    assert time_of(envelope.at) == pytest.approx(NOW - DAY_MS, abs=100)
    assert mac_is_good(envelope, KEY)
    reject(bench.store, other["id"])
    assert bench.store.kept(other["id"]).code == "rejected"
    for decide in (approve, reject):
        with pytest.raises(NotFound):
            decide(bench.store, other["id"])


def test_held_change_that_came_back_otherwise_is_not_approved_twice(bench: Bench) -> None:
    retire(bench)
    op = bench.op(1)
    bench.ask(ops=[op])
    held = bench.store.held(op["id"])
    approve(bench.store, op["id"])
    bench.store.hold(held)
    with pytest.raises(Conflict):
        approve(bench.store, op["id"])


# --- clocks -----------------------------------------------------------------------------------


def test_restarted_server_takes_the_time_it_lost_from_a_phone(bench: Bench) -> None:
    first = bench.ask()
    bench.boot = "boot-2"
    answer = bench.ask(ops=[bench.op(1, t=NOW + 3 * DAY_MS)], now=NOW + 4 * DAY_MS,
                       off_prev=NOW - first["now"], boot_prev="boot-1")
    sealed = answer["results"][0]["sealed"]
    assert answer["now"] >= NOW + 4 * DAY_MS and answer["clock"] == "doubt"
    assert sealed["g"] == 1
    assert time_of(sealed["at"]) == pytest.approx(NOW + 3 * DAY_MS, abs=100)


def test_guest_moves_no_clock(bench: Bench) -> None:
    answer = bench.ask("guest", now=NOW + DAY_MS, off_prev=0, boot_prev="boot-0")
    assert answer["now"] < NOW + DAY_MS


@pytest.mark.parametrize("clocks", [
    {"now": -1}, {"now": 0}, {"now": 10**18}, {"now": -(10**30)}, {"off_prev": 10**18},
    {"off_prev": -1}])
def test_mad_clock_of_a_request_is_cut_and_never_of_the_future(bench: Bench, clocks: dict) -> None:
    answer = bench.ask(ops=[bench.op(1), bench.op(2, t=10**18), bench.op(3, t=-1)], **clocks)
    stamps = [result["sealed"] for result in answer["results"]]
    assert len(stamps) == 3 and all(time_of(s["at"]) <= answer["now"] for s in stamps)
    assert [s["at"] for s in stamps] == sorted(s["at"] for s in stamps)
    assert stamps[1]["g"] == stamps[2]["g"] == 1


def test_stamp_from_the_future_is_ignored_and_graded(bench: Bench) -> None:
    after = stamp_text(NOW + 10**9, 0, "b0000002")
    sealed = bench.ask(ops=[bench.op(1, after=after)])["results"][0]["sealed"]
    assert sealed["g"] == 1 and time_of(sealed["at"]) < NOW + 1000


# --- the outside of a request -----------------------------------------------------------------


@pytest.mark.parametrize(("parts", "stop"), [
    ({"proto": 2}, "server_old"), ({"schema": 2}, "server_old"), ({"proto": 0}, "malformed"),
    ({"vessel": VESSEL[:-1] + "b"}, "wrong_boat"), ({"vessel": 5}, "malformed"),
    ({"now": "noon"}, "malformed"), ({"now": 1.5}, "malformed"), ({"stepped": 1}, "malformed"),
    ({"ops": [{}] * 501}, "malformed"), ({"relay": [{}] * 501}, "malformed"),
    ({"want": 1001}, "malformed"), ({"want": -1}, "malformed"), ({"gone": [[2, 1]]}, "malformed"),
    ({"gone": [[0, 1]]}, "malformed"), ({"inst": ""}, "malformed"), ({"more": 1}, "malformed")])
def test_request_with_a_wrong_outside_is_stopped(bench: Bench, parts: dict, stop: str) -> None:
    with pytest.raises(Stopped) as caught:
        bench.ask(**{"ops": [bench.op(1)], **parts})
    assert caught.value.facts["stop"] == stop and bench.log() == []


@pytest.mark.parametrize("obj", [None, [], 5, "x", {}])
def test_thing_that_is_no_request_is_stopped(bench: Bench, obj: Any) -> None:
    around = Around(NOW, "boot", bench.ident)
    with pytest.raises(Stopped) as caught:
        bench.answer(bench.store.device_of("crew"), obj, around)
    assert caught.value.facts["stop"] == "malformed"
