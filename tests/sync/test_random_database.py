"""Random histories against the database: what holds in memory holds there too."""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import count
from pathlib import Path

import pytest

from spares.actions.meeting import follow
from spares.sync.phone import Phone
from tests.conftest import LONG
from tests.sync import office_world
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


@pytest.mark.parametrize("seed", range(100 if LONG else 1))
def test_office_and_vessel_put_back_again_and_again_end_equal(seed: int, tmp_path: Path) -> None:
    def make(fresh: Callable[[int], str], which: int) -> DatabaseServer:
        (tmp_path / str(which)).mkdir()
        server = DatabaseServer(VESSEL, bytes(32), fresh, tmp_path / str(which))
        if which == office_world.ASHORE:
            follow(server.store.store, VESSEL, bytes(32))
        return server

    world = office_world.build(9000 + seed, make=make)
    office_world.play(world, 60 if LONG else 40, restores=(0, 1), meets=0.1)
    office_world.bring_together(world)
    office_world.check_equal(world)
    assert silently_wrong(world) == []
    for server in world.servers:
        server.store.check_tables()
