"""Where a device stands in the log, and what it brings back after a restore."""

from __future__ import annotations

from typing import Any
from uuid import UUID, uuid5

import pytest

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.change import Change, envelope_from_json, mac_is_good, seal
from spares.sync.stamp import DAY_MS, time_of
from spares.sync.store import entries_of
from tests.sync.bench import CELL, KEY, NOW, VESSEL, Bench


def test_pages_follow_each_other_without_gap_or_overlap(bench: Bench) -> None:
    ops = [bench.op(n) for n in range(1, 8)]
    bench.ask("skipper", ops=ops)
    cursor, found = None, []
    for _ in range(4):
        answer = bench.ask(cursor=cursor, want=2)
        found += [row["seq"] for row in answer["changes"]]
        cursor = answer["cursor"]
    assert found == [1, 2, 3, 4, 5, 6, 7] and not answer["more"]
    assert bench.ask(cursor=cursor)["changes"] == []


@pytest.mark.parametrize("make", [
    lambda good: "x", lambda good: "", lambda good: good[:-1] + ("0" if good[-1] != "0" else "1"),
    lambda good: good.replace(":1:", ":2:"), lambda good: good.replace(":1:", f":{10**18}:"),
    lambda good: good.replace(":1:", ":-1:"), lambda good: "f" * 16 + good[16:]])
def test_forged_cursor_begins_anew_and_takes_no_change(bench: Bench, make: Any) -> None:
    good = bench.ask("skipper", ops=[bench.op(1)])["cursor"]
    answer = bench.ask(cursor=make(good), ops=[bench.op(1)])
    assert answer["reset"] and answer["results"] == [] and len(answer["changes"]) == 1
    assert len(bench.store.epochs()) == 1 and len(bench.log()) == 1


def test_cursor_too_long_to_be_one_is_malformed(bench: Bench) -> None:
    with pytest.raises(Stopped) as caught:
        bench.ask(cursor="x" * 1_000_000)
    assert caught.value.facts["stop"] == "malformed"


def test_cursor_of_a_log_put_back_by_hand_begins_a_new_epoch(bench: Bench) -> None:
    bench.ask("skipper", ops=[bench.op(1)])
    backup = bench.store.backup()
    cursor = bench.ask("skipper", ops=[bench.op(2)])["cursor"]
    bench.store.put_back(backup, by_hand=True)
    answer = bench.ask("skipper", cursor=cursor, ops=[bench.op(3)])
    assert answer["reset"] and answer["results"] == [] and len(answer["changes"]) == 1
    assert [end for _, end in bench.store.epochs()] == [1, None]


def test_what_comes_with_the_cursor_that_shows_it_has_no_place_in_the_epoch_before(
        bench: Bench) -> None:
    """An office's letter is the first that comes: nobody aboard had seen what it brings."""
    bench.ask("skipper", ops=[bench.op(1, "put", {**CELL, "q": 10_000})])
    backup = bench.store.backup()
    bench.ask("skipper", ops=[bench.op(2, "reading", {
        "machine": "machine/00000000-0000-4000-8000-000000000009", "date": "2027",
        "minutes": 60})])
    apart = bench.ask("crew")                       # it has both rows, and then no net
    bench.store.put_back(backup, by_hand=True)
    taken = seal(Change(bench.ident(), 1, "took", 1, NOW, None, "", 0, {**CELL, "q": 2000}),
                 dev="ashore01", at=f"{NOW:012x}.0000.ashore01", g=0,
                 pos={"00000000000000ab": 1}, key=KEY)
    bench.ask("skipper", relay=[taken.to_json()], cursor=apart["cursor"])
    counted = bench.op(1, "counted", {**CELL, "q": 10_000}, seen=apart["seen"])
    bench.ask("crew", ops=[counted], cursor=bench.ask("crew", cursor=apart["cursor"])["cursor"])
    entries = entries_of(bench.store.rows(0, 9), bench.store.epochs())
    assert [cell.doubts for cell in fold(entries).values()] == [(taken.id,)]


