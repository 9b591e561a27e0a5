"""Mutants with a known end, for the test of the run itself: `python -m tests.mutation.planted`.

Prints what became of each as JSON. With `failing test` or `phone apart`, starts a whole run on a
ground that does not hold, which has to give 1.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from collections.abc import Callable

import pytest

from spares.domain import cooling
from spares.domain.fit import sheets
from tests.mutation import __main__ as whole
from tests.mutation import near, run
from tests.mutation.code import CannotBeMade, Mutant
from tests.mutation.data import CHANGES, data_mutants

SPEED = ("spares/domain/cooling.py", "driven_speed")
SHEET = ("spares/domain/fit/sheets.py", "read_sheet")
PLACES = ("tests/domain/test_cooling_limits.py", "tests/domain/test_named_changes.py",
          "tests/domain/test_own_kind_sheets.py")


def _swap(function: Callable[..., object], new: Callable[..., object]) -> Callable[[], None]:
    def make() -> None:
        function.__code__ = new.__code__        # type: ignore[attr-defined]
    return make


def _raise(error: BaseException) -> Callable[[], None]:
    def make() -> None:
        raise error
    return make


def _wrong(*_args: object, **_more: object) -> object:
    return None


def _raises(*_args: object, **_more: object) -> object:
    raise RuntimeError("out of the mutant's own code")


def _endless(*_args: object, **_more: object) -> object:
    while True:
        pass


def _end_folder(tests: run.Tests) -> Callable[[], None]:
    def make() -> None:
        folder = next(iter(tests.items.values())).config._tmp_path_factory.getbasetemp()
        folder.rmdir()
        folder.write_text("in the way")
    return make


def planted(tests: run.Tests) -> list[Mutant]:
    """Give the mutants, named by how they end."""
    changes = (CHANGES,)
    wrong_in_data = next(m for m in data_mutants() if m.place[0] == CHANGES and "name" in m.id)
    return [
        Mutant("equal", SPEED, lambda: None),
        Mutant("wrong", SPEED, _swap(cooling.driven_speed, _wrong)),
        Mutant("raises", SPEED, _swap(cooling.driven_speed, _raises)),
        Mutant("endless", SPEED, _swap(cooling.driven_speed, _endless)),
        Mutant("cannot be worked out", SPEED, _raise(CannotBeMade("ZeroDivisionError"))),
        Mutant("wrong with a folder", SHEET, _swap(sheets.read_sheet, _raises)),
        Mutant("crash", SPEED, _raise(RuntimeError("planted crash"))),
        Mutant("shot", SPEED, lambda: os.kill(os.getpid(), signal.SIGKILL)),
        Mutant("leaves", SPEED, _raise(SystemExit(0))),
        Mutant("no folder for files", SHEET, _end_folder(tests)),
        # one batch, in which one breaks down
        Mutant("equal in data", changes, lambda: None, data=True),
        Mutant("wrong in data", wrong_in_data.place, wrong_in_data.make, data=True),
        Mutant("crash in data", changes, _raise(RuntimeError("planted crash")), data=True)]


def main() -> int:
    """Try each; print what became of it."""
    found: dict[str, dict[str, str]] = {}

    def work(tests: run.Tests) -> None:
        tests.look()
        assert not tests.failing
        run.run_all(tests, planted(tests), 2,
                    lambda r: found.update({r.id: {"killer": r.killer, "fault": r.fault}}))
    run.MOST_S = 3      # the tests near it want a fraction of one
    code = run.collect(work, ask_phone=False, places=PLACES)
    print(json.dumps(found))
    return code


def on_bad_ground(how: str) -> int:
    """Start a run where *how* does not hold; give its code."""
    call = near.run_item

    def fails(item: pytest.Item) -> bool:
        return (near.TWIN in item.nodeid) == (how == "phone apart") or call(item)
    near.run_item = run.run_item = fails
    run.collect.__kwdefaults__["places"] = (*PLACES, "tests/client/test_fit_twin.py")
    return whole.main(["--only", SPEED[1] if how == "phone apart" else CHANGES])


if __name__ == "__main__":
    raise SystemExit(on_bad_ground(sys.argv[1]) if sys.argv[1:] else main())
