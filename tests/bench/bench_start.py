"""How long a person waits for a command to begin, and for those that only look."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
from datetime import date
from pathlib import Path

from spares import made_from
from spares.__main__ import TOP
from spares.actions.bring_in import load_demo
from spares.db.engine import open_store
from tests.bench.conftest import seconds_of

TODAY = "2027-03-15"
LOOKING = (("find", "impeller"), ("due",), ("show", "P034"), ("restock", "T1"), ("card", "S22"),
           ("counts",), ("changes",), ("loans",), ("vessels",))
#: It worked; or what is needed is not all there.
GOOD = (0, 3)
LIMIT_S = 0.25


def bench_start(figure, tmp_path: Path):
    path = tmp_path / "demo.sqlite"
    store = open_store(path)
    load_demo(store, day_zero=date.fromisoformat(TODAY))
    store.close()

    # As aboard: Python keeps what it has compiled, which some surroundings tell it not to do.
    surroundings = {name: value for name, value in os.environ.items()
                    if name != "PYTHONDONTWRITEBYTECODE"} | {
        "PYTHONPYCACHEPREFIX": str(tmp_path / "compiled"), "SPARES_STORE": str(path),
        "SPARES_TODAY": TODAY}
    # The Python outside, which becomes the one inside, is what a person starts in a checkout.
    outside = (f"{sys.base_prefix}/bin/python3" if made_from.is_fresh(TOP, []) else
               sys.executable)

    def start(*args: str) -> None:
        ran = subprocess.run([outside, *args], check=False, capture_output=True,
                             env=surroundings, cwd=TOP)
        assert ran.returncode in GOOD, ran.stderr

    def worked_s(*args: str) -> float:
        """Give the processor's time of one start; another program at work changes it little."""
        before = os.times()
        start(*args)
        after = os.times()
        return (after.children_user + after.children_system
                - before.children_user - before.children_system)

    start("-m", "spares", "--help")
    bare = seconds_of(lambda: start("-c", "pass"), times=5)
    helped = seconds_of(lambda: start("-m", "spares", "--help"), times=5)
    figure("start of a bare Python", bare, "s")
    figure("`spares --help`, from nothing to the last line", helped, "s", limit=LIMIT_S)
    figure("`spares --help` as a multiple of a bare Python", helped / bare, "x")
    for command in LOOKING:
        start("-m", "spares", *command)
        taken = seconds_of(lambda command=command: start("-m", "spares", *command), times=5)
        figure(f"`spares {' '.join(command)}` on the demo vessel", taken, "s", limit=LIMIT_S)
        worked = statistics.median(worked_s("-m", "spares", *command) for _ in range(5))
        figure(f"`spares {' '.join(command)}`, time of the processor", worked, "s", limit=LIMIT_S)
