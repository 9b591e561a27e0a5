"""Before an exchange: what it needs and strands; afterwards: what becomes of what is left over."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone
from tests.demo.expected import P008_STRANDS

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_before_it_is_bought_a_pump_says_what_it_needs_and_what_it_would_strand(
        phone: Phone) -> None:
    page = phone.open("#/fit/ENG-04/with/P008")
    needs = page.locator('[data-piece="changes"] p[data-aboard="0"]')
    expect(needs.first).to_contain_text("Not aboard")
    for part, count in P008_STRANDS.items():
        expect(page.locator('[data-piece="would-strand"]')).to_contain_text(f"{part} ×{count}")
    phone.tap('button:has-text("Exchange it now")')
    page.locator('[name="old"]').select_option("landed")
    phone.tap('button:has-text("Look at it")')
    sure = page.locator('[data-piece="exchange-sure"]')
    expect(sure.locator('[data-piece="changes"]')).to_be_visible()
    expect(sure.locator('[data-piece="would-strand"]')).to_be_visible()
    phone.tap('[data-piece="exchange-sure"] button:has-text("Cancel")')


def test_a_left_over_is_kept_given_or_sold_with_a_note_and_undone(own_phone: Phone) -> None:
    page = own_phone.open("#/aboard/stranded")
    line = page.locator('[data-left-over="P056"]')
    expect(line.locator("summary")).to_contain_text("Not decided yet")
    line.locator("summary").tap()
    expect(line.get_by_role("button", name="Record it")).to_be_disabled()
    line.get_by_label("Sell it").tap()
    line.get_by_label("Note").fill("boatyard, 20 EUR")
    page.reload()       # half typed, and kept
    line.locator("summary").tap()
    expect(line.get_by_label("Note")).to_have_value("boatyard, 20 EUR")
    line.get_by_role("button", name="Record it").tap()
    expect(line.locator("summary")).to_contain_text("Sell it: boatyard, 20 EUR")
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("P056, left over: sell it")
    own_phone.open("#/part/P056")
    expect(page.locator('[data-left-over="P056"] summary')).to_contain_text("Sell it")
    own_phone.tap('[data-piece="undo-bar"] button')
    expect(page.locator('[data-left-over="P056"] summary')).to_contain_text("Not decided yet")
