"""The environment of a checkout: made once, mended when it is not whole.

Standard library alone, as this is what brings the packages. `spares/__main__.py` asks here
only where it finds no environment that was made from what the checkout holds now.
"""

from __future__ import annotations

import importlib.util
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import IO, Any

from spares import made_from

TOP = Path(__file__).resolve().parent.parent


class CannotStart(Exception):
    """The one sentence that tells a person what to do about it."""


def wanted(extras: list[str]) -> list[str]:
    """List the requirements in pyproject.toml, with those of *extras*."""
    project = _told()["project"]
    listed = list(project["dependencies"])
    for extra in extras:
        listed += project["optional-dependencies"][extra]
    return listed + (for_their_tables() if "test" in extras else [])


def for_their_tables() -> list[str]:
    """List what the tests want for its data alone: to be installed without what it depends on."""
    return list(_told()["tool"]["spares"]["test-tables"])


def _told() -> dict[str, Any]:
    import tomllib

    return tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))


def has_all(requirements: list[str]) -> bool:
    """Tell whether this Python has every package, each at its lower bound or newer."""
    import importlib.metadata  # late, as others: an environment of ours starts without

    for requirement in requirements:
        name = re.split(r"[\[<>=!~; ]", requirement, maxsplit=1)[0]
        least = re.search(r">=\s*([\d.]+)", requirement)
        try:
            there = importlib.metadata.version(name)
        except importlib.metadata.PackageNotFoundError:
            return False
        if least and _numbers(there) < _numbers(least.group(1)):
            return False
    return True


def _numbers(version: str) -> list[int]:
    return [int(digits) for digits in re.findall(r"\d+", version.split("+")[0])]


class Environment:
    """The virtual environment of a checkout."""

    def __init__(self, top: Path) -> None:
        self.top = top
        self.folder = top / ".venv"
        self.python = Path(made_from.python_of(str(top)))
        self.made_from = Path(made_from.file_of(str(top)))
        self.lock = top / ".venv.lock"      # says "unfinished" while work is going on

    def made_ready(self, extras: list[str]) -> Path:
        """Give the Python inside, after making, mending or refreshing what it needs."""
        if self._is_fresh(extras):
            return self.python
        try:
            with self.lock.open("a+", encoding="utf-8") as lock:
                _hold(lock)
                if not self._is_fresh(extras):      # another start may have done it meanwhile
                    self._make(lock, extras)
        except OSError as err:
            raise CannotStart(
                f"Spares cannot write into {self.top} ({err.strerror or err}): copy the folder "
                "to a place of your own, or make it writable, and start again.") from err
        return self.python

    def _is_fresh(self, extras: list[str]) -> bool:
        return made_from.is_fresh(str(self.top), extras)

    def _make(self, lock: IO[str], extras: list[str]) -> None:
        extras = sorted({*extras, *self._earlier_extras()})
        lock.seek(0)
        if lock.read() and not self._is_this():     # a power cut, or a Ctrl-C, half-way
            shutil.rmtree(self.folder, ignore_errors=True)
        _say(lock, "unfinished")
        if not self._has_pip():
            print("Making an environment in .venv ...", file=sys.stderr, flush=True)
            self._make_folder()
        print("Installing what Spares needs ...", file=sys.stderr, flush=True)
        try:
            self._install(extras)
        except CannotStart as reason:
            if not self._has_all(extras):
                _say(lock, "")      # pip leaves what it found; only a cut-off leaves halves
                raise
            print(f"{reason}\nGoing on with what is installed.", file=sys.stderr, flush=True)
        self.made_from.write_text(made_from.text_of(str(self.top), extras), encoding="utf-8")
        _say(lock, "")

    def _install(self, extras: list[str]) -> None:
        self._pip("-e", f".[{','.join(extras)}]" if extras else ".")
        if "test" in extras:
            self._pip("--no-deps", *for_their_tables())

    def _has_all(self, extras: list[str]) -> bool:
        ask = f"import spares.environment as m; raise SystemExit(not m.has_all(m.wanted({extras})))"
        return subprocess.run([str(self.python), "-c", ask], cwd=self.top,
                              capture_output=True).returncode == 0

    def _earlier_extras(self) -> list[str]:
        return made_from.extras_of(str(self.top))

    def _is_this(self) -> bool:
        return made_from.is_this(str(self.top))

    def _has_pip(self) -> bool:
        return self.python.exists() and subprocess.run(
            [str(self.python), "-m", "pip", "--version"], capture_output=True).returncode == 0

    def _make_folder(self) -> None:
        if not all(map(importlib.util.find_spec, ("venv", "ensurepip"))):
            raise CannotStart("This Python cannot make an environment, as venv or ensurepip is "
                              "lacking; on Debian or Ubuntu run `sudo apt install -y "
                              "python3-venv`, then the same line again.")
        made = subprocess.run([sys.executable, "-m", "venv", str(self.folder)],
                              capture_output=True, text=True)
        if made.returncode:
            raise CannotStart((made.stdout + made.stderr).strip() + "\nThe environment in "
                              f"{self.folder} could not be made; see above for the reason.")

    def _pip(self, *what: str) -> None:
        done = subprocess.run(
            [str(self.python), "-m", "pip", "install", "--quiet", "--no-input",
             "--disable-pip-version-check", "--retries", "2", *what],
            cwd=self.top, capture_output=True, text=True)
        if done.returncode:
            lines = done.stderr.splitlines()
            errors = [line for line in lines if line.lstrip().startswith("ERROR")] or lines[-20:]
            raise CannotStart("\n".join(errors) + "\nThe packages could not be installed, most "
                              "likely because there is no network just now: start again with one.")


def _say(lock: IO[str], text: str) -> None:
    lock.seek(0)
    lock.truncate()
    lock.write(text)
    lock.flush()


def _hold(lock: IO[str]) -> None:
    """Wait until no other start is at work here; the system frees the lock when we end."""
    if sys.platform == "win32":
        import msvcrt
        lock.seek(0)
        msvcrt.locking(lock.fileno(), msvcrt.LK_LOCK, 1)
    else:
        import fcntl
        fcntl.flock(lock, fcntl.LOCK_EX)
