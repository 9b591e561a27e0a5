"""Lighthouse on its phone profile: a slow net and a processor four times slower, simulated.

Four times is meant for a fast desktop. On a machine whose benchmark index is lower the score is
taken once more with the multiplier that Lighthouse's guide names for it, and told beside the first
(docs/throttling.md of the project GoogleChrome/lighthouse, "Calibrating the CPU slowdown").
The browser has the processor before Lighthouse and the server: on two cores these took it away in
the middle of the page's tasks, and the waiting was counted as the page's, four times over.

Lighthouse (Apache-2.0) is brought by npm, this version of it and no other, into `.bench/`; the
reports lie there too, one for each place. Without node or npm there are no figures.
"""

from __future__ import annotations

import json
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.bench.conftest import KEPT
from tests.bench.phones import Served, stand_back
from tests.conftest import chromium
from tests.stores import make_demo

LIGHTHOUSE = "lighthouse@12.2.3"        # 13 asks for a newer node than Debian has
TOOLS, REPORTS = KEPT.parent / "node", KEPT.parent / "lighthouse"
PLACES = {"start": "", "part": "#/part/P034", "trip": "#/restock/T1"}
#: Five, whose median is told (docs/variability.md of the same project).
RUNS = 5
#: Now and then a browser's trace has no beginning, and the tool says to run it once more.
TRIES = 3
CATEGORIES = ("performance", "accessibility", "best-practices")
FLAGS = ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic",
         "--disable-background-networking", "--disable-component-update", "--no-first-run",
         "--remote-debugging-port=0")
WANTED = 95
#: Below this index a machine is no fast desktop, and twice as slow is a middling phone [-].
FAST_DESKTOP, MULTIPLIER_BELOW = 1500, 2
#: Until a browser that was just started rests [s].
STARTED_S = 2


@pytest.fixture(scope="module")
def lighthouse() -> Path:
    """The program, brought if it is not here yet."""
    program = TOOLS / "node_modules" / ".bin" / "lighthouse"
    if not program.exists():
        if shutil.which("npm") is None or shutil.which("node") is None:
            pytest.skip("no npm to bring Lighthouse with")
        TOOLS.mkdir(parents=True, exist_ok=True)
        (TOOLS / "package.json").write_text('{"private": true}', "utf-8")
        subprocess.run(["npm", "install", "--no-audit", "--no-fund", "--save-exact", LIGHTHOUSE],
                       cwd=TOOLS, check=True, stdout=subprocess.DEVNULL, timeout=300)
    return program


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The demo vessel, served on this machine."""
    store = make_demo(tmp_path_factory.mktemp("lighthouse"))
    found = Served(store.rename(store.with_name("spares.sqlite")))
    yield found
    found.stop()


@contextmanager
def _browser() -> Iterator[str]:
    """A Chromium with nothing kept; its port, which it writes down when it listens."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as kept:
        running = subprocess.Popen([chromium(), *FLAGS, f"--user-data-dir={kept}", "about:blank"],
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        try:
            told = Path(kept) / "DevToolsActivePort"
            for _ in range(300):
                if told.exists() and (lines := told.read_text("utf-8").splitlines()):
                    break
                time.sleep(0.1)
            else:
                raise TimeoutError(told)
            time.sleep(STARTED_S)
            yield lines[0]
        finally:
            running.terminate()
            running.wait(30)


def _report(lighthouse: Path, address: str, out: Path, *more: str) -> dict[str, Any]:
    for _ in range(TRIES):
        with _browser() as port:
            ran = subprocess.run(
                [lighthouse, address, "--quiet", "--output=json", "--output=html",
                 f"--output-path={out}", f"--only-categories={','.join(CATEGORIES)}",
                 f"--port={port}", *more],
                check=False, timeout=240, stdout=subprocess.DEVNULL, stderr=sys.stderr,
                preexec_fn=stand_back)
        if ran.returncode == 0:
            break
    else:
        pytest.fail(f"nothing was measured in {TRIES} tries")
    told: dict[str, Any] = json.loads(Path(f"{out}.report.json").read_text("utf-8"))
    return told


@pytest.mark.parametrize("place", PLACES)
def bench_lighthouse(figure, demo, lighthouse, place):
    """Print the median of five; the report of the last is kept."""
    REPORTS.mkdir(parents=True, exist_ok=True)
    address = f"{demo.address}/{PLACES[place]}"
    told = [_report(lighthouse, address, REPORTS / place) for _ in range(RUNS)]
    for category in CATEGORIES:
        figure(f"lighthouse: {place}, {category} (wanted {WANTED})", _score(told, category),
               "of 100")
    for audit in ("largest-contentful-paint", "total-blocking-time"):
        figure(f"lighthouse: {place}, {audit}",
               statistics.median(one["audits"][audit]["numericValue"] for one in told), "ms")
    # Told beside them: on a machine half as fast the same page is twice as late.
    speed = statistics.median(one["environment"]["benchmarkIndex"] for one in told)
    figure(f"lighthouse: {place}, speed of this machine (its benchmark index)", speed, "")
    if speed < FAST_DESKTOP:
        again = [_report(lighthouse, address, REPORTS / f"{place}-calibrated",
                         f"--throttling.cpuSlowdownMultiplier={MULTIPLIER_BELOW}")
                 for _ in range(RUNS)]
        figure(f"lighthouse: {place}, performance, calibrated (wanted {WANTED})",
               _score(again, "performance"), "of 100")


def _score(told: list[dict[str, Any]], category: str) -> float:
    return statistics.median(one["categories"][category]["score"] * 100 for one in told)
