"""A page and a server of different versions: old page with new server, and the reverse."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.boat import Boat, copied_program
from tests.browser.conftest import ROOT
from tests.browser.keeping import IN_BOX, KEEPS, keep_here, on_server, until
from tests.client.shell_list import shell_text

pytestmark = [pytest.mark.browser, pytest.mark.slow]

NEXT_SCHEMA = "SCHEMA = 2"
BOX_STEP = """"texts", "about"].forEach((name) => db.createObjectStore(name)),
"""
NEXT_STEP = """    (db) => db.createObjectStore("later"),
"""
BOX = """async () => {
  const { keeper } = await import("/kept/kept.js");
  const { withKept } = await import("/kept/open.js");
  const box = await withKept("box", keeper.value.vessel, (db) => db);
  return [box.version, box.objectStoreNames.contains("later")];
}"""
TAKE = 'button:has-text("Took 1")'
NEW_TAKE = 'button:has-text("Took one")'
STOP = """async () => (await import("/kept/kept.js")).exchange.value.stop"""
SCHEMA = """async () => (await import("/sync/exchange.js")).SCHEMA"""


@pytest.fixture(scope="module")
def next_version(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program as it may be after this one: another schema, and other words on a button."""
    folder = copied_program(tmp_path_factory.mktemp("next"))
    for name, old, new in (("spares/sync/request.py", "SCHEMA = 1", NEXT_SCHEMA),
                           ("static/sync/exchange.js", "SCHEMA = 1", NEXT_SCHEMA),
                           ("static/kept/open.js", BOX_STEP, BOX_STEP + NEXT_STEP),
                           ("static/words/screens.js", '"Took 1"', '"Took one"')):
        text = (folder / name).read_text()
        assert text.count(old) == 1, name
        (folder / name).write_text(text.replace(old, new))
    (folder / "static/shell.js").write_text(shell_text(folder / "static"))
    return folder


@pytest.fixture
def boat(demo_store: Path, tmp_path: Path) -> Iterator[Boat]:
    """A boat whose computer this test may change."""
    found = Boat(Path(shutil.copy(demo_store, tmp_path / "spares.sqlite")))
    yield found
    found.stop()


def _half_typed(page: Page) -> None:
    page.get_by_role("button", name="More").tap()
    page.get_by_role("button", name="Put", exact=True).tap()
    page.locator('[name="quantity"]').fill("3")
    page.locator('[name="note"]').fill("from the quay")


def _taken(page: Page, button: str, left: str) -> None:
    """Take one, see it, and wait until the boat's computer has it."""
    page.locator(button).tap()
    expect(page.locator('[data-line="count"]')).to_contain_text(left)
    until(page, f"async () => (await ({IN_BOX})()).length === 0")


def _meet(page: Page) -> None:
    """Meet the boat's computer, once what is under way is done: meanwhile nothing is begun."""
    until(page, """async () => {
      const { exchange, syncNow } = await import("/kept/kept.js");
      if (exchange.value.isSyncing) return false;
      await syncNow();
      return true;
    }""")


