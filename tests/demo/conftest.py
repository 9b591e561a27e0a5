"""The demo vessels, loaded once with their own day zero; copies for tests that write."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from spares.actions.bring_in import load_demo
from spares.actions.context import Context, open_context
from spares.cli.main import main
from spares.config import read_settings
from spares.db.engine import open_store
from spares.web.app import create_app
from tests.demo.expected import DAY_ZERO


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store's file with both vessels, not to be written to."""
    path = tmp_path_factory.mktemp("demo") / "spares.sqlite"
    store = open_store(path)
    load_demo(store, day_zero=date.fromisoformat(DAY_ZERO))
    store.close()
    return path


@pytest.fixture(scope="session")
def demo(demo_file: Path) -> Iterator[Context]:
    """TANGLOPPE on day zero, to be looked at only."""
    context = _opened(demo_file)
    yield context
    context.store.close()


@pytest.fixture
def own_demo(demo_file: Path, tmp_path: Path) -> Iterator[Context]:
    """TANGLOPPE on day zero, the test's own copy."""
    context = _opened(Path(shutil.copy(demo_file, tmp_path / "own.sqlite")))
    yield context
    context.store.close()


def _opened(path: Path) -> Context:
    return open_context(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}))


@pytest.fixture
def demo_surroundings(demo_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the environment name a copy of the demo and its day zero."""
    monkeypatch.setenv("SPARES_STORE", str(shutil.copy(demo_file, tmp_path / "spares.sqlite")))
    monkeypatch.setenv("SPARES_TODAY", DAY_ZERO)


@pytest.fixture
def spares(demo_surroundings: None, capsys: pytest.CaptureFixture[str]) -> Callable[..., Any]:
    """Run a command with `--json`; gives (exit code, answer)."""
    def run(*args: str) -> tuple[int, Any]:
        capsys.readouterr()
        code = main([*args, "--json"])
        out, err = capsys.readouterr()
        return code, json.loads(out or err)
    return run


@pytest.fixture
def api(demo_surroundings: None) -> Callable[..., Any]:
    """Ask the API; gives (status, answer)."""
    client = create_app(read_settings(), token="a-token-of-this-run").test_client()

    def ask(method: str, path: str, **more: Any) -> tuple[int, Any]:
        answer = client.open(f"/api/{path}", method=method, buffered=True,
                             headers={"X-Spares": "1"}, **more)
        return answer.status_code, answer.get_json()
    return ask
