"""Random histories of five phones lose nothing and deceive nobody (tests/sync/world.py).

Some of each sort run with every suite, ten thousand of each sort with `--long`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from spares.domain.stock import fold
from tests.conftest import LONG
from tests.sync import crew_world
from tests.sync.world import (
    World,
    all_arrived,
    bring_together,
    build,
    check_causes,
    check_copies,
    play,
    silently_wrong,
)

#: Histories of each sort, in blocks, so that a long run can be had in parts.
BLOCKS, IN_A_BLOCK = (10, 1_000) if LONG else (1, 25)
STEPS = 120
RETIRED, LOST = "retired", "lost"

#: What happens beside wrong clocks and a bad net, where nobody can be deceived by it.
TRUE = {
    "wrong clocks and a bad net": {},
    "requests that overtake each other": {"late": 1},
    "restores": {"restores": True},
    "a server that stands still while off": {"lost_time": True},
    "restores of a server that stands still while off": {"restores": True, "lost_time": True},
    "people who leave the crew": {"leavers": (RETIRED,), "late": 1},
    "people who leave the crew, and restores": {"leavers": (RETIRED,), "late": 1,
                                                "restores": True},
}
#: Where somebody may be deceived, but nothing may be missing.
KEPT = {
    "old files copied back by hand": {"restores": True, "by_hand": True},
    "everything at once": {"restores": True, "by_hand": True, "lost_time": True,
                           "step_clocks": True},
    "everything at once, lost phones and stuck requests": {
        "restores": True, "by_hand": True, "lost_time": True, "step_clocks": True,
        "leavers": (RETIRED, LOST), "late": 15},
}


def played(seed: int, profile: dict[str, Any],
           make: Callable[[int], World] = build, steps: int = STEPS) -> World:
    """Play one history to its end, and see that nothing is missing and all copies are alike."""
    world = make(seed)
    play(world, steps, **profile)
    bring_together(world)
    check_copies(world)
    return world


def check_true(world: World) -> None:
    """What an author had seen holds before, and what is on hand is the truth or in doubt."""
    check_causes(world)
    assert not all_arrived(world) or silently_wrong(world) == []


def seeds(sort: int, block: int) -> range:
    """Give the seeds of a block; no two sorts have one in common."""
    first = 100_000 * sort + IN_A_BLOCK * block
    return range(first, first + IN_A_BLOCK)


@pytest.mark.parametrize("block", range(BLOCKS))
@pytest.mark.parametrize("name", TRUE)
def test_nobody_is_deceived_by(name: str, block: int) -> None:
    for seed in seeds(list(TRUE).index(name), block):
        try:
            check_true(played(seed, TRUE[name]))
        except Exception as err:
            raise AssertionError(f"history {seed} of {name}") from err


@pytest.mark.parametrize("block", range(BLOCKS))
@pytest.mark.parametrize("name", KEPT)
def test_nothing_is_lost_by(name: str, block: int) -> None:
    for seed in seeds(10 + list(KEPT).index(name), block):
        try:
            played(seed, KEPT[name])
        except Exception as err:
            raise AssertionError(f"history {seed} of {name}") from err


def test_clocks_that_are_moved_while_offline_hardly_ever_deceive() -> None:
    # A clock moved and moved back between two syncs leaves no trace, so none is too much to ask:
    # three silently wrong cells in 80 000 were found in an earlier model of these rules.
    wrong: list[str] = []
    cells = 0
    for block in range(BLOCKS):
        for seed in seeds(20, block):
            world = played(seed, {"step_clocks": True})
            wrong += [f"history {seed}: {one}" for one in silently_wrong(world)]
            cells += len(fold(world.server.entries()))
    assert cells == 4 * BLOCKS * IN_A_BLOCK
    assert len(wrong) <= cells // 10_000, wrong


@pytest.mark.parametrize("block", range(BLOCKS))
def test_a_crew_that_changes_is_not_deceived(block: int) -> None:
    for seed in seeds(30, block)[:None if LONG else 12]:
        try:
            crew_world.check(crew_world.played(seed, STEPS, forks=seed % 2 == 1))
        except Exception as err:
            raise AssertionError(f"history {seed} of a crew that changes") from err
