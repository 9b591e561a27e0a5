"""The frame of the benches: figures printed and kept, none of them asserted.

A bench is a function in `bench_*.py` that takes `figure` and reports what it measured:

    def bench_find(figure):
        figure("find a part by a word", seconds_of(lambda: find("impeller")), "s")

`python3 -m spares bench` runs them one after another, prints every figure beside that of
the run before, and keeps them in `.bench/figures.json`. Speed depends on the machine, so no
figure makes a test fail.
"""

from __future__ import annotations

import gc
import json
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from spares.config import COLLECT_AFTER

KEPT = Path(__file__).resolve().parents[2] / ".bench" / "figures.json"
_FIGURES: dict[str, tuple[float, str]] = {}

gc.set_threshold(COLLECT_AFTER)     # as the program does when it starts


@pytest.fixture
def figure() -> Callable[[str, float, str], None]:
    """Report one figure: what it is, its value, its unit."""
    def report(what: str, value: float, unit: str) -> None:
        _FIGURES[what] = (value, unit)
    return report


def seconds_of(work: Callable[[], object], times: int = 5) -> float:
    """Give the shortest of several runs of *work* [s]: the one least disturbed by others."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not _FIGURES:
        return
    before = json.loads(KEPT.read_text("utf-8")) if KEPT.exists() else {}
    terminalreporter.section("figures")
    for what, (value, unit) in _FIGURES.items():
        was = f"   before {before[what][0]:.4g}" if what in before else ""
        terminalreporter.write_line(f"{what:<56} {value:>10.4g} {unit:<8}{was}")
    KEPT.parent.mkdir(exist_ok=True)
    KEPT.write_text(json.dumps({**before, **_FIGURES}, indent=1), "utf-8")
