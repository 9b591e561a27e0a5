"""Run the tests of a checkout, after bringing what they need from the system.

    python3 -m spares test [--slow | --long] [--store postgresql] [what pytest takes]
    python3 -m spares bench [-k WORD]

Standard library alone: the packages of the test extra are there when this is reached, but
whatever is lacking should be told in a sentence, not in a traceback.
"""

from __future__ import annotations

import ctypes.util
import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

#: What a run on another kind of store tries, if nothing is named.
ON_A_DATABASE = ("tests/db", "tests/actions", "tests/sync", "tests/web")
TOP = Path(__file__).resolve().parent.parent
WORKERS = min(2, os.cpu_count() or 1)
IN_ORDER = ["-q", "-n", str(WORKERS), "--dist", "worksteal"]
#: Where files are in memory: every commit waits for the disk, and thousands are made.
IN_MEMORY = Path("/dev/shm")
ROOM_BYTES = 4 * 2**30


#: Where Debian puts the programs of PostgreSQL, which are not on the PATH.
CLUSTERS = Path("/usr/lib/postgresql")


class Need(NamedTuple):
    """A program or library of the system that some tests use."""

    package: str                # the name Debian gives it
    there: Callable[[], bool]
    why: str


def _any_of(*commands: str) -> Callable[[], bool]:
    return lambda: any(map(shutil.which, commands))


NEEDS = (
    Need("chromium", _any_of("chromium", "chromium-browser", "google-chrome"),
         "to try the phone page in a real browser"),
    Need("libnss3-tools", _any_of("certutil"), "to let it trust the vessel's certificate"),
    Need("nodejs", _any_of("node"), "to run the client's own tests"),
    Need("libzbar0", lambda: ctypes.util.find_library("zbar") is not None,
         "to read printed labels back with a second reader"),
    Need("postgresql", lambda: bool(shutil.which("initdb") or [*CLUSTERS.glob("*/bin/initdb")]),
         "to try the second kind of store"),
    Need("poppler-utils", _any_of("pdftoppm"), "to look at printed pages as a printer would"),
)


def main(args: list[str]) -> int:
    """Run `test` or `bench` with the rest of *args*; give the exit code."""
    if not (TOP / "tests").is_dir():
        print("The tests are not part of an installed Spares: run them in a checkout.",
              file=sys.stderr)
        return 2
    if importlib.util.find_spec("pytest") is None:
        print("What the tests need is not installed here: python3 -m spares test, in the "
              "folder of the checkout, brings it.", file=sys.stderr)
        return 2
    verb, rest = args[0], args[1:]
    if verb == "bench":
        return run_pytest(["-q", "-o", "python_files=bench_*.py", "-o", "python_functions=bench_*",
                           "tests/bench", *rest], os.environ)
    bring_what_is_lacking()
    environ = dict(os.environ)
    which = ["-m", "not slow"]          # what is named runs whole, slow or not
    if "--slow" in rest:
        rest.remove("--slow")
        which = ["-m", "slow"]
    if "--long" in rest:
        rest.remove("--long")
        which = []
        environ["SPARES_LONG"] = "1"
    if "--store" in rest:
        at = rest.index("--store")
        environ["SPARES_TEST_STORE"] = "".join(rest[at + 1:at + 2])
        del rest[at:at + 2]
        rest = rest or [*IN_ORDER, *ON_A_DATABASE]
    if has_room_in_memory():
        environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(IN_MEMORY))
    # Workers pay off for the whole suite only; a few tests are sooner done than they start.
    # Each gets half of the tests in their order, so that what a file shares is made once.
    return run_pytest(rest or [*IN_ORDER, *which], environ)


def has_room_in_memory() -> bool:
    """Tell whether the files of a whole run can lie in memory."""
    return (IN_MEMORY.is_dir() and os.access(IN_MEMORY, os.W_OK)
            and shutil.disk_usage(IN_MEMORY).free >= ROOM_BYTES)


def run_pytest(args: list[str], environ: Mapping[str, str]) -> int:
    """Run pytest at the top of the checkout, in a process of its own."""
    return subprocess.call([sys.executable, "-m", "pytest", *args], cwd=TOP, env=dict(environ))


def bring_what_is_lacking() -> None:
    """Install what is lacking where that can be done unasked; else say what will be skipped."""
    lacking = [need for need in NEEDS if not need.there()]
    if lacking and _is_debian() and os.geteuid() == 0:
        for need in lacking:
            print(f"Installing {need.package}, {need.why}.", flush=True)
        _apt_get([need.package for need in lacking])
        lacking = [need for need in lacking if not need.there()]
    for need in lacking:
        line = f"Not here: {need.package}, {need.why}; those tests will be skipped."
        hint = f" On Debian: sudo apt install -y {need.package}" if shutil.which("apt-get") else ""
        print(line + hint, flush=True)


def _is_debian() -> bool:
    return bool(shutil.which("apt-get")) and hasattr(os, "geteuid")


def _apt_get(packages: list[str]) -> None:
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in (["update", "-qq"], ["install", "-y", "-qq", "--no-install-recommends", *packages]):
        done = subprocess.run(["apt-get", *step], env=quiet, stdin=subprocess.DEVNULL,
                              capture_output=True, text=True)
        if done.returncode:
            print(done.stderr.strip()[-1000:], file=sys.stderr, flush=True)
