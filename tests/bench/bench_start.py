"""How long a person waits for a command to begin, and for those that only look."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import date
from pathlib import Path

from spares.actions.bring_in import load_demo
from spares.db.engine import open_store
from tests.bench.conftest import seconds_of

TODAY = "2027-03-15"
LOOKING = (("find", "impeller"), ("due",), ("show", "P034"))
LIMIT_S = 0.25


def bench_start(figure, tmp_path: Path):
    path = tmp_path / "demo.sqlite"
    store = open_store(path)
    load_demo(store, day_zero=date.fromisoformat(TODAY))
    store.close()

    def start(*args: str) -> None:
        subprocess.run([sys.executable, *args], check=True, capture_output=True, env={
            **os.environ, "SPARES_STORE": str(path), "SPARES_TODAY": TODAY})

    bare = seconds_of(lambda: start("-c", "pass"), times=5)
    helped = seconds_of(lambda: start("-m", "spares", "--help"), times=5)
    figure("start of a bare Python", bare, "s")
    figure("`spares --help`, from nothing to the last line", helped, "s", limit=LIMIT_S)
    figure("`spares --help` as a multiple of a bare Python", helped / bare, "x")
    for command in LOOKING:
        taken = seconds_of(lambda command=command: start("-m", "spares", *command), times=5)
        figure(f"`spares {' '.join(command)}` on the demo vessel", taken, "s", limit=LIMIT_S)