def test_change_of_a_lost_time_comes_back_with_author_stamp_and_seal(bench: Bench) -> None:
    backup = bench.store.backup()
    bench.ask("skipper", ops=[bench.op(1)])
    (_, envelope), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    answer = bench.ask(relay=[envelope.to_json()])
    assert answer["relayed"] == [{"id": envelope.id, "result": "ok", "seq": 1}]
    assert bench.store.rows(0, 9) == [(1, envelope)]
    again = bench.ask(relay=[envelope.to_json()])
    assert again["relayed"][0]["result"] == "dup" and len(bench.log()) == 1


def test_altered_or_foreign_envelope_is_refused_and_the_others_go_on(bench: Bench) -> None:
    backup = bench.store.backup()
    bench.ask("skipper", ops=[bench.op(1)])
    (_, envelope), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    good = envelope.to_json()
    altered = [{**good, "dev": "ffffffff"}, {**good, "at": good["at"].replace(".0000.", ".0001.")},
               {**good, "mac": "0" * 32}, {**good, "body": {**CELL, "q": 2000}}, {**good, "x": 1},
               5]
    answer = bench.ask(relay=[*altered, good])
    assert [r.get("code", r["result"]) for r in answer["relayed"]] == [
        "bad_mac", "bad_mac", "bad_mac", "bad_mac", "bad_shape", "bad_shape", "ok"]


def test_change_accepted_twice_keeps_the_smaller_stamp_and_both_places(bench: Bench) -> None:
    backup = bench.store.backup()
    op = bench.op(1, t=NOW - 5000)
    bench.ask("skipper", ops=[op])
    (_, first), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    bench.wall_ms += DAY_MS
    bench.ask("skipper", ops=[op], now=NOW)         # a day later by the server's clock
    bench.ask(relay=[first.to_json()])
    (_, second), (_, restamp) = bench.store.rows(0, 9)
    assert second.at > first.at and restamp.kind == "restamp"
    assert restamp.body == {"of": op["id"], "at": first.at, "g": first.g, "pos": first.pos}
    assert restamp.dev == bench.store.own_dev and mac_is_good(restamp, KEY)
    bench.ask(relay=[first.to_json()])
    assert len(bench.log()) == 2


def test_change_whose_number_was_used_again_comes_back_under_another(bench: Bench) -> None:
    backup = bench.store.backup()
    bench.ask("skipper", ops=[bench.op(1)])
    (_, lost), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    bench.ask("skipper", ops=[bench.op(1)])
    assert bench.ask(relay=[lost.to_json()])["relayed"][0]["result"] == "ok"
    (_, there), (_, back) = bench.store.rows(0, 9)
    assert back.id == lost.id and back.body == lost.body and back.dev != lost.dev
    assert time_of(back.at) == time_of(lost.at) and mac_is_good(back, KEY)


def test_change_after_one_brought_back_is_stamped_above_what_its_author_saw(bench: Bench) -> None:
    backup = bench.store.backup()
    bench.wall_ms += DAY_MS                         # the restored server stands a day behind
    bench.ask("skipper", ops=[bench.op(1)], now=NOW)
    (_, seen), = bench.store.rows(0, 9)
    bench.wall_ms -= DAY_MS
    bench.store.put_back(backup)
    answer = bench.ask(relay=[seen.to_json()], ops=[bench.op(1, after=seen.at)])
    sealed = answer["results"][0]["sealed"]
    # The device number at the end must not be what decides.
    assert sealed["at"][:17] > seen.at[:17] and sealed["g"] == 0


def test_act_with_a_name_of_its_own_is_told_as_it_stands(bench: Bench) -> None:
    named = str(uuid5(UUID(VESSEL), "borrowed"))
    first = {**bench.op(1), "id": named, "t": NOW - 9000}
    assert bench.ask("crew", ops=[first])["results"][0]["result"] == "ok"
    again = {**bench.op(1, body={**CELL, "q": 5000}), "id": named}
    told = bench.ask("skipper", ops=[again])["results"][0]
    assert (told["result"], told["was"]) == ("dup", "ok")
    envelope = envelope_from_json({**again, **told["sealed"]})
    assert mac_is_good(envelope, KEY) and (envelope.t, envelope.body["q"]) == (NOW - 9000, 1000)
    other = {**bench.op(2, "took"), "id": named}        # another act altogether
    assert bench.ask("skipper", ops=[other], last=2)["results"][0]["code"] == "id_reused"
