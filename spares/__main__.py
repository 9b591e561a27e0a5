"""Start the program, and make what it needs first where that is lacking.

`python3 -m spares ...` in a checkout is the whole program on any machine that has Python:
this file uses the standard library alone. It makes `.venv` in the checkout once, installs
the packages that pyproject.toml names, and starts itself again inside. Where they are all
there already (an installed wheel, somebody's own environment) it goes straight on.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import re
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from typing import IO, Any

TOP = Path(__file__).resolve().parent.parent
FOR_CHECKOUTS = ("test", "bench")       # these also want the packages of the test extra


class CannotStart(Exception):
    """The one sentence that tells a person what to do about it."""


def main() -> int:
    """Run the program on the arguments given; give its exit code, 2 when it cannot start."""
    args = sys.argv[1:]
    try:
        if not (TOP / "pyproject.toml").is_file():
            return run_here(args)
        extras = ["test"] if args[:1] and args[0] in FOR_CHECKOUTS else []
        environment = Environment(TOP)
        if environment.is_this_whole(extras) or has_all(wanted(extras)):
            return run_here(args)
        return run_inside(environment.made_ready(extras), args)
    except CannotStart as reason:
        print(reason, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return 130


def run_here(args: list[str]) -> int:
    """Go on in this very process."""
    if args[:1] and args[0] in FOR_CHECKOUTS:
        from spares import selftest
        return selftest.main(args)
    from spares.cli.main import main as command_line
    return command_line() or 0


def run_inside(python: Path, args: list[str]) -> int:
    """Start again with *python*, pass signals on to it, and give its exit code."""
    running: list[subprocess.Popen[bytes]] = []

    def pass_on(*_: object) -> None:
        for child in running:
            child.terminate()

    # Ctrl-C reaches both processes; the inner one ends in its own time and we wait for it.
    signal.signal(signal.SIGINT, lambda *_: None)
    signal.signal(signal.SIGTERM, pass_on)
    running.append(subprocess.Popen([str(python), "-m", "spares", *args]))
    code = running[0].wait()
    return code if code >= 0 else 128 - code


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
    """The virtual environment of a checkout: made once, mended when it is not whole."""

    def __init__(self, top: Path) -> None:
        self.top = top
        self.folder = top / ".venv"
        self.python = self.folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
        self.stamp = self.folder / "spares-stamp.json"
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

    def is_this_whole(self, extras: list[str]) -> bool:
        """Tell whether this very Python is the one inside, made from what stands here now."""
        return self._is_this() and self._is_fresh(extras)

    def _is_fresh(self, extras: list[str]) -> bool:
        try:
            stamp = json.loads(self.stamp.read_text(encoding="utf-8"))
            return stamp["made"] == self._made() and set(extras) <= set(stamp["extras"])
        except (OSError, ValueError, KeyError, TypeError):
            return False

    def _made(self) -> list[str]:
        """Say what the environment was made from: another of these means it is stale."""
        project = (self.top / "pyproject.toml").read_bytes()
        return [hashlib.sha256(project).hexdigest(), str(self.top), os.path.realpath(self.python)]

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
        self.stamp.write_text(json.dumps({"made": self._made(), "extras": extras}), "utf-8")
        _say(lock, "")

    def _install(self, extras: list[str]) -> None:
        self._pip("-e", f".[{','.join(extras)}]" if extras else ".")
        if "test" in extras:
            self._pip("--no-deps", *for_their_tables())

    def _has_all(self, extras: list[str]) -> bool:
        ask = f"import spares.__main__ as m; raise SystemExit(not m.has_all(m.wanted({extras})))"
        return subprocess.run([str(self.python), "-c", ask], cwd=self.top,
                              capture_output=True).returncode == 0

    def _earlier_extras(self) -> list[str]:
        try:
            return list(json.loads(self.stamp.read_text(encoding="utf-8"))["extras"])
        except (OSError, ValueError, KeyError, TypeError):
            return []

    def _is_this(self) -> bool:
        return Path(sys.prefix).resolve() == self.folder.resolve()

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


if __name__ == "__main__":
    sys.exit(main())
