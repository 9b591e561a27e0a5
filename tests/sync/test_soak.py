"""Thirty days of five phones and the real server with everything that befalls them.

Seeds that are fixed, and others by chance; what failed names its seed.
"""

from __future__ import annotations

import random
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import text

from spares.actions.gate import Gate
from spares.config import read_settings
from spares.db.chain import check_chain
from spares.domain.movements import Entry
from spares.domain.stock import fold
from spares.errors import StoreDamaged
from spares.sync.merge import read_document, versions_of
from spares.sync.phone import Phone
from spares.web import sync as web_sync
from spares.web.app import create_app
from tests.client.node_phone import NodePhone
from tests.client.node_process import Node
from tests.conftest import LONG
from tests.stores import QUICK
from tests.sync import crew_world, soak_world
from tests.sync.soak_world import DAY_MIN, EVERYTHING, MUCH, NEWER, VESSEL, Soak
from tests.sync.world import PARTS

pytestmark = pytest.mark.sqlite

DAYS, FIXED, BY_CHANCE = (30, 3, 3) if LONG else (3, 1, 0)


@pytest.fixture
def app(monkeypatch: pytest.MonkeyPatch) -> Flask:
    monkeypatch.setattr(web_sync, "clock_ms", web_sync.clock_ms)
    monkeypatch.setattr(web_sync, "BOOT", web_sync.BOOT)
    monkeypatch.setattr(Gate, "spend", lambda *_: None)
    return create_app(read_settings({"SPARES_STORE": ":memory:"}))


@pytest.fixture
def makes() -> Iterator[list[Any]]:
    """Phones with the server's rules and, where there is node, with the client's modules."""
    if shutil.which("node") is None:
        yield [Phone]
        return
    NodePhone.node = Node("sync_phones.js")
    yield [Phone, NodePhone]
    NodePhone.node.close()


SEEDS = [*range(FIXED), *[pytest.param(None, id=f"by chance {one}") for one in range(BY_CHANCE)]]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_month_of_much_loses_nothing_and_deceives_nobody(
        seed: int | None, app: Flask, makes: list[Any]) -> None:
    live(seed, app, makes, MUCH)


@pytest.mark.long
@pytest.mark.parametrize("seed", SEEDS)
def test_a_month_of_everything_loses_nothing(
        seed: int | None, app: Flask, makes: list[Any]) -> None:
    """Clocks are moved and old files copied back by hand: then nobody can know the truth."""
    live(seed, app, makes, EVERYTHING)


def live(seed: int | None, app: Flask, makes: list[Any], happens: dict[str, int]) -> None:
    """Let the days pass, and see that what is promised holds."""
    seed = random.SystemRandom().randrange(10**9) if seed is None else seed
    soak = soak_world.build(seed, app, Path(tempfile.mkdtemp(dir=QUICK)), makes)
    try:
        while soak.minute < DAYS * DAY_MIN:
            soak.one_more(happens)
        come_together(soak)
        if happens is EVERYTHING:
            soak.truth.update({key: cell.quantity for key, cell in fold(
                soak.server.entries()).items()})
        check_all(soak)
    except Exception as err:
        raise AssertionError(f"soak of seed {seed}") from err
    finally:
        soak_world.let_go(soak)


def come_together(soak: Soak) -> None:
    """Let all have one program and room, and sync until nobody lacks anything."""
    soak.server.program = NEWER
    soak.server.pages = {f"t{who}": NEWER for who in range(5)}
    soak.deliver_late()
    crew_world.bring_together(soak)


def check_all(soak: Soak) -> None:
    """See that what is promised holds: whole, the same everywhere, once, in order, true."""
    crew_world.check(soak)
    soak.server.store.check_tables()
    log = soak.server.entries()
    rng, shown = random.Random(1), {part: read_document(log, part) for part in PARTS}
    for phone in soak.phones:
        assert {part: read_document(phone.copy.entries(), part) for part in PARTS} == shown
    mixed: list[Entry] = rng.sample(log, len(log)) + rng.sample(log, len(log) // 2)
    assert fold(mixed) == fold(log)
    written = {one.change for part in PARTS for one in versions_of(log, part).get("note", ())}
    assert written >= {entry.id for entry in log if entry.kind == "set"}
    check_chain_notices(soak)


def check_chain_notices(soak: Soak) -> None:
    """One changed letter anywhere in the log is noticed."""
    store = soak.server.store.store
    with store.writing() as session:
        seq = soak.rng.randrange(1, check_chain(session, VESSEL) + 1)
        raw = session.execute(text("SELECT raw FROM log WHERE seq = :seq"), {"seq": seq}).scalar()
        at = soak.rng.randrange(len(raw))
        session.execute(text("UPDATE log SET raw = :raw WHERE seq = :seq"), {
            "seq": seq, "raw": raw[:at] + chr(ord(raw[at]) ^ 1) + raw[at + 1:]})
        with pytest.raises(StoreDamaged):
            check_chain(session, VESSEL)
        session.rollback()
