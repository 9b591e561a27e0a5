"""Older stores come up step by step; a step that fails leaves the store as it was."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from alembic import command
from alembic.config import Config
from sqlalchemy import JSON, Boolean, Engine, text
from sqlmodel import Session

from spares.db import upgrade
from spares.db.asking import AS_JSON, TABLE_OF
from spares.db.before_upgrade import keep_copy
from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.db.find import parts_by_words
from spares.db.projection import documents
from spares.db.rebuild import rebuild
from spares.db.restore import restore_backup
from spares.db.tables import DOCUMENT_TABLES, Device, Logbook
from spares.domain.documents import DOCUMENTS
from spares.domain.draft import Draft, setting
from spares.errors import StoreDamaged, UpgradeFailed
from spares.sync.change import FIRST_HEAD, link, parse_change, seal, written_form
from spares.sync.stamp import stamp_text
from tests.db.conftest import VESSEL
from tests.stores import heads_of
from tests.sync.upgrades import taken_back

NOW = datetime(2027, 3, 15, 18, 5, tzinfo=UTC)


def at_step(path: Path, step: str) -> Store:
    """Open a file brought only to *step*."""
    store = open_store(path, upgrade=False)
    upgrade.bring_up(store.engine, step)
    return store


def write_first_log(session: Session, vessel: str) -> None:
    """Write a log of one part as the first step has it; the tables do not follow it yet."""
    named = seal(parse_change({
        "id": "22222222-2222-4222-8222-222222222222", "n": 1, "kind": "set", "v": 1, "t": 1,
        "seen": None, "after": "", "body": {
            "doc": f"part/{vessel}", "base": {"name": []}, "f": {"name": "spare impeller"}}}),
        dev="server00", at=stamp_text(1, 0, "server00"), g=0, pos={"00000000000000aa": 1},
        key=bytes(32))
    written = written_form(named)
    session.execute(text(
        "INSERT INTO logbook (vessel, epoch, \"key\", seq, head, last_ms, adj_ms, last_at) "
        "VALUES (:vessel, '00000000000000aa', :key, 1, :head, 1, 0, :at)"),
        {"vessel": vessel, "key": bytes(32), "head": link(FIRST_HEAD, written).hex(),
         "at": named.at})
    session.execute(text(
        "INSERT INTO log (vessel, seq, id, kind, dev, n, at, batch, raw, head) "
        "VALUES (:vessel, 1, :id, 'set', 'server00', 1, :at, '', :raw, :head)"),
        {"vessel": vessel, "id": named.id, "at": named.at, "raw": written.decode(),
         "head": link(FIRST_HEAD, written).hex()})


def test_a_store_of_the_first_step_comes_up_with_its_data(tmp_path: Path) -> None:
    old = at_step(tmp_path / "old.sqlite", "0001")
    with old.writing() as session:
        write_first_log(session, VESSEL)
        session.execute(text(
            "INSERT INTO device (vessel, dev, name, role, next_n, inst, token_hash, paired_ms, "
            "seen_ms, revoked) VALUES (:vessel, 'server00', 'this computer', 'skipper', 1, '', "
            "'', 0, 0, '')"), {"vessel": VESSEL})
    old.close()
    store = open_store(tmp_path / "old.sqlite")
    with store.reading() as session:
        assert upgrade.version_of(store.engine) == upgrade.LATEST
        assert session.get_one(Logbook, VESSEL).own_dev == "server00"
        assert session.get_one(Device, (VESSEL, "server00")).grants == []
        assert parts_by_words(session, VESSEL, "mpel", 5)[0] != "nothing"
    store.close()


def test_what_came_before_there_was_a_table_for_it_is_shown_after_the_step(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A newer office or phone brought it, and the log kept it."""
    deck, old = VESSEL.replace("1", "2"), at_step(tmp_path / "old.sqlite", "0009")
    later = ("deck", "deck-line", "deck-place", "photo-mark")
    with monkeypatch.context() as before, old.writing() as session:
        before.setattr(documents, "DOCUMENT_TABLES", {
            kind: table for kind, table in DOCUMENT_TABLES.items() if kind not in later})
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TST", name="Test hull"),
                                 setting(f"deck/{deck}", no="1", name="Main deck")], wall_ms=1)
    old.close()
    store = open_store(tmp_path / "old.sqlite")
    with store.writing() as session:
        assert session.get_one(DOCUMENT_TABLES["deck"], (VESSEL, deck)).name == "Main deck"
        assert rebuild(session, VESSEL) == []
    store.close()


def older(path: Path, step: str = "0009") -> Path:
    """Make a store of an older step with one vessel."""
    old = at_step(path, step)
    with old.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TST", name="Test hull")],
               wall_ms=1)
    old.close()
    return path


def copies(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir() if "before-upgrade" in path.name)


