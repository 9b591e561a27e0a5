"""A new version of the page's files takes over while the page is writing, again and again."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.boat import Boat, copied_program
from tests.browser.conftest import Phone
from tests.browser.keeping import KEEPS, keep_here, meet, on_server, until
from tests.browser.putting import AT, PUTS, THERE, check_there, hear
from tests.client.shell_list import shell_text
from tests.conftest import LONG

pytestmark = [pytest.mark.browser, pytest.mark.slow]

TAKE_OVERS = 20 if LONG else 2
#: Puts as a quick hand does, and without any rest once the new worker is there: by then the page
#: is about to be loaded anew. (A browser waits with the change until the old worker has a rest.)
WRITES = f"""(number) => {{
  const puts = {PUTS};
  window.isOld = true;
  puts([number * 2, 1000, 600]);
  navigator.serviceWorker.addEventListener("controllerchange", () => puts([number * 2 + 1, 1000]));
}}"""
UPDATE = "() => navigator.serviceWorker.getRegistration().then((one) => one.update())"


@pytest.fixture
def program(tmp_path: Path) -> Path:
    return copied_program(tmp_path)


@pytest.fixture
def address(program: Path, demo_store: Path, tmp_path: Path) -> Iterator[str]:
    boat = Boat(Path(shutil.copy(demo_store, tmp_path / "spares.sqlite")))
    yield boat.run(program)
    boat.stop()


def renew(program: Path, number: int) -> None:
    """Put the files of another version there; the server reads them at each request."""
    files = program / "static"
    words = files / "words" / "screens.js"
    words.write_text(f"{words.read_text()}\n// version {number}\n")
    (files / "shell.js").write_text(shell_text(files))


def test_a_new_worker_in_the_middle_of_a_write_costs_nothing_that_was_called_saved(
        address: str, program: Path, make_phone: Callable[..., Phone]) -> None:
    said: set[str] = set()
    began = on_server(address, "P061")["L03"][1]
    phone = make_phone(address)
    keep_here(phone)
    page = phone.open(AT)
    page.reload()
    hear(page, said)
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    for number in range(TAKE_OVERS):
        until(page, KEEPS)
        known = len(said)
        page.evaluate(WRITES, number)
        renew(program, number)
        page.evaluate(UPDATE)
        bar = page.locator('[data-piece="update"]')
        expect(bar).to_contain_text("New version ready.", timeout=60_000)
        assert page.evaluate("() => window.isOld"), "it took over by itself"
        end_s = time.monotonic() + 60
        while len(said) <= known:
            assert time.monotonic() < end_s, "nothing was saved"
            page.wait_for_timeout(20)
        bar.get_by_role("button", name="Use it now").tap()
        page.wait_for_function("() => !window.isOld", timeout=60_000)
        page.locator("nav.bar").wait_for(timeout=60_000)
        until(page, KEEPS)
        check_there(page, said)
    meet(page)
    waits, taken = page.evaluate(THERE)
    assert waits == [] and on_server(address, "P061")["L03"] == [began + len(taken)] * 3
    assert [one for one in taken if int(one[1].split("-")[0]) % 2], "never in the middle of a write"
    assert f"// version {TAKE_OVERS - 1}" in page.evaluate(
        "async () => (await fetch('/words/screens.js')).text()")
