"""A phone that goes on under a new number: what waited under the one before stays what it was."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any
from uuid import UUID, uuid5

import pytest

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.phone import Phone
from tests.sync.apart import Apart
from tests.sync.bench import CELL, NOW, VESSEL


def held_change_of_an_earlier_number_outlasts_a_restore(make: Any) -> None:
    """The old number is asked for no more: the phone itself has to ask about the change."""
    apart = Apart(make)
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
    apart = Apart(make)
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
    apart = Apart(make)
    apart.server.revoke("crew", NOW)
    waits = apart.tap()
    apart.server.approve(waits)
    also = apart.tap()
    assert list(apart.phone.held) == [also] and not apart.phone.refused


def held_take_of_an_earlier_number_stays_before_the_count_after_it(make: Any) -> None:
    """The same hand took two and then counted eight: they are in the count."""
    apart = Apart(make)
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
    apart = Apart(make)
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
    apart = Apart(make)
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
    apart = Apart(make)
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


def test_held_change_of_an_earlier_number_outlasts_a_restore() -> None:
    held_change_of_an_earlier_number_outlasts_a_restore(Phone)


@pytest.mark.parametrize("then", ["approve", "reject"])
def test_who_is_paired_again_still_waits(then: str) -> None:
    who_is_paired_again_still_waits(Phone, then)


def test_leaver_is_not_told_that_what_was_approved_was_turned_down() -> None:
    leaver_is_not_told_that_what_was_approved_was_turned_down(Phone)


def number_of_what_was_approved_under_another(make: Any) -> None:
    """Paired again while it waited: its number there stands for what the log has under another."""
    apart = Apart(make)
    apart.server.backup("before")
    apart.leave()
    taken = apart.tap()
    apart.pair_again()
    apart.sync()
    apart.server.approve(taken)
    apart.sync()
    apart.server.restore("before")
    apart.sync()
    assert [entry.id for entry in apart.server.entries()] == [taken]
    assert apart.server.lost_numbers() == {}


def number_under_which_it_was_first_asked_about(make: Any) -> None:
    """Turned down and asked about, a change has two numbers; a log put back lacks both."""
    apart = Apart(make)
    apart.server.backup("before")
    apart.leave()
    waits = apart.tap()
    apart.tap()
    apart.server.reject(waits)
    apart.tap()                     # one who has left is answered when there is something new
    apart.server.restore("before")
    apart.sync()
    assert apart.server.held(waits) and apart.server.lost_numbers() == {}


def number_that_the_log_knows_as_another(make: Any) -> None:
    """Taken on both sides of a restore, under two numbers: the log of before knows the first."""
    apart = Apart(make)
    apart.server.backup("before")
    apart.tap(alone=True)
    apart.cut_off()
    apart.server.backup("after")
    apart.server.restore("before")
    apart.pair_again()
    apart.sync()
    for _ in range(2):
        apart.server.restore("after")
        apart.sync()
        assert "took" in {entry.kind for entry in apart.server.entries()}
        assert apart.server.lost_numbers() == {}


def refusal_that_only_the_number_of_before_knew(make: Any) -> None:
    """Turned down, paired again, and the log put back to when it waited: it waits again."""
    apart = Apart(make)
    apart.leave()
    waits = apart.tap()
    apart.server.backup("waiting")
    apart.server.reject(waits)
    apart.tap()
    apart.pair_again()
    apart.sync()
    assert list(apart.phone.refused) == [waits]
    apart.server.restore("waiting")
    apart.sync()
    assert apart.server.held(waits) and waits in apart.phone.held and not apart.phone.refused
    apart.server.approve(waits)
    apart.sync()
    assert waits not in apart.phone.held and not apart.phone.refused


def take_that_was_just_asked_about_stays_before_the_count(make: Any) -> None:
    """Two were taken, then eight counted; the answer about the two was lost on the way."""
    apart = Apart(make)
    apart.tap("put", {**CELL, "q": 10_000})
    apart.server.backup("before")
    apart.leave()
    taken = apart.tap("took", {**CELL, "q": 2000})
    counted = apart.tap("counted", {**CELL, "q": 8000})
    apart.server.approve(taken)
    apart.cut_off()
    apart.server.restore("before")
    apart.pair_again()
    apart.sync()
    assert counted in {entry.id for entry in apart.server.entries()}
    assert apart.on_hand() == [8000]


def count_that_one_who_has_left_says_again(make: Any) -> None:
    """Its envelope comes before it: said only anew it would be stamped below what it had seen."""
    apart = Apart(make)
    apart.tap("put", {**CELL, "q": 10_000})
    apart.server.backup("before")
    apart.leave()
    old = apart.tap("void", {"of": apart.ident()})
    apart.server.reject(old)
    apart.server.approve(apart.tap("took", {**CELL, "q": 2000}))
    apart.server.approve(apart.tap("counted", {**CELL, "q": 8000}))
    apart.sync_other()
    apart.server.restore("before")
    apart.sync_other()
    apart.pair_again()
    apart.sync()                    # the count is known, and what was turned down waits behind it
    apart.server.approve(old)
    apart.sync()
    apart.server.restore("before")
    apart.leave()
    apart.sync()
    apart.sync_other()
    assert apart.on_hand() == [8000]


def number_that_is_free_below_those_that_came_back(make: Any) -> None:
    """Phone and log were put back, and another brought the later numbers: the count is the last."""
    apart = Apart(make)
    apart.tap("put", {**CELL, "q": 10_000})
    apart.server.backup("before")
    copied = copy.deepcopy(apart.phone)
    apart.tap("void", {"of": apart.ident()})        # it waits, so that no other phone has it
    apart.tap("took", {**CELL, "q": 2000})
    apart.sync_other()
    apart.server.restore("before")
    apart.sync_other()
    apart.phone = copied
    apart.tap("counted", {**CELL, "q": 8000})
    assert apart.on_hand() == [8000]


def leaver_with_nothing_to_hand_in(make: Any) -> None:
    """It is turned away; what became of its changes it hears where it sends them again."""
    apart = Apart(make)
    apart.leave()
    taken, turned_down, waits = (apart.tap(alone=True) for _ in range(3))
    apart.sync()
    apart.server.approve(taken)
    apart.server.reject(turned_down)
    with pytest.raises(Stopped):
        apart.sync()
    assert len(apart.phone.held) == 3
    apart.phone.ask_about_held()
    apart.sync()
    assert list(apart.phone.held) == [waits] and list(apart.phone.refused) == [turned_down]
    assert not apart.phone.outbox and len(apart.server.entries()) == 1


def slip_that_two_took_in(make: Any) -> None:
    """Its puts are named by the loan: the second is told what stands there."""
    apart = Apart(make)
    ident = str(uuid5(UUID(VESSEL), "borrowed"))
    other = {**CELL, "locker": "locker/00000000-0000-4000-8000-000000000003"}
    apart.other.record(ident, "put", {**other, "q": 1000}, NOW)
    apart.sync_other()
    apart.phone.record(ident, "put", {**CELL, "q": 1000}, NOW + 5000)
    apart.sync()
    assert not apart.phone.refused and not apart.phone.outbox
    assert apart.on_hand() == [1000]
    (entry,), (there,) = apart.phone.copy.entries(), apart.server.entries()
    assert (entry.id, entry.body, entry.at) == (there.id, there.body, there.at)


STORIES = [leaver_with_nothing_to_hand_in, slip_that_two_took_in,
           what_came_under_the_new_number_at_once_is_not_shown_as_lost,
           number_of_what_was_approved_under_another, number_under_which_it_was_first_asked_about,
           number_that_the_log_knows_as_another, refusal_that_only_the_number_of_before_knew,
           take_that_was_just_asked_about_stays_before_the_count,
           count_that_one_who_has_left_says_again,
           number_that_is_free_below_those_that_came_back]


@pytest.mark.parametrize("story", STORIES)
def test_new_number(story: Callable[[Any], None]) -> None:
    story(Phone)
