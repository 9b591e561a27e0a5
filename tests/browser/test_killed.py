"""A browser that is killed at any moment, again and again: what it called saved is there.

Its worker opens the page without the boat's computer, and no number is lost or stands for two.
A killed process loses nothing of what the system was handed, a phone without power may: what
stands on the disk then is the browser's own promise (`durability: "strict"`).
"""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import psutil
import pytest
from playwright.sync_api import Browser, BrowserContext, Page
from playwright.sync_api import Error as PageError

from tests.browser.conftest import PHONE, QUIET, Phone
from tests.browser.keeping import KEEPS, keep_here, meet, on_server, until
from tests.browser.putting import AT, PUTS, THERE, check_there, hear
from tests.conftest import LONG, chromium

pytestmark = [pytest.mark.browser, pytest.mark.slow,
              pytest.mark.skipif(os.name == "nt", reason="other signals there")]

KILLS = 50 if LONG else 1


class Killable:
    """A browser with a profile of its own, which is opened anew after it was killed."""

    def __init__(self, browser: Browser, profile: Path) -> None:
        self._type, self.profile = browser.browser_type, profile
        self.said: set[str] = set()
        self.context = self.open()

    def open(self) -> BrowserContext:
        """Open it on its profile."""
        self.context = self._type.launch_persistent_context(
            self.profile, executable_path=chromium(), args=QUIET,
            **PHONE)    # type: ignore[arg-type]
        return self.context

    def kill(self) -> None:
        """Kill it, with all its helpers, as a phone does that wants the memory."""
        named = f"--user-data-dir={self.profile}"
        mine = [one for one in psutil.process_iter(["cmdline"])
                if named in (one.info["cmdline"] or ())]
        assert mine
        for one in mine:
            with suppress(psutil.NoSuchProcess):
                os.kill(one.pid, signal.SIGKILL)
        psutil.wait_procs(mine, timeout=20)
        with suppress(PageError):
            self.context.close()


def test_a_browser_that_is_killed_loses_nothing_that_it_called_saved(
        opened_chromium: Browser, serve: Callable[[], str], tmp_path: Path) -> None:
    address, rng = serve(), random.Random(12)
    began = on_server(address, "P061")["L03"][1]
    browser = Killable(opened_chromium, tmp_path / "profile")
    try:
        keep_here(Phone(browser.context, address))
        browser.context.close()     # a token that came within the last half minute may be lost
        page = opened_without_her(browser, address)
        for number in range(KILLS):
            hear(page, browser.said)
            known = len(browser.said)
            page.evaluate(f"(given) => {{ ({PUTS})(given); }}", [number, 400])
            end_s = time.monotonic() + 60
            while len(browser.said) < known + rng.randint(1, 12):
                assert time.monotonic() < end_s, "nothing was saved"
                page.wait_for_timeout(rng.randint(1, 60))
            browser.kill()
            page = opened_without_her(browser, address)
            check_there(page, browser.said)
            browser.context.set_offline(number % 3 == 0)     # and otherwise it meets her meanwhile
        browser.context.set_offline(False)
        meet(page)
        waits, taken = page.evaluate(THERE)
        assert waits == [] and on_server(address, "P061")["L03"] == [began + len(taken)] * 3
    finally:
        with suppress(PageError):
            browser.context.close()


def opened_without_her(browser: Killable, address: str) -> Page:
    """Open browser and page again while the boat's computer is silent."""
    context = browser.open()
    context.set_offline(True)
    page = context.new_page()
    page.goto(f"{address}/{AT}")
    page.locator("nav.bar").wait_for(timeout=60_000)
    until(page, KEEPS)
    return page
