"""The command line as a person meets it: words in, text and an exit code out."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from spares.cli.main import main
from tests.problems import is_problem_object
from tests.stores import DAY_ZERO, make_demo


class Ran(NamedTuple):
    """What came of one command."""

    code: int
    out: str
    err: str

    @property
    def answer(self) -> Any:
        return json.loads(self.out)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    """Run one command in this process."""
    def _run(*args: str) -> Ran:
        capsys.readouterr()
        code = main([str(arg) for arg in args])
        return Ran(code, *capsys.readouterr())
    return _run


def is_error(ran: Ran, *words: str) -> None:
    """Assert that a command failed with a sentence for people that has *words* in it."""
    assert ran.code == 2, ran
    assert ran.out == ""
    first, *_ = ran.err.splitlines()
    assert first.startswith("error: ")
    assert "Traceback" not in ran.err and "made a mistake" not in ran.err
    for word in words:
        assert word in ran.err, ran.err


def is_json_error(ran: Ran, *, field: str | None = None) -> dict[str, Any]:
    """Assert that a command failed with exactly one problem object on standard error."""
    assert ran.code == 2, ran
    assert ran.out == ""
    return is_problem_object(json.loads(ran.err), field=field)


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_demo(tmp_path_factory.mktemp("cli-demo"))


@pytest.fixture
def demo(demo_file: Path, own_surroundings: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The test's own copy of the demo as the store of the surroundings; its path."""
    shutil.copy(demo_file, own_surroundings)
    monkeypatch.setenv("SPARES_TODAY", DAY_ZERO)
    return own_surroundings
