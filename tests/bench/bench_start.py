"""How long a person waits for a command to begin."""

from __future__ import annotations

import subprocess
import sys

from tests.bench.conftest import seconds_of


def bench_start(figure):
    def start(*args: str) -> None:
        subprocess.run([sys.executable, *args], check=True, capture_output=True)

    bare = seconds_of(lambda: start("-c", "pass"), times=3)
    helped = seconds_of(lambda: start("-m", "spares", "--help"), times=3)
    figure("start of a bare Python", bare, "s")
    figure("`spares --help`, from nothing to the last line", helped, "s")
    figure("`spares --help` as a multiple of a bare Python", helped / bare, "x")
