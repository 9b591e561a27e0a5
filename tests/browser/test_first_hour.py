"""The first hour by taps: from an empty store to labelled lockers, machines and a first list."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone

pytestmark = [pytest.mark.browser, pytest.mark.slow]

#: Five sorts of machine from the list of starter sets, as a small vessel has them.
FIVE = ["diesel-engine", "generating-set", "bilge-pump", "heater", "toilet"]


def test_a_newcomer_comes_from_nothing_to_a_first_list(
        make_phone: Callable[..., Phone], start: Callable[..., str], tmp_path: Path) -> None:
    phone = make_phone(start(tmp_path / "spares.sqlite"), service_workers="block")
    page = phone.open()
    page.get_by_label("Her name").fill("Maagen")
    page.get_by_label("Her mark").fill("mgn")
    phone.tap('button:has-text("Begin with her")')
    phone.tap('[data-step="lockers"]')
    phone.tap('button:has-text("Put these in")')
    phone.tap('button:has-text("Name 10 lockers")')
    expect(page.locator('[data-step="lockers"]')).to_contain_text("10 lockers named")
    # of use by itself: a place is found by its word, and its label can be printed
    phone.tap('[data-step="labels"]')
    lockers = page.locator('a:text-is("Lockers")')
    expect(lockers).to_be_visible()
    expect(page.locator('a:text-is("Machines"), a:text-is("Bags")')).to_have_count(0)
    printed = phone.context.request.get(phone.address + str(lockers.get_attribute("href")))
    assert printed.body().startswith(b"%PDF-")
    for sort in FIVE:
        page.goto(f"{phone.address}/#/aboard/begin/machine")
        page.locator('[name="sort"]').select_option(sort)
        phone.tap('button:has-text("Add the machine")')
        expect(page.locator("main [data-point]").first).to_be_visible()
    page.goto(f"{phone.address}/#/aboard/begin")
    expect(page.locator('[data-step="machines"]')).to_contain_text("5 machines")
    phone.tap('[data-step="trip"]')
    phone.fill_day("leave", "1", "May", "2027")
    phone.fill_day("back", "31", "May", "2027")
    phone.tap('button:has-text("Make the list")')
    # nobody has dated a service yet: each is due before leaving, and no part is known to buy
    expect(page.locator("main")).to_contain_text("History unknown")
    page.goto(f"{phone.address}/#/find?q=lazarette")
    expect(page.locator("main")).to_contain_text("Lazarette")
