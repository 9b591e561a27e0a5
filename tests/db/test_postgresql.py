"""What is other on PostgreSQL: who waits for whom, what its errors mean, what it must be like."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from spares.db import postgresql as module
from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.db.find import parts_by_words
from spares.db.tables import DOCUMENT_TABLES, Setting
from spares.domain.draft import setting
from spares.domain.identity import numbered_id, ref
from spares.errors import DiskFull, InvalidInput, StoreBusy, StoreDamaged, UpgradeFailed
from tests import postgresql
from tests.db.conftest import VESSEL, WALL_MS

OTHER = VESSEL.replace("1", "2")
pytestmark = pytest.mark.skipif(postgresql.programs() is None, reason=postgresql.MISSING)


@pytest.fixture
def address() -> Iterator[str]:
    """The address of a database at this version, with two vessels."""
    databases = postgresql.databases()
    name = databases.server.make(databases.new)
    yield databases.server.address(name)
    databases.server.drop(name)


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Callable[[str], Store]]:
    stores: list[Store] = []

    def open_one(where: str) -> Store:
        stores.append(open_store(where, beside=tmp_path / "office"))
        return stores[-1]
    yield open_one
    for one in stores:
        one.close()


@pytest.fixture
def office(address: str, opened: Callable[[str], Store]) -> Store:
    store = opened(address)
    with store.writing() as session:
        for vessel, mark in ((VESSEL, "ONE"), (OTHER, "TWO")):
            found_vessel(session, vessel)
            submit(session, vessel, [setting(f"vessel/{vessel}", mark=mark, name=mark)],
                   wall_ms=WALL_MS)
    return store


@pytest.fixture
def second(office: Store, address: str, opened: Callable[[str], Store],
           monkeypatch: pytest.MonkeyPatch) -> Store:
    """The store as another process has it open, which waits a moment only."""
    monkeypatch.setattr(module, "_SETTINGS", (("lock_timeout", "80ms"),))
    return opened(address)


def write(store: Store, vessel: str = VESSEL, **fields: object) -> None:
    with store.writing(vessel) as session:
        submit(session, vessel, [setting(f"vessel/{vessel}", **fields)], wall_ms=WALL_MS)


def test_writers_of_one_vessel_wait_and_those_of_two_do_not(office: Store, second: Store) -> None:
    with office.writing(VESSEL) as session:
        session.execute(text("SELECT 1"))
        write(second, OTHER, name="at the same time")
        with pytest.raises(StoreBusy, match="another program is writing"):
            write(second, VESSEL, name="too early")
        with pytest.raises(StoreBusy), second.writing() as other:
            other.execute(text("SELECT 1"))
    write(second, VESSEL, name="in turn")


def test_who_writes_to_the_whole_store_is_alone(office: Store, second: Store) -> None:
    with office.writing() as session:
        session.execute(text("SELECT 1"))
        with pytest.raises(StoreBusy):
            write(second, OTHER, name="too early")


def test_a_reader_sees_one_state_and_writes_nothing(office: Store, second: Store) -> None:
    names = text("SELECT name FROM vessel WHERE mark = 'ONE'")
    with office.reading() as session:
        before = session.execute(names).scalar()
        write(second, VESSEL, name="a new name")
        assert session.execute(names).scalar() == before
    with office.reading() as session:
        assert session.execute(names).scalar() == "a new name"
        with pytest.raises(Exception, match="read-only"):
            session.execute(text("DELETE FROM vessel"))


def test_a_writer_reads_what_is_committed_whatever_the_database_is_set_to(
        office: Store, address: str, opened: Callable[[str], Store]) -> None:
    with office.writing() as session:
        name = session.execute(text("SELECT current_database()")).scalar()
        session.execute(text(
            f"ALTER DATABASE \"{name}\" SET default_transaction_isolation = 'repeatable read'"))
    with opened(address).writing(VESSEL) as session:
        assert session.execute(text("SHOW transaction_isolation")).scalar() == "read committed"


def test_servers_on_one_database_count_as_one_run(office: Store, second: Store) -> None:
    assert office.boot("one process") == second.boot("another") != ""


def test_a_turn_is_taken_across_processes(office: Store, second: Store) -> None:
    with office.turn, office.turn:
        with pytest.raises(StoreBusy), second.turn:
            pass
        write(office, name="looked, and then written")
    with second.turn:
        pass


def test_two_vessels_have_their_turns_at_once(office: Store, second: Store) -> None:
    with office.turn_of(VESSEL), second.turn_of(OTHER):
        with pytest.raises(StoreBusy), second.turn_of(VESSEL):
            pass


def test_many_processes_write_without_a_gap(office: Store, address: str,
                                            opened: Callable[[str], Store]) -> None:
    def work(store: Store, who: int) -> None:
        for n in range(8):
            write(store, name=f"{who} {n}")
    threads = [threading.Thread(target=work, args=(opened(address), who)) for who in range(3)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    with office.reading() as session:
        rows = session.execute(text("SELECT seq FROM log WHERE vessel = :v ORDER BY seq"),
                               {"v": VESSEL}).scalars().all()
    assert rows == list(range(1, 3 * 8 + 2))


@pytest.mark.parametrize(("state", "kind", "stops"), [
    ("53100", DiskFull, False), ("57P01", StoreBusy, False), ("40P01", StoreBusy, False),
    ("53300", StoreBusy, False), ("XX001", StoreDamaged, True), ("58030", StoreDamaged, True),
    ("22003", InvalidInput, False), ("54000", InvalidInput, False)])
def test_what_the_server_says_becomes_an_error_to_act_on(
        office: Store, state: str, kind: type[Exception], stops: bool) -> None:
    """The codes are those of PostgreSQL's own table of errors (its manual, appendix A)."""
    with office.writing() as session:
        session.execute(text(
            "CREATE FUNCTION fail() RETURNS trigger LANGUAGE plpgsql AS "
            f"$$ BEGIN RAISE EXCEPTION 'as it happens' USING ERRCODE = '{state}'; END $$"))
        session.execute(text("CREATE TRIGGER fail BEFORE INSERT ON log "
                             "FOR EACH ROW EXECUTE FUNCTION fail()"))
    with pytest.raises(kind):
        write(office, name="lost")
    with office.reading() as session:
        assert session.get_one(DOCUMENT_TABLES["vessel"], (VESSEL, VESSEL)).name == "ONE"
    assert bool(office.stopped) is stops


