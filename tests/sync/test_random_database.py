"""Random histories against the database: what holds in memory holds there too."""

from __future__ import annotations

import random
from itertools import count
from pathlib import Path

import pytest

from spares.sync.phone import Phone
from tests.conftest import LONG
from tests.sync.database import DatabaseServer
from tests.sync.world import (
    START_MS,
    VESSEL,
    World,
    bring_together,
    check_causes,
    check_copies,
    play,
    silently_wrong,
)
from tests.sync.world import build as build_in_memory

SEEDS = range(500 if LONG else 4)


def build(seed: int, folder: Path) -> World:
    world = build_in_memory(seed)
    numbers = count(1)

    def fresh(length: int) -> str:
        return f"{next(numbers):0{length}x}"

    server = DatabaseServer(VESSEL, bytes(32), fresh, folder)
    phones = [Phone(VESSEL, server.pair(f"t{who}", "skipper", START_MS), fresh)
              for who in range(5)]
    world = World(random.Random(seed), server, phones, world.errors_min)
    for who in range(5):
        world.sync(who, faults=False)
    return world


@pytest.mark.parametrize("seed", SEEDS)
def test_wrong_clocks_and_restores_lose_nothing(seed: int, tmp_path: Path) -> None:
    world = build(7000 + seed, tmp_path)
    play(world, 60, restores=True)
    bring_together(world)
    check_copies(world)
    check_causes(world)
    assert silently_wrong(world) == []
    world.server.store.check_tables()


@pytest.mark.parametrize("seed", SEEDS)
def test_everything_at_once_loses_nothing(seed: int, tmp_path: Path) -> None:
    world = build(8000 + seed, tmp_path)
    play(world, 60, restores=True, by_hand=True, lost_time=True, step_clocks=True)
    bring_together(world)
    check_copies(world)
    world.server.store.check_tables()
