"""The random histories notice a fault: each of these, planted, makes them fail.

A test that cannot fail proves nothing. Where no random history is likely to
come upon a fault, a story or a directed test does, and is named here.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from spares.domain import book, stock
from spares.errors import Refused
from spares.sync import checks, exchange, relaying, taking
from spares.sync import stamp as clocks
from spares.sync.cursor import Cursor
from spares.sync.memory import MemoryStore
from spares.sync.phone import Phone
from spares.sync.turn import Turn
from tests.sync import (
    crew_world,
    test_coming_back,
    test_exchange,
    test_leaving,
    test_new_number,
    test_stamp,
    test_whole_changes,
    world,
)
from tests.sync.bench import Bench
from tests.sync.test_stories import play as play_story

STORIES = {story["name"]: story for story in json.loads(
    (Path(__file__).parents[1] / "vectors/history/stories.json").read_text("utf-8"))["cases"]}
QUIET: dict[str, bool] = {}
RESTORES = {"restores": True}
STEPS = {"step_clocks": True}
RESTORES_AND_LOST_TIME = {"restores": True, "lost_time": True}
TRIES = 60


def raw_clock(server_ms: int, now_ms: int, t_ms: int, lo_at: str, dev: str) -> str:
    return clocks.stamp_text(max(t_ms, 0), 0, dev) if not lo_at or t_ms > clocks.time_of(lo_at) \
        else clocks.stamp_text(clocks.time_of(lo_at), clocks.count_of(lo_at) + 1, dev)


def send_and_forget(phone: Phone, clock_ms: int,
                    ask: Callable[[Phone, int], dict[str, Any]] = Phone.request) -> dict[str, Any]:
    request = ask(phone, clock_ms)
    phone.outbox = {n: c for n, c in phone.outbox.items() if len(request["ops"]) == 0}
    return request


def believe_any_cursor(store: Any, request: Any) -> tuple[int, bool]:
    if request.cursor is None:
        return 0, True
    return min(int(request.cursor.split(":")[1]), store.size()), True


def seen_is_forgotten(phone: Phone, *args: Any, record: Any = Phone.record) -> Any:
    phone.copy.seen = None
    return record(phone, *args)


def swap_without_bringing_back(phone: Phone, rebuilt: Any) -> None:
    phone.copy, phone.rebuilt = rebuilt, None


def do_nothing(*args: Any) -> None:
    pass


FAULTS: dict[str, tuple[Any, str, Any, dict[str, bool]]] = {
    "the stamp is the phone's own clock": (clocks, "stamp", raw_clock, QUIET),
    "the stamp is the arrival": (clocks, "age_ms", lambda now, t: 0, QUIET),
    "the grade is ignored": (clocks, "grade", lambda *a, **k: 0, STEPS),
    "what was seen sets no lower end": (clocks, "floor_of", lambda at, *a: at, STEPS),
    "what was seen is forgotten": (Phone, "record", seen_is_forgotten, QUIET),
    "everybody has seen everything": (stock, "are_concurrent", lambda *a: False, STEPS),
    "a change is sent and forgotten": (Phone, "request", send_and_forget, QUIET),
    "a change that comes again is new": (MemoryStore, "kept_as", lambda *a: None, QUIET),
    "a change that comes again gets no answer": (taking, "_again", lambda *a: None, QUIET),
    "any cursor is believed": (exchange, "_place", believe_any_cursor, RESTORES),
    "a restore begins no new epoch": (
        MemoryStore, "begin_epoch", do_nothing, RESTORES),
    "nothing is brought back": (Phone, "_swap", swap_without_bringing_back, RESTORES),
    "the clock of the server does not follow what comes back": (
        Turn, "reach", do_nothing, RESTORES_AND_LOST_TIME),
    "an undone change still counts": (book, "without", lambda undone, entries: entries, QUIET),
    "movements before a count are added to it": (book, "came_after", lambda *a: True, QUIET),
}
#: Faults that the histories above do not contain (nobody undoes there), found by a story.
BY_STORY = {
    "an undone change still counts": "a typing slip is undone and a take between stays",
    "changes are taken before the phone has brought back what it knows":
        "a restore, lost time and a clock that stepped back",
    "the server does not learn that it lost time": "the server stood still for 4200 minutes",
}


def notices(seed: int, faults: dict[str, bool]) -> bool:
    """Say whether one random history fails its checks."""
    try:
        played = world.build(seed)
        world.play(played, 120, **faults)
        world.bring_together(played)
        world.check_copies(played)
        world.check_causes(played)
        return bool(world.silently_wrong(played))
    except (AssertionError, KeyError, RuntimeError, IndexError, TypeError):
        return True


@pytest.mark.parametrize("fault", [name for name in FAULTS if name not in BY_STORY])
def test_random_histories_notice_when(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, planted, profile = FAULTS[fault]
    monkeypatch.setattr(where, name, planted)
    assert any(notices(seed, profile) for seed in range(TRIES))


@pytest.mark.parametrize("fault", BY_STORY)
def test_story_notices_when(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    if fault in FAULTS:
        where, name, planted, _ = FAULTS[fault]
        monkeypatch.setattr(where, name, planted)
    elif fault.startswith("the server"):
        monkeypatch.setattr(clocks, "lost_time_ms", lambda *a, **k: 0)
    else:
        place = exchange._place
        monkeypatch.setattr(exchange, "_place", lambda *a: (place(*a)[0], True))
        monkeypatch.setattr(Phone, "request", without_waiting)
    story = STORIES[BY_STORY[fault]]
    assert play_story(story["given"])[1]["on_hand"] != story["expect"]["on_hand"]


def without_waiting(phone: Phone, clock_ms: int,
                    ask: Callable[[Phone, int], dict[str, Any]] = Phone.request) -> dict[str, Any]:
    return {**ask(phone, clock_ms), "ops": [phone.outbox[n].to_json() for n in phone.outbox]}


def split_move(phone: Phone, ident: str, kind: str, body: dict[str, Any], clock_ms: int,
               record: Any = Phone.record) -> Any:
    if kind != "moved":
        return record(phone, ident, kind, body, clock_ms)
    rest = {name: body[name] for name in ("part", "lot", "q")}
    record(phone, ident, "took", {**rest, "locker": body["from"]}, clock_ms)
    return record(phone, f"{ident[:-1]}f", "put", {**rest, "locker": body["to"]}, clock_ms)


def raise_refusal(turn: Turn, raw: Any, err: Refused, _at: str = "") -> None:
    raise err


def cursor_without_seal(text: str, key: bytes) -> Cursor | None:
    epoch, seq, head, _ = text.split(":") if text.count(":") == 3 else ("", "", "", "")
    return Cursor(epoch, int(seq), bytes.fromhex(head)) if seq.isdigit() else None


def forged_cursor_begins_anew(bench: Bench) -> None:
    good = bench.ask("skipper", ops=[bench.op(1)])["cursor"]
    forged = good[:-1] + ("0" if good[-1] != "0" else "1")
    assert bench.ask(cursor=forged).get("reset")


def alone(check: Callable[[], None]) -> Callable[[Bench], None]:
    return lambda _: check()


def take_for_turned_down(phone: Phone, answer: dict[str, Any]) -> None:
    for ident in phone.held.keys() - answer["held"]:
        change = phone.held.pop(ident)
        if ident not in phone.copy.envelopes:
            phone.refused[ident] = change, "rejected"


def number_the_unsent_only(phone: Phone, answer: dict[str, Any]) -> None:
    phone.dev, phone.made = answer["dev"], answer["next_n"] - 1
    unsent, phone.outbox = sorted(phone.outbox.items()), {}
    for _, change in unsent:
        phone.made += 1
        phone.outbox[phone.made] = replace(change, n=phone.made)


def misnumbered(seed: int) -> bool:
    """Say whether a history of a crew that changes fails its checks."""
    try:
        crew_world.check(crew_world.played(seed, 120, forks=False))
    except AssertionError:
        return True
    return False


#: Faults of a phone that goes on under a new number, or whose changes waited.
OF_A_CREW = {
    "what waits for the skipper keeps the number of before": ("_renumber", number_the_unsent_only),
    "nobody knows what a number stood for": ("_said", lambda *a: None),
}


@pytest.mark.parametrize("fault", OF_A_CREW)
def test_histories_of_a_crew_notice_when(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    name, planted = OF_A_CREW[fault]
    monkeypatch.setattr(Phone, name, planted)
    assert any(misnumbered(seed) for seed in range(TRIES))


DIRECTED: dict[str, tuple[Any, str, Any, Callable[[Bench], None]]] = {
    "the larger of two stamps holds": (
        clocks, "holding", max,
        test_coming_back.test_change_accepted_twice_keeps_the_smaller_stamp_and_both_places),
    "a seal is not looked at": (
        relaying, "mac_is_good", lambda *a: True,
        test_coming_back.test_altered_or_foreign_envelope_is_refused_and_the_others_go_on),
    "a cursor has no seal": (exchange, "read_cursor", cursor_without_seal,
                             forged_cursor_begins_anew),
    "a refused change uses no number": (
        MemoryStore, "mark", do_nothing,
        test_exchange.test_refused_change_uses_its_number_and_delays_no_other),
    "a refused change stops the whole request": (
        taking, "_refuse", raise_refusal,
        test_exchange.test_refused_change_uses_its_number_and_delays_no_other),
    "a move is two changes": (Phone, "record", split_move,
                              alone(test_whole_changes.test_move_is_there_whole_or_not_at_all)),
    # Stamps are never equal; what could be taken for equal is their time.
    "a movement in the millisecond of the count is on top of it": (
        book, "came_after", lambda movement, count: movement.at[:12] >= count.at[:12],
        alone(test_whole_changes.test_take_and_count_in_one_millisecond_stand_in_their_order)),
    "a quantity may be a fraction": (
        checks, "type", lambda value: int if isinstance(value, float) else type(value),
        lambda _: test_whole_changes.test_quantity_that_is_no_whole_number_is_refused(1000.0)),
    "what a guest or leaver brings back counts at once": (
        relaying, "_may_bring", lambda *a: True,
        test_leaving.test_leaver_brings_back_what_was_its_own_and_then_hands_in),
    "what waits there no longer is taken for turned down": (
        Phone, "_look_at_held", take_for_turned_down,
        alone(test_new_number.test_leaver_is_not_told_that_what_was_approved_was_turned_down)),
    "what waits for the skipper keeps the number of before": (
        Phone, "_renumber", number_the_unsent_only,
        alone(test_new_number.test_held_take_of_an_earlier_number_stays_before_the_count_after_it)),
    "what is decided again stands above what came later": (
        MemoryStore, "stamps_around", lambda store, dev, n: (store.last_at(dev), []),
        test_leaving.test_what_is_decided_again_stays_below_what_its_author_made_later),
    "the server's clock is only held up, not set right": (
        clocks, "advance_to",
        lambda clock, to_ms, _: replace(clock, last_ms=max(clock.last_ms, to_ms)),
        alone(test_stamp.test_envelope_that_comes_back_lifts_the_clock_to_where_it_was)),
}


@pytest.mark.parametrize("fault", DIRECTED)
def test_directed_test_notices_when(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, planted, check = DIRECTED[fault]
    check(Bench())
    monkeypatch.setattr(where, name, planted, raising=name != "type")
    with pytest.raises((AssertionError, Refused)):
        check(Bench())
