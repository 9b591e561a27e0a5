"""The frame of the benches: figures printed and kept, none of them asserted.

A bench is a function in `bench_*.py` that takes `figure` and reports what it measured:

    def bench_find(figure):
        figure("find a part by a word", seconds_of(lambda: find("impeller")), "s", limit=0.1)

`python3 -m spares bench` runs them one after another, prints every figure beside its limit and
that of the run before, and keeps them in `.bench/figures.json`, by which two runs can be compared;
each says when it was taken, as one that was not asked for again stays there.
Speed depends on the machine, so no figure makes a test fail; a limit that was not kept is said.
"""

from __future__ import annotations

import gc
import json
import statistics
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Protocol

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from spares.config import COLLECT_AFTER
from tests.bench.phones import FEW, PARTS, PATIENCE_S, PHONE, Served
from tests.bench.vessels import made_up_store
from tests.conftest import chromium

KEPT = Path(__file__).resolve().parents[2] / ".bench" / "figures.json"
_FIGURES: dict[str, dict[str, float | str | None]] = {}

gc.set_threshold(COLLECT_AFTER)     # as the program does when it starts


class Figure(Protocol):
    """Report one figure: what it is, its value, its unit, and what it must not exceed."""

    def __call__(self, what: str, value: float, unit: str, limit: float | None = None) -> None:
        """Keep it."""


@pytest.fixture
def figure() -> Figure:
    """Report one figure."""
    def report(what: str, value: float, unit: str, limit: float | None = None) -> None:
        _FIGURES[what] = {"value": value, "unit": unit, "limit": limit,
                          "on": datetime.now(UTC).isoformat(timespec="seconds")}
    return report


def seconds_of(work: Callable[[], object], times: int = 5) -> float:
    """Give the middle one of several runs of *work* [s]."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


@pytest.fixture(scope="module")
def chromium_here() -> Iterator[Browser]:
    """The Chromium found on the PATH."""
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A vessel of 20,000 lines, served."""
    yield from _served(tmp_path_factory.mktemp("phone"), PARTS)


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    yield from _served(tmp_path_factory.mktemp("small"), FEW)


def _served(folder: Path, parts: int) -> Iterator[Served]:
    made_up_store(folder, parts).close()
    found = Served(folder / "spares.sqlite")
    yield found
    found.stop()


@pytest.fixture(scope="module")
def open_page(chromium_here: Browser) -> Iterator[Callable[[Served], Page]]:
    contexts = []

    def fresh(served: Served) -> Page:
        contexts.append(chromium_here.new_context(**PHONE))  # type: ignore[arg-type]
        opened = contexts[-1].new_page()
        opened.set_default_timeout(PATIENCE_S * 1000)
        opened.goto(f"{served.address}/#/find")
        opened.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
        return opened

    yield fresh
    for context in contexts:
        context.close()


@pytest.fixture(scope="module")
def page(served: Served, open_page: Callable[[Served], Page]) -> Page:
    return open_page(served)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not _FIGURES:
        return
    before = json.loads(KEPT.read_text("utf-8")) if KEPT.exists() else {}
    before = {what: one for what, one in before.items() if isinstance(one, dict)}
    terminalreporter.section("figures")
    for what, one in _FIGURES.items():
        was = f"   before {before[what]['value']:.4g}" if what in before else ""
        terminalreporter.write_line(
            f"{what:<62} {one['value']:>10.4g} {one['unit']:<6}{_against(one)}{was}")
    KEPT.parent.mkdir(exist_ok=True)
    KEPT.write_text(json.dumps({**before, **_FIGURES}, indent=1), "utf-8")


def _against(one: dict[str, float | str | None]) -> str:
    if one["limit"] is None:
        return " " * 14
    kept = "" if float(one["value"] or 0) <= float(one["limit"]) else " MISSED"
    return f" limit {one['limit']:<5g}{kept}"
