"""What a fit point asks for and the place where it is, written down on the phone."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_what_a_fit_point_asks_and_its_place_are_written_down_and_judged_by(
        own_phone: Phone) -> None:
    page = own_phone.open("#/aboard/points/ENG-04")
    page.get_by_role("link", name="Write down what it asks for").tap()
    form = page.locator('[data-form="measure"]')
    form.locator('[name="asks.shaft_diameter"]').fill("wide")
    expect(form.locator(".fault")).to_contain_text("does not begin with a number")
    form.locator('[name="asks.shaft_diameter"]').fill("16,5")
    expect(form.locator(".fault")).to_have_count(0)
    page.get_by_label("the maker's").check()
    page.get_by_role("button", name="Record", exact=True).tap()
    asked = page.locator('[data-piece="requires"]')
    expect(asked).to_contain_text("16.5 mm")
    page.get_by_role("link", name="Write down the place").tap()
    spot = page.locator('[data-form="place"]')
    spot.get_by_label("How hot it gets").fill("warm")
    spot.get_by_role("button", name="Record the place").tap()
    expect(spot.locator(".fault").first).to_contain_text("Write digits")
    spot.get_by_label("How hot it gets").fill("9000")
    spot.get_by_role("button", name="Record the place").tap()
    expect(spot.locator(".fault").first).to_contain_text("a number from -60 to 1200")
    spot.get_by_label("How hot it gets").fill("150")
    spot.get_by_label("What flows or stands there").select_option("diesel")
    spot.get_by_role("button", name="Record the place").tap()
    told = page.locator('[data-piece="spot"]')
    expect(told).to_contain_text("150 °C")
    expect(told).to_contain_text("diesel")
