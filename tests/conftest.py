"""The frame of all tests: nothing of the user's is touched, and laws run quick by default."""

from __future__ import annotations

import gc
import os
import shutil
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from sqlalchemy import Engine

from spares.db import upgrade
from spares.db.engine import open_store
from tests import postgresql

LONG = os.environ.get("SPARES_LONG") == "1"

#: The kind of store that tests use which do not ask for another.
KINDS = ("sqlite", "postgresql")
KIND = os.environ.get("SPARES_TEST_STORE") or "sqlite"

settings.register_profile("quick", max_examples=60, deadline=None, print_blob=True,
                          suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("long", settings.get_profile("quick"), max_examples=1500)
settings.load_profile("long" if LONG else "quick")


def chromium() -> str | None:
    """Find the Chromium that browser tests drive."""
    names = ("chromium", "chromium-browser", "google-chrome")
    return next(filter(None, map(shutil.which, names)), None)


def look_for_store() -> None:
    """End a run on a kind of store that is not here: all skipped would look like all passed."""
    if KIND not in KINDS:
        raise pytest.UsageError(f"--store {KIND}: there are {' and '.join(KINDS)}")
    if KIND == "postgresql" and postgresql.programs() is None:
        raise pytest.UsageError(f"nothing can be tried on PostgreSQL: {postgresql.MISSING}")


def pytest_configure(config: pytest.Config) -> None:
    """Let tests forget an open database, as they forget an open file."""
    look_for_store()
    config.addinivalue_line("filterwarnings",
                            "ignore:.*psycopg.Connection.*deleted while still open:ResourceWarning")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    long = pytest.mark.skip(reason="long: runs with `python3 -m spares test --long`")
    browser = pytest.mark.skip(reason="no Chromium on the PATH")
    for_files = pytest.mark.skip(reason="asks about the file of SQLite; this run is on PostgreSQL")
    missing = pytest.mark.skip(reason=postgresql.MISSING)
    for item in items:
        if KIND != "sqlite" and item.get_closest_marker("sqlite"):
            item.add_marker(for_files)
        if _kind_of(item) == "postgresql" and postgresql.programs() is None:
            item.add_marker(missing)
        if not LONG and item.get_closest_marker("long"):
            item.add_marker(long)
        if item.get_closest_marker("browser") and not chromium():
            item.add_marker(browser)


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run what is marked `both` on both kinds of store."""
    if metafunc.definition.get_closest_marker("both") and KIND == "sqlite":
        metafunc.parametrize("kind_of_store", KINDS, indirect=True)


def _kind_of(item: pytest.Item) -> str:
    params = getattr(getattr(item, "callspec", None), "params", {})
    return str(params.get("kind_of_store", KIND))


@pytest.fixture(scope="session", autouse=True)
def stores_of_this_run() -> Iterator[None]:
    """Open all stores as databases, in a run on PostgreSQL."""
    if KIND != "postgresql" or postgresql.programs() is None:
        yield
        return
    with postgresql.databases().in_use():
        yield


@pytest.fixture(autouse=True)
def kind_of_store(request: pytest.FixtureRequest) -> Iterator[str]:
    """The kind of store that this test uses; what was made before it is copied over.

    Of every test: a fixture that is only named when tests are made is dropped again by pytest.
    """
    kind = getattr(request, "param", KIND)
    if kind == KIND:
        assert postgresql.in_use() == (kind == "postgresql"), "a test before left it otherwise"
        yield kind
        return
    with postgresql.databases().in_use():
        yield kind


def pytest_collection_finish() -> None:
    """Spare the collector the thousands of tests and modules, which all stay to the end."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session")
def empty_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """New folders without end; pytest's own way reads all it made before, for each new one."""
    top = tmp_path_factory.mktemp("stores")

    def made() -> Iterator[Path]:
        for number in count():
            (top / str(number)).mkdir()
            yield top / str(number)

    return made()


@pytest.fixture(autouse=True)
def own_surroundings(empty_folders: Iterator[Path], monkeypatch: pytest.MonkeyPatch) -> Path:
    """Take away every `SPARES_*` setting and name a fresh store; gives its path."""
    for name in [name for name in os.environ if name.startswith("SPARES_")]:
        monkeypatch.delenv(name)
    store = next(empty_folders) / "spares.sqlite"
    monkeypatch.setenv("SPARES_STORE", str(store))
    return store


@pytest.fixture(scope="session", autouse=True)
def new_stores(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Let every new store of this process begin as a copy of one that took all the steps."""
    first = tmp_path_factory.mktemp("new") / "spares.sqlite"
    open_store(first).close()
    whole, bring_up = first.read_bytes(), upgrade.bring_up

    def copied(engine: Engine, to: str = "head") -> None:
        path = Path(engine.url.database or "")
        if to == "head" and path.is_file() and path.stat().st_size == 0:
            path.write_bytes(whole)
        bring_up(engine, to)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(upgrade, "bring_up", copied)
        yield
