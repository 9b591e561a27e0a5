"""A phone that goes on under a new number: what waited under the one before stays what it was."""

from __future__ import annotations

import copy
from itertools import count
from typing import Any

import pytest

from spares.domain.stock import fold
from spares.sync.memory_server import MemoryServer
from spares.sync.phone import Phone
from tests.sync.bench import CELL, KEY, NOW, VESSEL


class _Apart:
    """A skipper and one of the crew, whose change waits for the skipper."""

    def __init__(self, make: Any) -> None:
        numbers = count(1)
        self.ident = lambda: f"00000000-0000-4000-8000-{next(numbers):012x}"
        fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731
        self.server = MemoryServer(VESSEL, KEY, fresh)
        self.server.pair("skipper", "skipper", NOW)
        self.phone, self.token = make(VESSEL, self.server.pair("crew", "crew", NOW), fresh), "crew"
        self.sync()

    def tap(self, kind: str = "took", body: dict[str, Any] | None = None) -> str:
        ident = self.ident()
        self.phone.record(ident, kind, {**CELL, "q": 1000} if body is None else body, NOW)
        self.sync()
        return ident

    def sync(self) -> None:
        self.phone.sync(lambda request: self.server.handle(self.token, request, NOW), NOW)


def held_change_of_an_earlier_number_outlasts_a_restore(make: Any) -> None:
    """The old number is asked for no more: the phone itself has to ask about the change."""
    apart = _Apart(make)
    apart.server.backup("before")
    waits = [apart.tap("void", {"of": apart.ident()}) for _ in range(5)]    # of what is still away
    copied = copy.deepcopy(apart.phone)
    apart.tap()
    apart.phone = copied
    apart.tap()                                             # a fork: it goes on under a new number
    assert sorted(apart.phone.held) == waits and all(map(apart.server.held, waits))
    apart.server.restore("before")
    apart.sync()
    assert all(map(apart.server.held, waits))
    numbers = [apart.server.held(ident).change.n for ident in waits]
    assert numbers == sorted(numbers) and sorted(apart.phone.held) == waits


def who_is_paired_again_still_waits(make: Any, then: str) -> None:
    """Told that it was turned down, a person would make it anew, and it would count twice."""
    apart = _Apart(make)
    apart.server.revoke("crew", NOW)
    waits = apart.tap()
    apart.server.pair("again", "crew", NOW)
    apart.token = "again"
    apart.sync()
    assert list(apart.phone.held) == [waits] and not apart.phone.refused
    getattr(apart.server, then)(waits)
    apart.sync()
    assert not apart.phone.held
    assert list(apart.phone.refused) == ([] if then == "approve" else [waits])


def leaver_is_not_told_that_what_was_approved_was_turned_down(make: Any) -> None:
    """One who has left gets no rows: only the answer to the change says that it was taken."""
    apart = _Apart(make)
    apart.server.revoke("crew", NOW)
    waits = apart.tap()
    apart.server.approve(waits)
    also = apart.tap()
    assert list(apart.phone.held) == [also] and not apart.phone.refused


def held_take_of_an_earlier_number_stays_before_the_count_after_it(make: Any) -> None:
    """The same hand took two and then counted eight: they are in the count."""
    apart = _Apart(make)
    apart.tap("put", {**CELL, "q": 10_000})
    apart.server.backup("before")
    apart.server.revoke("crew", NOW)
    taken = apart.tap("took", {**CELL, "q": 2000})
    assert apart.server.held(taken)
    apart.server.pair("again", "crew", NOW)
    apart.token = "again"
    apart.phone.record(apart.ident(), "counted", {**CELL, "q": 8000}, NOW)
    apart.sync()
    apart.server.restore("before")
    apart.sync()
    assert taken in {entry.id for entry in apart.server.entries()}
    assert [cell.quantity for cell in fold(apart.server.entries()).values()] == [8000]


def test_held_take_of_an_earlier_number_stays_before_the_count_after_it() -> None:
    held_take_of_an_earlier_number_stays_before_the_count_after_it(Phone)


def refusal_that_a_restore_forgot_is_shown_no_more(make: Any) -> None:
    """Told that it was turned down, a person would make it anew, and it would count twice."""
    apart = _Apart(make)
    waits = apart.tap("void", {"of": apart.ident()})        # of a change that is still away
    apart.server.backup("before")
    apart.server.reject(waits)
    apart.sync()
    copied = copy.deepcopy(apart.phone)
    apart.tap()
    apart.phone = copied
    apart.tap()                                             # a fork: it goes on under a new number
    assert list(apart.phone.refused) == [waits]
    apart.server.restore("before")
    apart.sync()
    assert list(apart.phone.held) == [waits] and not apart.phone.refused
    apart.server.approve(waits)
    apart.sync()
    assert not apart.phone.held and not apart.phone.refused


def test_refusal_that_a_restore_forgot_is_shown_no_more() -> None:
    refusal_that_a_restore_forgot_is_shown_no_more(Phone)


def number_of_what_is_known_under_another_is_not_shown_as_lost(make: Any) -> None:
    """Taken under the number before a fork, and asked for under the present one after a restore."""
    apart = _Apart(make)
    apart.server.backup("before")
    apart.phone.record(apart.ident(), "put", {**CELL, "q": 1000}, NOW)
    copied = copy.deepcopy(apart.phone)
    apart.sync()
    apart.tap("put")
    apart.phone = copied
    apart.tap("put")                                        # a fork: what it had is known there
    apart.server.restore("before")
    apart.sync()
    assert len(apart.server.entries()) == 3 and apart.server.lost_numbers() == {}


def test_number_of_what_is_known_under_another_is_not_shown_as_lost() -> None:
    number_of_what_is_known_under_another_is_not_shown_as_lost(Phone)


def what_came_under_the_new_number_at_once_is_not_shown_as_lost(make: Any) -> None:
    """Paired again before it ever sent: its first numbers are taken as those of the new one."""
    apart = _Apart(make)
    apart.server.backup("before")
    for _ in range(2):
        apart.phone.record(apart.ident(), "put", {**CELL, "q": 1000}, NOW)
    apart.server.pair("again", "crew", NOW)
    apart.token = "again"
    apart.server.revoke("again", NOW)
    apart.sync()
    apart.server.restore("before")
    apart.sync()
    assert len(apart.phone.held) == 2 and apart.server.lost_numbers() == {}


def test_what_came_under_the_new_number_at_once_is_not_shown_as_lost() -> None:
    what_came_under_the_new_number_at_once_is_not_shown_as_lost(Phone)


def test_held_change_of_an_earlier_number_outlasts_a_restore() -> None:
    held_change_of_an_earlier_number_outlasts_a_restore(Phone)


@pytest.mark.parametrize("then", ["approve", "reject"])
def test_who_is_paired_again_still_waits(then: str) -> None:
    who_is_paired_again_still_waits(Phone, then)


def test_leaver_is_not_told_that_what_was_approved_was_turned_down() -> None:
    leaver_is_not_told_that_what_was_approved_was_turned_down(Phone)
