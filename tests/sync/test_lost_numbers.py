"""A number is shown as lost only where a phone really had it, and has nothing of it any more."""

from __future__ import annotations

import copy
from collections.abc import Callable
from contextlib import suppress
from typing import Any

import pytest

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.phone import Phone
from tests.sync.apart import Apart
from tests.sync.bench import CELL


def first_number_of_two(make: Any) -> None:
    """Paired again, of what it sends nothing is taken under a number that it may never hear of."""
    apart = Apart(make)
    for _ in range(3):
        apart.tap("put", alone=True)
    apart.cut_off()
    apart.server.backup("taken")
    apart.pair_again()
    apart.cut_off()
    apart.most = 1                  # over a poor net it sends half as much, and half of that
    apart.sync()
    apart.server.restore("taken")
    apart.sync()
    assert len(apart.server.entries()) == 3 and apart.server.lost_numbers() == {}


def first_number_after_a_fork(make: Any) -> None:
    """The answer that told of the fork was lost, and that to the next request."""
    apart = Apart(make)
    apart.server.backup("before")
    for _ in range(2):
        apart.tap("void", {"of": apart.ident()}, alone=True)    # they will wait
    copied = copy.deepcopy(apart.phone)
    apart.tap("put")
    apart.phone = copied
    apart.tap("put", alone=True)
    apart.cut_off()
    apart.cut_off()
    apart.most = 1
    apart.sync()
    apart.server.restore("before")
    apart.sync()
    assert len(apart.phone.held) == 2 and apart.server.lost_numbers() == {}


def number_lost_before_it_was_paired_again(make: Any) -> None:
    """What it lost was a number of before; the answer to that did not come."""
    apart = Apart(make)
    apart.server.backup("before")
    copied = copy.deepcopy(apart.phone)
    apart.pair_again()
    apart.tap("void", {"of": apart.ident()})        # it waits, so that no other phone has it
    apart.phone = copied
    apart.sync()
    lost = apart.phone.dev
    apart.server.restore("before")
    apart.cut_off()
    apart.pair_again()
    apart.sync()
    assert apart.server.lost_numbers() == {lost: [(1, 1)]}
    apart.tap("put")
    assert apart.server.lost_numbers() == {lost: [(1, 1)]}


def number_that_was_brought_back(make: Any) -> None:
    """As a guest's it waited, and was taken under the number that it had before.

    Asked for by the number that it has since, a guest could bring it for ever.
    """
    apart = Apart(make)
    apart.server.backup("before")
    apart.leave()
    taken = apart.tap()
    apart.server.backup("waiting")
    apart.server.restore("before")
    apart.pair_again()
    apart.sync()
    apart.change_role("guest")
    apart.server.restore("waiting")
    apart.sync()
    apart.server.approve(taken)
    apart.sync()
    apart.server.restore("waiting")
    apart.change_role("crew")
    apart.sync()
    assert [entry.id for entry in apart.server.entries()] == [taken]
    assert apart.server.lost_numbers() == {}


def change_that_a_log_put_back_by_hand_forgot(make: Any, others: int = 0) -> None:
    """One who left knows of its own change alone: its cursor is of before the backup."""
    apart = Apart(make)
    apart.server.backup("before")
    apart.leave()
    put = apart.tap("put", {**CELL, "q": 4000})
    apart.server.approve(put)
    apart.phone.ask_about_held()
    apart.sync()
    assert not apart.phone.held
    apart.server.restore("before", by_hand=True)
    for _ in range(others):
        apart.other.record(apart.ident(), "put", {**CELL, "q": 1000}, apart.now)
        apart.sync_other()
    apart.pair_again()
    apart.sync()
    assert apart.on_hand() == [4000 + 1000 * others]
    assert [cell.quantity for cell in fold(apart.phone.copy.entries()).values()] == apart.on_hand()


def change_in_whose_row_another_stands(make: Any) -> None:
    change_that_a_log_put_back_by_hand_forgot(make, others=2)


def one_who_left_while_the_log_was_pulled_anew(make: Any) -> None:
    """The net was gone between two pages; what was made before goes to the skipper all the same."""
    apart = Apart(make)
    apart.tap("put")
    apart.tap("put")
    apart.server.backup("before")
    apart.server.restore("before")
    unsent, pages = apart.tap("put", alone=True), iter([1])

    def first_page(request: dict[str, Any]) -> dict[str, Any]:
        if next(pages, None) is None:
            raise Stopped("no net", stop="no_answer")
        return apart.server.handle(apart.token, {**request, "want": 1}, apart.now)
    with suppress(Stopped):
        apart.phone.sync(first_page, apart.now)
    apart.leave()
    apart.sync()
    assert apart.server.held(unsent)


STORIES = [first_number_of_two, first_number_after_a_fork, number_lost_before_it_was_paired_again,
           number_that_was_brought_back, change_that_a_log_put_back_by_hand_forgot,
           change_in_whose_row_another_stands, one_who_left_while_the_log_was_pulled_anew]


@pytest.mark.parametrize("story", STORIES)
def test_lost_numbers(story: Callable[[Any], None]) -> None:
    story(Phone)
