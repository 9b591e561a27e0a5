"""A fault planted in the store is noticed: an answer too early, a number given too early.

That a commit which is not written through is noticed, the control in test_power_loss.py says.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import event, select
from sqlalchemy.exc import DBAPIError
from sqlmodel import Session

from spares.db import engine, postgresql
from spares.db.door import submit
from spares.db.engine import Store, said_plainly
from spares.db.tables import LogEntry
from spares.domain.draft import setting
from spares.errors import SparesError
from tests.db import disk
from tests.db.conftest import VESSEL, WALL_MS
from tests.db.test_power_loss import fail_power

WRITERS, EACH = 4, 10


def write_at_once(store: Store) -> None:
    """Several write at once; each gets through, and the rows are numbered without a gap."""
    failed: list[BaseException] = []

    def work(who: int) -> None:
        try:
            for n in range(EACH):
                with store.writing() as session:
                    submit(session, VESSEL, [setting(f"vessel/{VESSEL}", name=f"{who} {n}")],
                           wall_ms=WALL_MS)
        except (SparesError, DBAPIError) as err:
            failed.append(err)
    threads = [threading.Thread(target=work, args=(who,)) for who in range(WRITERS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    with store.reading() as session:
        rows = sorted(session.execute(select(LogEntry.seq)).scalars())
    assert rows == list(range(1, WRITERS * EACH + 2))


def test_those_who_write_at_once_wait_for_each_other(store: Store) -> None:
    write_at_once(store)


def test_number_given_before_the_lock_is_held_is_noticed(store: Store) -> None:
    held, begin = (engine._begin, "BEGIN") if store.is_file else (postgresql._begin, "SELECT 1")
    event.remove(store.engine, "begin", held)
    event.listen(store.engine, "begin", lambda connection: connection.exec_driver_sql(begin))
    with pytest.raises(AssertionError):
        write_at_once(store)


@pytest.mark.slow
@pytest.mark.sqlite
@pytest.mark.skipif(bool(disk.why_not()), reason=disk.why_not())
def test_answer_given_before_the_commit_is_noticed(
        watched: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    open_sessions: dict[int, Session] = {}

    @contextmanager
    def late(store: Store) -> Iterator[Session]:
        """Commit each transaction only when the next begins."""
        finish(store)
        with said_plainly():
            session = Session(store.engine.execution_options(write=True), expire_on_commit=False)
            yield session
            session.flush()
            open_sessions[id(store)] = session

    def finish(store: Store) -> None:
        session = open_sessions.pop(id(store), None)
        if session is not None:
            session.commit()
            session.close()

    def close(store: Store) -> None:
        finish(store)
        store.engine.dispose()
    monkeypatch.setattr(Store, "writing", late)
    monkeypatch.setattr(Store, "close", close)
    assert sum(fail_power(watched, 1)) > 0