def test_an_old_page_hands_in_to_a_new_server_and_is_asked_to_be_renewed(
        make_phone: Callable[..., Any], boat: Boat, next_version: Path) -> None:
    address = boat.run(ROOT)
    phone = make_phone(address)
    page = keep_here(phone)
    page.goto(f"{address}/#/part/P078?at=L07")
    page.reload()
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    _half_typed(page)
    boat.run(next_version)
    _taken(page, TAKE, "39 here")
    assert on_server(address, "P078") == {"L07": [39, 39, 39]}
    bar = page.locator('[data-piece="update"]')
    expect(bar).to_contain_text("New version ready.")
    assert page.evaluate(SCHEMA) == 1, "it did not take over by itself"
    # later: the old page goes on, also after a reload, and hands in what is made on it
    bar.get_by_role("button", name="Later").tap()
    expect(bar).to_have_count(0)
    page.reload()
    expect(page.locator(TAKE)).to_be_visible()
    _taken(page, TAKE, "38 here")
    assert on_server(address, "P078") == {"L07": [38, 38, 38]}
    # now, while a change waits in the box: it is there after the box was brought up a step, the
    # text is where it was, and the new page has all rows
    expect(bar).to_contain_text("New version ready.")
    boat.stop()
    page.wait_for_timeout(700)     # a touch that follows at once is taken for wet glass
    page.locator(TAKE).tap()
    expect(page.locator('[data-line="count"]')).to_contain_text("37 here")
    waits = page.evaluate(IN_BOX)
    assert [change["as"] for change in waits] == ["waiting"] and page.evaluate(BOX) == [1, False]
    bar.get_by_role("button", name="Use it now").tap()
    expect(page.locator(NEW_TAKE)).to_be_visible()
    expect(bar).to_have_count(0)
    until(page, KEEPS)
    assert page.evaluate(BOX) == [2, True]
    assert page.evaluate(IN_BOX) == waits
    boat.run(next_version)
    page.get_by_role("button", name="More").tap()
    page.get_by_role("button", name="Put", exact=True).tap()
    expect(page.locator('[name="quantity"]')).to_have_value("3")
    expect(page.locator('[name="note"]')).to_have_value("from the quay")
    until(page, KEEPS)
    _meet(page)
    assert page.evaluate(SCHEMA) == 2
    assert page.evaluate(STOP) is None
    _taken(page, 'button:has-text("Put it there")', "40 here")
    assert on_server(address, "P078") == {"L07": [40, 40, 40]}


def test_a_new_page_with_an_old_server_keeps_its_changes_until_that_is_updated(
        make_phone: Callable[..., Any], boat: Boat, next_version: Path) -> None:
    address = boat.run(next_version)
    phone = make_phone(address)
    page = keep_here(phone)
    page.goto(f"{address}/#/part/P078?at=L07")
    page.reload()
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    until(page, KEEPS)
    boat.run(ROOT)
    phone.tap(NEW_TAKE)
    expect(page.locator('[data-line="count"]')).to_contain_text("39 here")
    page.goto(f"{address}/#/aboard/phone")
    expect(page.locator("main")).to_contain_text("The boat's computer is older than this page")
    expect(page.locator('[data-kept="waiting"]')).to_have_count(1)
    assert on_server(address, "P078") == {"L07": [40, 40, 40]}, "nothing half taken"
    page.reload()       # the old server's page is not put in the place of this one by itself
    expect(page.locator('[data-kept="waiting"]')).to_have_count(1)
    assert page.evaluate(SCHEMA) == 2
    page.goto(f"{address}/#/part/P078?at=L07")
    expect(page.locator('[data-line="count"]')).to_contain_text("39 here")
    boat.run(next_version)
    _meet(page)
    until(page, f"async () => (await ({IN_BOX})()).length === 0")
    assert on_server(address, "P078") == {"L07": [39, 39, 39]}


def test_using_the_new_version_in_one_tab_renews_the_other_and_loses_no_text(
        make_phone: Callable[..., Any], boat: Boat, next_version: Path) -> None:
    """Old pages with new modules would break, so all tabs go over together."""
    address = boat.run(ROOT)
    phone = make_phone(address)
    first = phone.open("#/part/P078?at=L07")
    first.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    first.reload()
    first.wait_for_function("() => navigator.serviceWorker.controller !== null")
    second = phone.context.new_page()
    second.goto(f"{address}/#/part/P041?at=L17")
    second.get_by_role("button", name="More").wait_for()
    _half_typed(second)
    boat.run(next_version)
    first.evaluate("() => navigator.serviceWorker.getRegistration()"
                   ".then((one) => one.update()).then(() => true)")
    for page in (first, second):
        expect(page.locator('[data-piece="update"]')).to_contain_text("New version ready.")
    first.get_by_role("button", name="Use it now").tap()
    for page in (first, second):
        expect(page.locator(NEW_TAKE)).to_be_visible()
        expect(page.locator('[data-piece="update"]')).to_have_count(0)
    second.get_by_role("button", name="More").tap()
    second.get_by_role("button", name="Put", exact=True).tap()
    expect(second.locator('[name="note"]')).to_have_value("from the quay")
