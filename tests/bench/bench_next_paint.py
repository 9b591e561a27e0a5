"""From a touch or a key to the next paint, with 20,000 lines and a processor four times slower.

Measured as browsers do it: the Event Timing API gives, for each interaction, the time from the
touch until what it changed is painted, in steps of 8 ms. One interaction has a touch and a click
or a key down and up; its longest event counts.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable

import pytest
from playwright.sync_api import Page

from tests.bench.phones import GATHERED, KEEP, PARTS, TYPED, until

SLOWER, WANTED_MS, ROUNDS = 4, 100, 3
KEY_MS, REST_MS = 150, 900
PLACES = ("fit", "work", "restock", "aboard", "find")

WATCH = """() => {
  window.interactions = new Map();
  new PerformanceObserver((list) => list.getEntries().filter((one) => one.interactionId)
    .forEach(({ interactionId, duration }) => window.interactions.set(interactionId,
      Math.max(duration, window.interactions.get(interactionId) ?? 0))))
    .observe({ type: "event", durationThreshold: 16 });
}"""
SEEN = """() => {
  const found = [...window.interactions.values()];
  window.interactions.clear();
  return found;
}"""


@pytest.fixture(scope="module")
def slow_phone(page: Page) -> Page:
    """A phone that keeps the whole vessel, on a slow processor."""
    page.evaluate(KEEP)
    until(page, GATHERED)
    page.wait_for_timeout(3000)
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.evaluate(WATCH)
    return page


def _typing(page: Page) -> None:
    page.locator("#search").tap()
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.press("Delete")
    page.keyboard.type(TYPED, delay=KEY_MS)


def _opening(page: Page) -> None:
    page.locator("main .lines a").first.tap()


def _taking(page: Page) -> None:
    page.locator('[data-line="actions"] button.main').tap()


def _undoing(page: Page) -> None:
    page.locator('[data-piece="undo-bar"] button').first.tap()


def _places(page: Page) -> None:
    for place in PLACES:
        page.locator(f'nav.bar a[href="#/{place}"]').tap()
        page.wait_for_timeout(REST_MS)


DONE: dict[str, Callable[[Page], None]] = {
    "a key while typing in Find": _typing, "opening an answer card": _opening,
    "took one": _taking, "undo": _undoing, "switching places": _places}


@pytest.mark.parametrize("net", ["server there", "server gone"])
def bench_next_paint(figure, slow_phone, served, net):
    """The worst of each sort, the median of three rounds."""
    page = slow_phone
    if net == "server gone":
        served.stop()
    worst: dict[str, list[float]] = {what: [] for what in DONE}
    for _ in range(ROUNDS):
        for what, act in DONE.items():
            act(page)
            page.wait_for_timeout(REST_MS * 2)
            worst[what].append(max(page.evaluate(SEEN), default=0))
    for what, found in worst.items():
        figure(f"next paint: {what}, {net} (wanted {WANTED_MS}, {PARTS} lines)",
               statistics.median(found), "ms")
