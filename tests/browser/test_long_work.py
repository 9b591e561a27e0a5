"""Long work says how far it is, goes on while another place is looked at, and can be stopped."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.keeping import KEEPS, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

#: Longer than an exchange may take without a word [ms]; so few rows are asked for at once.
SLOW_MS, FEW = 1300, 150


def _wait_for(page: Page, held: list[Route]) -> None:
    while not held:
        page.wait_for_timeout(50)


def _pass_on(page: Page, held: list[Route]) -> None:
    """Let the next exchange through, asking for few rows."""
    _wait_for(page, held)
    route = held.pop(0)
    asked = json.loads(route.request.post_data or "{}")
    route.continue_(post_data=json.dumps({**asked, "want": FEW}))


def test_a_long_first_fetching_counts_goes_on_and_can_be_stopped(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = phone.open("#/aboard/phone")
    held: list[Route] = []
    page.route("**/api/sync", lambda route: held.append(route))
    page.locator("main button.main").tap()
    _wait_for(page, held)
    page.wait_for_timeout(SLOW_MS)
    _pass_on(page, held)
    progress = page.locator('[data-piece="progress"]')
    expect(progress).to_contain_text(f"{FEW} of ")
    page.locator('nav.bar a[href="#/aboard"]').tap()        # it goes on meanwhile
    expect(page.locator("main h1")).to_have_text("Aboard")
    _pass_on(page, held)
    expect(progress).to_contain_text(f"{2 * FEW} of ")
    progress.get_by_role("button", name="Stop").tap()
    _pass_on(page, held)
    expect(progress).to_have_count(0)
    page.locator('[data-page="phone"]').tap()
    expect(page.locator("main")).to_contain_text("Stopped. What came is kept")
    expect(page.locator('[data-piece="put-off"]')).to_contain_text("was stopped")
    page.evaluate("dispatchEvent(new Event('online'))")
    page.wait_for_timeout(200)
    assert not page.evaluate(KEEPS) and not held
    page.unroute("**/api/sync")
    page.get_by_role("button", name="Meet").tap()
    expect(page.locator('[data-kept="none"]')).to_have_count(1)
    until(page, KEEPS)
