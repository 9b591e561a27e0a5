"""Stamps: by age, above all that was seen, never later than the arrival."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.sync import stamp as clocks
from spares.sync.stamp import DAY_MS, MINUTE_MS, ServerClock

HOUR = 60 * MINUTE_MS
START = 1_800_000_000_000
MS = st.integers(0, 2**45)
STAMPS = st.one_of(st.just(""), st.builds(
    lambda ms, count: clocks.stamp_text(ms, count, "b0000002"), MS, st.integers(0, 16**4 - 1)))


@given(st.lists(st.integers(-(2**53), 2**53), min_size=1), st.integers(0, DAY_MS))
def test_server_time_rises_whatever_its_wall_clock_does(walls: list[int], adj: int) -> None:
    clock, before = ServerClock(0, adj), -1
    for wall in walls:
        now, clock = clocks.tick(clock, wall)
        assert now > before
        before = now


@given(now=MS, error=st.integers(-(11 * 365 * DAY_MS), 11 * 365 * DAY_MS),
       age=st.integers(0, 400 * DAY_MS))
def test_constant_error_of_a_phone_clock_costs_nothing(now: int, error: int, age: int) -> None:
    server = 2**45
    right = clocks.stamp(server, now, now - age, "", "a0000001")
    wrong = clocks.stamp(server, now + error, now + error - age, "", "a0000001")
    assert right == wrong and clocks.time_of(right) == server - age


@given(server=MS, now=st.integers(-(2**53), 2**53), t=st.integers(-(2**53), 2**53),
       previous=STAMPS, after=STAMPS)
def test_stamp_is_above_all_that_was_seen_and_never_of_the_future(
        server: int, now: int, t: int, previous: str, after: str) -> None:
    if previous and clocks.time_of(previous) >= server:
        previous = ""
    low = clocks.floor_of(previous, after, server)
    at = clocks.stamp(server, now, t, low, "a0000001")
    assert clocks.time_of(at) <= server
    assert at > previous
    assert at > after or clocks.is_beyond(after, server)


@given(places=st.sets(st.integers(0, 6), min_size=2), data=st.data())
def test_what_was_lost_finds_its_place_among_what_is_still_here(
        places: set[int], data: st.DataObject) -> None:
    """Some of a device's changes come anew, at any time and age: their order is as before."""
    first = [clocks.stamp_text(9 + place // 3, place % 3 * 0x7fff, "a0000001")
             for place in sorted(places)]
    lost = data.draw(st.sets(st.sampled_from(range(len(first)))), "lost")
    here = {n: at for n, at in enumerate(first) if n not in lost}
    for n in sorted(lost):
        theirs = [at[:18] + "a0000000" for at in first[:n + 1]]     # seen: of another device
        server, age = data.draw(st.integers(13, 30)), data.draw(st.integers(0, 30))
        seen = data.draw(st.sampled_from(["", *first[:n], *theirs]))
        low = clocks.floor_of(max((here[one] for one in here if one < n), default=""), seen, server)
        at = clocks.stamp(server, age, 0, low, "a0000001")
        above = [(one, here[one]) for one in here if one > n]
        here[n] = clocks.fit_below(at, low, n, above, "a0000001") if above else at
        assert here[n] > seen
    in_order = [here[n] for n in sorted(here)]
    assert in_order == sorted(set(in_order))


def test_stamps_of_one_request_rise_with_their_number() -> None:
    at = ""
    for _ in range(500):
        following = clocks.stamp(START, START, START, clocks.floor_of(at, "", START), "a0000001")
        assert following > at
        at = following
    assert clocks.time_of(at) == START


def test_stamp_reads_as_text_of_fixed_width() -> None:
    # 1 800 000 000 000 is 0x1a3185c5000 (worked by hand)
    assert clocks.stamp(START, START, START, "", "a0000001") == "01a3185c5000.0000.a0000001"
    assert clocks.stamp(START, START, START, "01a3185c5000.00ff.b0000002", "a0000001") \
        == "01a3185c5000.0100.a0000001"


def test_full_counter_goes_on_in_the_next_millisecond() -> None:
    assert clocks.stamp(1000, 0, 0, "000000000010.ffff.b0000002", "a0000001") \
        == "0000000003e8.0000.a0000001"
    assert clocks.stamp(1000, 990, 0, "000000000010.ffff.b0000002", "a0000001") \
        == "000000000011.0000.a0000001"


def test_drift_is_what_changed_since_the_last_sync() -> None:
    assert clocks.drift_ms(START + HOUR, START, HOUR) == 0
    assert clocks.drift_ms(START + HOUR, START, None) == HOUR
    assert clocks.drift_ms(START, START + HOUR, 0) == -HOUR


SURE = {"restarted": True, "first": False, "stepped": False, "trusted": True}


@pytest.mark.parametrize(("drift", "circumstances", "lost"), [
    (70 * HOUR, {}, 70 * HOUR),
    (60 * DAY_MS, {}, 60 * DAY_MS),
    (60 * DAY_MS + 1, {}, 0),
    (2 * MINUTE_MS, {}, 0),
    (2 * MINUTE_MS + 1, {}, 2 * MINUTE_MS + 1),
    (-70 * HOUR, {}, 0),
    (70 * HOUR, {"restarted": False}, 0),
    (70 * HOUR, {"first": True}, 0),
    (70 * HOUR, {"stepped": True}, 0),
    (70 * HOUR, {"trusted": False}, 0),
])
def test_server_believes_that_it_lost_time_only_when_all_speaks_for_it(
        drift: int, circumstances: dict, lost: int) -> None:
    assert clocks.lost_time_ms(drift, **{**SURE, **circumstances}) == lost


@pytest.mark.parametrize(("drift", "lost", "stepped", "good"), [
    (0, 0, False, True), (2 * MINUTE_MS, 0, False, True), (-2 * MINUTE_MS, 0, False, True),
    (2 * MINUTE_MS + 1, 0, False, False), (-2 * MINUTE_MS - 1, 0, False, False),
    (0, 1, False, False), (0, 0, True, False)])
def test_clock_is_good_while_both_run_alike(drift: int, lost: int, stepped: bool,
                                            good: bool) -> None:
    assert clocks.clock_is_good(drift, lost_ms=lost, stepped=stepped) is good


@pytest.mark.parametrize(("now", "t", "circumstances", "grade"), [
    (START, START, {}, 0), (START, START - 400 * DAY_MS, {}, 0),
    (START, START - 400 * DAY_MS - 1, {}, 1), (START, START + 1, {}, 1), (START, -1, {}, 1),
    (START, 2**53 - 1, {}, 1), (START, START, {"good": False}, 1),
    (START, START, {"known_doubtful": True}, 1), (START, START, {"after_beyond": True}, 1)])
def test_grade_says_whether_the_age_can_be_trusted(now: int, t: int, circumstances: dict,
                                                   grade: int) -> None:
    usual = {"good": True, "known_doubtful": False, "after_beyond": False}
    assert clocks.grade(now, t, **{**usual, **circumstances}) == grade


def test_stamp_of_the_future_is_ignored_not_capped() -> None:
    future = "ffffffffffff.0000.b0000002"
    assert clocks.is_beyond(future, START)
    assert clocks.floor_of("000000000001.0000.a0000001", future, START) \
        == "000000000001.0000.a0000001"


def test_envelope_that_comes_back_lifts_the_clock_to_where_it_was() -> None:
    clock = clocks.advance_to(ServerClock(START, 0), START + HOUR, START)
    assert clocks.tick(clock, START + 1)[0] == START + HOUR + 1
    assert clocks.tick(clock, START + 60_000)[0] == START + HOUR + 60_000   # and it runs on


def test_clock_is_lifted_also_where_its_wall_stands_far_behind() -> None:
    # The wall clock stands an hour behind the last time given.
    clock = clocks.advance_to(ServerClock(START, 0), START + HOUR, START - HOUR)
    assert clocks.tick(clock, START - HOUR)[0] == START + HOUR


def test_clock_is_never_set_back() -> None:
    assert clocks.advance_to(ServerClock(START, HOUR), START, START) == ServerClock(START, HOUR)


def test_smaller_of_two_stamps_holds() -> None:
    one, other = "000000000001.0000.a0000001", "000000000001.0001.a0000001"
    assert clocks.holding(one, other) == clocks.holding(other, one) == one
