"""A work on the store is broken off at any point: killed, out of room, or by a disk that fails.

Points are acts on files: of SQLite each opening, write, cut, sync and deletion, of the program
itself each sync, renaming and removal of a file.
"""

from __future__ import annotations

import os
import shutil
import signal
import traceback
import warnings
from collections.abc import Callable
from functools import partial
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from spares.errors import DiskFull, StoreDamaged, UpgradeFailed
from tests.conftest import LONG
from tests.db import disk
from tests.db.works import NAMES, WORKS

KILLS, FAILURES = (50, 25) if LONG else (3, 3)     # of each work; failures of each kind as well

pytestmark = [
    pytest.mark.sqlite,
    pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork"),
    pytest.mark.skipif(bool(disk.why_not()), reason=disk.why_not())]


@pytest.fixture(scope="module")
def prepare(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, Path], Any]:
    """Prepare a work in an emptied folder; of what does not live on in phones there is one copy."""
    made: dict[str, tuple[Path, Any]] = {}

    def prepared(name: str, folder: Path) -> Any:
        anew(folder)
        if name == "sync":
            return WORKS[name].prepare(folder)
        if name not in made:
            first = tmp_path_factory.mktemp(name)
            made[name] = first, WORKS[name].prepare(first)
        shutil.copytree(made[name][0], folder, dirs_exist_ok=True)
        return made[name][1]
    return prepared


def anew(folder: Path) -> None:
    """Empty the folder."""
    shutil.rmtree(folder)
    folder.mkdir()


def said_in(folder: Path) -> list[str]:
    said = folder / "said"
    return said.read_text().split("\n")[:-1] if said.exists() else []


def in_child(do: Callable[[], None], hit: Callable[[], None]) -> int:
    """Do it in a process of its own, which is asked at each act on a file; gives how it ended."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")         # of forking beside other threads: it only works
        child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    try:
        disk.listener = lambda _: hit() or 0
        for name in ("fsync", "replace", "rename", "unlink", "rmdir"):
            setattr(os, name, _asked(hit, getattr(os, name)))
        do()
        os._exit(0)
    except BaseException:
        traceback.print_exc()
        os._exit(1)


def killing_at(point: int) -> Callable[[], None]:
    """Give what kills its process when it is asked for that often."""
    reached = count(1)

    def killing() -> None:
        if next(reached) == point:
            os.kill(os.getpid(), signal.SIGKILL)
    return killing


def _asked(hit: Callable[[], None], do: Callable) -> Callable:
    def asked(*given, **more):
        hit()
        return do(*given, **more)
    return asked


def points_of(total: int, many: int) -> list[int]:
    """Give points spread over all acts, the first and the last among them."""
    return sorted({1 + (total - 1) * place // (many - 1) for place in range(many)})


@pytest.mark.parametrize("name", NAMES)
def test_killed_process_leaves_nothing_by_half_and_all_that_was_answered(
        watched: Path, name: str, prepare: Callable[[str, Path], Any]) -> None:
    work, acts = WORKS[name], watched.parent / f"{watched.name}-acts"
    work.do(watched, prepare(name, watched))      # what a process makes only once is made
    known, asked = prepare(name, watched), [0]

    def counting() -> None:
        asked[0] += 1
        acts.write_text(str(asked[0]))
    assert in_child(lambda: work.do(watched, known), counting) == 0
    work.look(watched, known, said_in(watched))
    total = int(acts.read_text())
    acts.unlink()
    ends = []
    for point in points_of(total, KILLS):
        known = prepare(name, watched)
        ends.append(in_child(partial(work.do, watched, known), killing_at(point)))
        work.look(watched, known, said_in(watched))
    # The last runs may need an act less than the first and come to their end.
    assert set(ends) <= {0, -signal.SIGKILL} and ends.count(0) <= 1 + KILLS // 20, ends


@pytest.mark.parametrize("for_ever", [True, pytest.param(False, marks=pytest.mark.long)],
                         ids=["for ever after", "once"])
@pytest.mark.parametrize(("code", "what"), [
    (disk.SHORT, "write"), pytest.param(disk.FULL, "write", marks=pytest.mark.long),
    pytest.param(disk.IOERR_WRITE, "write", marks=pytest.mark.long), (disk.IOERR_FSYNC, "sync")],
    ids=["short write", "no room", "write error", "sync error"])
@pytest.mark.parametrize("name", NAMES)
def test_disk_that_fails_leaves_nothing_by_half_and_all_that_was_answered(
        watched: Path, name: str, code: int, what: str, for_ever: bool,
        prepare: Callable[[str, Path], Any]) -> None:
    work = WORKS[name]
    known, seen = prepare(name, watched), [0, 0]     # acts so far, and the one that fails

    def failing(act: disk.Act) -> int:
        seen[0] += act.what == what
        fails = seen[1] and (seen[0] >= seen[1] if for_ever else seen[0] == seen[1])
        return code if act.what == what and fails else 0
    disk.listener = failing
    work.do(watched, known)
    disk.listener = None
    for point in points_of(seen[0], FAILURES)[0 if LONG else -1:]:
        known, seen[:] = prepare(name, watched), [0, point]
        disk.listener = failing
        try:
            work.do(watched, known)
        except (DiskFull, StoreDamaged, UpgradeFailed):
            pass        # said in words; what else there may be is a fault
        finally:
            disk.listener = None
        work.look(watched, known, said_in(watched))
