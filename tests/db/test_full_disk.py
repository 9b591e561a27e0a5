"""A small file system fills up under each work: nothing is there by half, and it goes on later."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from spares.errors import DiskFull, StoreDamaged, UpgradeFailed
from tests.conftest import LONG
from tests.db.works import NAMES, WORKS

pytestmark = pytest.mark.sqlite

SIZE_MB, MOST_FREE = 16, 8 * 1024 * 1024
LEVELS = 50 if LONG else 2


@pytest.fixture
def small(tmp_path: Path) -> Iterator[Path]:
    """A file system of its own, in memory; only root may make one."""
    folder = tmp_path / "small"
    folder.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={SIZE_MB}m", "tmpfs",
                              str(folder)], capture_output=True, check=False)
    if mounted.returncode != 0:
        pytest.skip("a small file system cannot be mounted here")
    yield folder
    subprocess.run(["umount", "-l", str(folder)], check=True)


def fill(folder: Path, free: int) -> Path:
    """Leave so many bytes free; gives the file that is in the way."""
    filler = folder / "in the way"
    have = os.statvfs(folder)
    with filler.open("wb") as file:
        file.write(bytes(max(0, have.f_bavail * have.f_frsize - free)))
    return filler


@pytest.mark.parametrize("level", range(LEVELS))
@pytest.mark.parametrize("name", NAMES)
def test_full_file_system_leaves_nothing_by_half(small: Path, name: str, level: int) -> None:
    work, said = WORKS[name], small.with_name("said")
    known = work.prepare(small)
    said.touch()
    (small / "said").symlink_to(said)       # there is always room for the test's own note
    # Close to nothing at the first levels, then more and more.
    filler = fill(small, MOST_FREE * level**3 // LEVELS**3)
    try:
        work.do(small, known)
    except (DiskFull, StoreDamaged, UpgradeFailed):
        pass            # said in words; what else there may be is a fault
    filler.unlink()
    work.look(small, known, said.read_text().split("\n")[:-1])