def test_a_lost_connection_is_said_and_the_next_one_does(office: Store, address: str) -> None:
    with pytest.raises(StoreBusy, match="does not answer"), office.writing() as session:
        session.add(Setting(name="a", value=1))
        session.flush()
        name = address.rpartition("/@/")[2].partition("?")[0].rpartition("/")[2]
        postgresql.databases().server.ask(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
            f"WHERE datname = '{name}'")
        session.add(Setting(name="b", value=1))
        session.flush()
    with office.reading() as session:
        assert session.get(Setting, "a") is None
    write(office, name="goes on")


def test_numbers_and_texts_that_a_file_holds_are_held(office: Store) -> None:
    point = ref("point", numbered_id(VESSEL, "point", "ENG-01"))
    part = ref("part", numbered_id(VESSEL, "part", "P1"))
    with office.writing() as session:
        submit(session, VESSEL, [setting(point, no="ENG-01", pieces=10**12),
                                 setting(part, no="P1", name="ø" * 4000)], wall_ms=WALL_MS)
    with office.reading() as session:
        assert session.execute(text("SELECT pieces FROM point")).scalar() == 10**12
        assert parts_by_words(session, VESSEL, "øøø", 5)[0] == "words"


@pytest.mark.parametrize("wrong", [{"name": "a\0b"}, {"name": "x" * 4001}, {"about": 2**70}])
def test_what_no_store_can_hold_is_refused_at_the_door(office: Store, wrong: dict) -> None:
    with pytest.raises(Exception) as told:
        write(office, **wrong)
    assert told.value.code in ("refused", "invalid-input")
    with office.reading() as session:
        assert session.execute(text("SELECT count(*) FROM log")).scalar() == 2


def test_the_search_goes_by_the_index(office: Store) -> None:
    with office.reading() as session:
        session.execute(text("SET LOCAL enable_seqscan = off"))
        session.execute(text("SET LOCAL enable_indexscan = off"))
        plan = "\n".join(session.execute(text(
            "EXPLAIN SELECT part FROM search WHERE body LIKE '%mpel%'")).scalars())
    assert "ix_search_body_trigrams" in plan


@pytest.mark.parametrize(("where", "say"), [
    ("mysql://host/spares", "postgresql://"), ("postgresql://host", "postgresql://"),
    ("postgresql://host:port/spares", "no address"), ("postgresql://{away}", "does not exist")])
def test_what_is_no_database_of_ours_is_refused(where: str, say: str) -> None:
    server = postgresql.databases().server
    with pytest.raises(InvalidInput, match=say) as told:
        open_store(where.replace("postgresql://{away}", server.address("nowhere")))
    assert told.value.facts["errors"][0]["pointer"] == "#/SPARES_STORE"


@pytest.mark.parametrize("options", [
    "ENCODING 'SQL_ASCII' LOCALE 'C'",
    "LOCALE_PROVIDER icu ICU_LOCALE 'da' LC_COLLATE 'C.UTF-8' LC_CTYPE 'C.UTF-8'"])
def test_a_database_that_sorts_by_a_language_is_refused_with_the_way_to_make_one(
        options: str) -> None:
    """By Danish, `Å` stands behind `Z`; by bytes too, but `a` does not stand before `B`."""
    server = postgresql.databases().server
    name = server.make(options=options)
    if "icu" in options:
        assert server.ask("SELECT 'a' < 'B'", name) == [(True,)]
    with pytest.raises(InvalidInput, match="createdb --template=template0"):
        open_store(server.address(name))


def test_a_database_of_another_program_is_refused_and_left_alone() -> None:
    server = postgresql.databases().server
    name = server.make()
    server.ask("CREATE TABLE songs (title TEXT)", name)
    with pytest.raises(StoreDamaged, match="something else"):
        open_store(server.address(name))
    assert server.ask("SELECT count(*) FROM pg_tables WHERE schemaname = 'public'", name) == [(1,)]


def test_without_the_right_to_make_the_search_index_it_says_what_is_needed() -> None:
    server = postgresql.databases().server
    name = server.make()
    server.ask("CREATE ROLE deckhand LOGIN")
    server.ask("GRANT CREATE ON SCHEMA public TO deckhand", name)
    with pytest.raises(UpgradeFailed, match="CREATE EXTENSION pg_trgm"):
        open_store(server.address(name).replace("postgres@", "deckhand@"))


def test_who_keeps_a_file_never_loads_the_driver(tmp_path: Path) -> None:
    """The start of the command line would cost more for all who have no office."""
    line = ("import sys; from spares.db.engine import open_store; "
            f"open_store({str(tmp_path / 'a.sqlite')!r}, upgrade=False).close(); "
            "print([one for one in sys.modules if 'psycopg' in one or 'postgresql' in one])")
    told = subprocess.run([sys.executable, "-c", line], capture_output=True, text=True)
    assert told.stdout == "[]\n"


def test_without_the_driver_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "psycopg", None)
    with pytest.raises(InvalidInput, match=r"install -e .*fleet"):
        open_store("postgresql://host/spares")
