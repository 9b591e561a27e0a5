"""A hundred labels of the label printer before a camera: read within two seconds by the clock?

Tilted, dim, blurred, far, at night; a Chromium without a camera plays a film of each. The clock
runs from the first picture on the screen until the code stands in the field. That labels can be
read in that many pictures is asserted in `tests/browser/test_scan.py`; here is what it takes.
"""

from __future__ import annotations

import statistics
from pathlib import Path

import pytest
from playwright.sync_api import Browser
from playwright.sync_api import TimeoutError as PageTimeout

from spares.domain import codes
from spares.paper.labels import LockerLabel
from tests.bench.phones import PHONE
from tests.browser.conftest import QUIET
from tests.browser.film import LOOKS, put_film
from tests.browser.test_scan import PIPE, printed
from tests.conftest import chromium

LABELS, WITHIN_S, PATIENCE_MS = 100, 2.0, 8000

WATCH = """() => {
  window.live = window.read = null;
  const look = () => {
    if (document.querySelector('video[data-live="yes"]')) window.live ??= performance.now();
    const isRead = document.querySelector("#search")?.value.startsWith("TGL:");
    if (isRead) window.read = performance.now();
    else requestAnimationFrame(look);
  };
  look();
}"""
TAKEN_S = "() => window.read === null ? null : (window.read - window.live) / 1000"


@pytest.fixture(scope="module")
def film_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("film") / "film.y4m"


def bench_scan(figure, small, chromium_here: Browser, film_path: Path):
    """How many are not read in time, and what the middle one and the slowest took."""
    put_film(film_path, printed(LockerLabel("TGL", "EMJR", "Locker")), LOOKS["straight"], 1)
    browser = chromium_here.browser_type.launch(executable_path=chromium(), args=[
        *QUIET, "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film_path}"])
    context = browser.new_context(**PHONE)
    context.grant_permissions(["camera"], origin=small.address)
    page, taken = context.new_page(), []
    for number in range(LABELS):
        label = LockerLabel("TGL", codes.code_at(number * 97 % 23**3, 3), f"Locker {number}")
        look = LOOKS[list(LOOKS)[number % len(LOOKS)]]
        page.goto("about:blank")
        put_film(film_path, printed(label, PIPE if number % 2 else None), look, number)
        page.goto(f"{small.address}/#/find")
        page.evaluate(WATCH)
        page.locator('button:has-text("Scan")').tap()
        try:
            page.wait_for_function("() => window.read !== null", timeout=PATIENCE_MS)
            taken.append(page.evaluate(TAKEN_S))
        except PageTimeout:
            taken.append(PATIENCE_MS / 1000)
    browser.close()
    figure(f"scan: labels of {LABELS} not read within {WITHIN_S:g} s",
           sum(one > WITHIN_S for one in taken), "", limit=LABELS // 20)
    figure("scan: from the first picture to the code, middle", statistics.median(taken), "s",
           limit=WITHIN_S)
    figure("scan: from the first picture to the code, slowest", max(taken), "s")
