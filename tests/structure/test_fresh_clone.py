"""The whole way from a clone to an answer, with a real environment and real packages."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.structure.layers import TOP

# A Python without our packages: the one that this environment was made from.
BARE = Path(sys.base_prefix) / ("python.exe" if sys.platform == "win32" else "bin/python3")

pytestmark = pytest.mark.long


@pytest.fixture(scope="module")
def clone(tmp_path_factory) -> Path:
    if not shutil.which("git") or not BARE.exists():
        pytest.skip("no git, or no bare Python, here")
    folder = tmp_path_factory.mktemp("clone") / "ours"
    subprocess.run(["git", "clone", "--quiet", str(TOP), str(folder)], check=True)
    return folder


def _run(*command: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run([str(word) for word in command], cwd=cwd, text=True,
                          capture_output=True, stdin=subprocess.DEVNULL)


def test_a_clone_answers_after_one_command(clone):
    first = _run(BARE, "-m", "spares", "--version", cwd=clone)
    assert first.returncode == 0, first.stderr
    assert "Installing" in first.stderr
    again = _run(BARE, "-m", "spares", "--version", cwd=clone)
    assert (again.stdout, again.stderr) == (first.stdout, "")
    assert _run("git", "status", "--short", cwd=clone).stdout == ""     # it leaves no litter


def test_a_clone_with_its_environment_half_made_is_mended(clone):
    _run(BARE, "-m", "spares", "--version", cwd=clone)
    shutil.rmtree(next((clone / ".venv").rglob("flask")))
    (clone / ".venv.lock").write_text("unfinished")
    (clone / ".venv" / "spares-made-from.txt").unlink()
    mended = _run(BARE, "-m", "spares", "compute", "--help", cwd=clone)
    assert mended.returncode == 0, mended.stderr
    assert "Making an environment" in mended.stderr


def test_installed_for_good_it_runs_from_any_folder(clone, tmp_path):
    environment = tmp_path / "env"
    _run(BARE, "-m", "venv", environment, cwd=tmp_path)
    python = environment / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    installed = _run(python, "-m", "pip", "install", "--quiet", clone, cwd=tmp_path)
    assert installed.returncode == 0, installed.stderr
    assert _run(python, "-m", "spares", "--version", cwd=tmp_path).returncode == 0
    ask = ("from spares.config import static_folder, seed_folder; "
           "assert any(static_folder().iterdir()) and any(seed_folder().iterdir())")
    found = _run(python, "-c", ask, cwd=tmp_path)
    assert found.returncode == 0, found.stderr