@pytest.mark.sqlite
def test_a_copy_is_kept_before_the_steps_are_run_and_can_be_put_back(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path, there = older(tmp_path / "old.sqlite"), []
    bring_up = upgrade.bring_up

    def watched(engine: Engine, to: str = "head") -> None:
        if engine.url.database == str(path):
            there.extend(copies(tmp_path))
        bring_up(engine, to)
    monkeypatch.setattr(upgrade, "bring_up", watched)
    before = heads_of(path)
    open_store(path).close()
    told = restore_backup(tmp_path / there[0], tmp_path / "elsewhere" / "back.sqlite", NOW)
    assert told["manifest"]["schema"] == "0009"
    assert heads_of(tmp_path / "elsewhere" / "back.sqlite") == before != {}
    open_store(path).close()        # now it lacks no step
    assert copies(tmp_path) == there and len(there) == 1


@pytest.mark.sqlite
def test_a_copy_of_what_another_process_brought_up_meanwhile_takes_no_place(
        tmp_path: Path) -> None:
    open_store(older(tmp_path / "old.sqlite")).close()
    there, store = copies(tmp_path), open_store(tmp_path / "old.sqlite")
    assert keep_copy(store, datetime.now().astimezone() + timedelta(seconds=5)) is None
    store.close()
    assert copies(tmp_path) == there and len(there) == 1


@pytest.mark.sqlite
def test_copies_of_before_go_by_the_keep_rule(tmp_path: Path) -> None:
    path = older(tmp_path / "old.sqlite")
    for day in range(1, 29):
        (tmp_path / f"old.sqlite.before-upgrade-202701{day:02}-020000.zip").touch()
    (tmp_path / "else.sqlite.before-upgrade-20270101-020000.zip").touch()
    (tmp_path / "old.sqlite.before-upgrade-20270230-020000.zip").touch()
    store = open_store(path, upgrade=False)
    keep_copy(store, datetime(2027, 1, 29, 2))
    store.close()
    # The last 7 days, and the last of the weeks before: Sundays the 24th, the 17th and the 10th.
    assert [name.split("-")[2] for name in copies(tmp_path)] == [
        "20270101", "20270110", "20270117", *(f"202701{day}" for day in range(23, 30)), "20270230"]


@pytest.mark.sqlite
@pytest.mark.parametrize("line", ["ANALYZE", "CREATE VIEW mine AS SELECT 1",
                                  "CREATE INDEX mine ON log (kind, seq)"])
def test_what_somebody_put_beside_the_tables_hinders_no_upgrade(tmp_path: Path, line: str) -> None:
    path = older(tmp_path / "old.sqlite")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(line)
        connection.commit()
    open_store(path).close()
    assert len(copies(tmp_path)) == 1


@pytest.mark.sqlite
def test_a_store_whose_log_does_not_hold_is_not_brought_up(tmp_path: Path) -> None:
    path = older(tmp_path / "old.sqlite")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE log SET raw = replace(raw, 'Test', 'Best')")
        connection.commit()
    with pytest.raises(StoreDamaged, match="does not hold"):
        open_store(path)
    assert copies(tmp_path) == []
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchall() == [
            ("0009",)]


def test_a_step_that_fails_leaves_the_store_as_it_was(tmp_path: Path) -> None:
    old = at_step(tmp_path / "old.sqlite", "0001")
    with old.writing() as session:
        in_the_way = "search_words" if old.is_file else "used_number"
        session.execute(text(f"CREATE TABLE {in_the_way} (in_the_way TEXT)"))
    stays = "0001" if old.is_file else "0002"
    with pytest.raises(UpgradeFailed, match=f"stays at step {stays}"):
        upgrade.bring_up(old.engine)
    assert upgrade.version_of(old.engine) == stays
    if old.is_file:
        with old.reading() as session:
            assert session.execute(text("PRAGMA foreign_keys")).scalar() == 1
    old.close()


@pytest.mark.filterwarnings("ignore:.*expression-based index")     # they cannot be read back
def test_the_steps_lead_to_the_tables_of_the_program(store: Store) -> None:
    config = Config()
    config.set_main_option("script_location", str(upgrade.STEPS))
    config.set_main_option("path_separator", "os")
    config.attributes["engine"] = store.engine
    command.check(config)     # raises where a step is missing


def test_the_latest_step_is_the_one_the_program_names() -> None:
    names = sorted(path.name[:4] for path in (upgrade.STEPS / "versions").glob("[0-9]*.py"))
    assert names[-1] == upgrade.LATEST


@pytest.mark.parametrize("kind", list(DOCUMENTS))
def test_a_document_table_has_the_columns_of_its_document(kind: str) -> None:
    columns = set(DOCUMENT_TABLES[kind].model_fields) - {"id", "vessel", "gone"}
    assert columns == set(DOCUMENTS[kind])
    table, fields = DOCUMENT_TABLES[kind].__table__, DOCUMENTS[kind].items()
    assert table.name == TABLE_OF[kind]     # who asks in plain SQL knows the same
    assert {one.name for one in table.c if isinstance(one.type, JSON)} == {
        name for name, field in fields if field.type in AS_JSON}
    assert {one.name for one in table.c if isinstance(one.type, Boolean)} == {
        "gone", *(name for name, field in fields if field.type == "flag")}


def test_movements_of_an_older_store_know_their_row_and_the_next_count_cuts_off(
        tmp_path: Path) -> None:
    path, cell = tmp_path / "old.sqlite", {"part": f"part/{VESSEL}", "locker": f"locker/{VESSEL}",
                                           "lot": ""}
    made = open_store(path)
    with made.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [Draft("put", {**cell, "q": 3000}),
                                 Draft("took", {**cell, "q": 1000})], wall_ms=1)
    taken_back(made)
    made.close()
    store = open_store(path)
    with store.writing() as session:
        rows = session.execute(text("SELECT effect.seq, log.seq FROM effect JOIN log "
                                    "ON log.id = effect.change_id")).all()
        assert sorted(map(tuple, rows)) == [(1, 1), (2, 2)]
        assert rebuild(session, VESSEL) == []
        submit(session, VESSEL, [Draft("counted", {**cell, "q": 2000})], wall_ms=2)
        assert session.execute(text("SELECT seq FROM cut_off")).scalars().all() == [2]
    store.close()
