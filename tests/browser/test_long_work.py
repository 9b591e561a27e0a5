"""Long work says how far it is, goes on while another place is looked at, and can be stopped."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Route, expect

from tests.browser.test_apart import KEEPS, until

pytestmark = pytest.mark.browser

#: Longer than an exchange may take without a word [s].
SLOW_S = 1.3


def test_a_long_first_fetching_counts_goes_on_and_can_be_stopped(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = phone.open("#/aboard/phone")

    def slowly(route: Route) -> None:
        time.sleep(SLOW_S)
        route.continue_()

    page.route("**/api/sync", slowly)
    page.locator("main button.main").tap()
    progress = page.locator('[data-piece="progress"]')
    expect(progress).to_contain_text("changes fetched from the boat's computer")
    expect(progress).to_contain_text(" of ")
    page.locator('nav.bar a[href="#/aboard"]').tap()        # it goes on meanwhile
    expect(page.locator("main h1")).to_have_text("Aboard")
    progress.get_by_role("button", name="Stop").tap()
    expect(progress).to_have_count(0)
    page.locator('[data-page="phone"]').tap()
    expect(page.locator("main")).to_contain_text("Stopped. What came is kept")
    assert not page.evaluate(KEEPS)
    page.unroute("**/api/sync")
    page.get_by_role("button", name="Meet").tap()
    expect(page.locator('[data-kept="none"]')).to_have_count(1)
    until(page, KEEPS)
