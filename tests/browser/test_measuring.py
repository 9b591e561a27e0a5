"""The measuring sheet: drawings beside the rows, two candidates side by side, nothing lost."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Phone
from tests.demo.expected import VERDICTS

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def sheet(phone: Phone) -> Page:
    """The sheet of the main engine's coolant pump, empty."""
    page = phone.open("#/fit/ENG-04/measure")
    page.locator('[name="pilot_diameter"]').wait_for()
    return page


def _verdict(page: Page, which: str):
    return page.locator(f'[data-candidate="{which}"] [data-verdict]')


def _cell(page: Page, field: str):
    return page.locator(f'.measured .field:has([name="{field}"])')


def test_a_drawing_opens_beside_its_row_with_its_words(sheet: Page) -> None:
    row = sheet.locator('.measured:has([name="bolt_circle"])')
    button = row.locator(".drawing-button")
    expect(button).to_have_attribute("aria-expanded", "false")
    button.tap()
    large = row.locator("figure.drawing")
    expect(large).to_be_visible()
    expect(large).to_contain_text("s divided by the sine of 180 degrees")
    drawn = large.locator("svg")
    expect(drawn).to_have_attribute("aria-label", "Bolt circle from the spacing of two holes")
    box = drawn.bounding_box()
    assert box is not None and box["width"] > 280 and box["x"] + box["width"] <= 390
    button.tap()
    expect(large).to_have_count(0)


@pytest.mark.parametrize("light", ["deck", "below", "night"])
def test_a_drawing_has_the_ink_of_the_light(phone: Phone, light: str) -> None:
    chosen = "light => localStorage.setItem('spares.light', JSON.stringify(light))"
    phone.page.evaluate(chosen, light)
    page = phone.open("#/fit/ENG-04/measure")
    drawn = page.locator(".drawing-button svg").first
    drawn.wait_for()
    ink, words, paper = page.evaluate("""() => {
      const path = document.querySelector('.drawing-button svg [stroke="currentColor"]');
      return [getComputedStyle(path).stroke, getComputedStyle(document.body).color,
              getComputedStyle(document.body).backgroundColor];
    }""")
    assert ink == words != paper
    page.evaluate("() => localStorage.clear()")


def test_two_parts_stand_side_by_side_and_each_keeps_its_numbers(sheet: Page) -> None:
    sheet.get_by_role("button", name="Compare two parts side by side").tap()
    sheet.locator('[name="second"]').select_option("P008")
    expect(_verdict(sheet, "second.")).to_have_attribute("data-verdict", VERDICTS["ENG-04", "P008"])
    expect(_verdict(sheet, "first")).to_have_attribute("data-verdict", "not-known-yet")
    expect(_cell(sheet, "second.pilot_diameter")).to_contain_text("recorded: 61.97 mm")
    sheet.locator('[name="pilot_diameter"]').fill("63,5")
    expect(_cell(sheet, "pilot_diameter")).to_have_attribute("data-outcome", "stop")
    expect(_verdict(sheet, "first")).to_have_attribute("data-verdict", "does-not-fit")
    # another number for a recorded part stands in for the record, on this sheet alone
    sheet.locator('[name="second.bolt_circle"]').fill("95")
    expect(_verdict(sheet, "second.")).to_have_attribute("data-verdict", "does-not-fit")
    sheet.reload()
    expect(sheet.locator('[name="pilot_diameter"]')).to_have_value("63,5")
    expect(sheet.locator('[name="second.bolt_circle"]')).to_have_value("95")
    expect(_verdict(sheet, "second.")).to_have_attribute("data-verdict", "does-not-fit")
    # the numbers stay with the part that they were typed for
    sheet.locator('[name="first"]').select_option("P007")
    expect(sheet.locator('[name="pilot_diameter"]')).to_have_value("")
    expect(_verdict(sheet, "first")).to_have_attribute("data-verdict", VERDICTS["ENG-04", "P007"])


def test_two_columns_stay_inside_a_narrow_page(sheet: Page) -> None:
    sheet.get_by_role("button", name="Compare two parts side by side").tap()
    sheet.locator('[name="second"]').select_option("P008")
    expect(_verdict(sheet, "second.")).to_have_attribute("data-verdict", VERDICTS["ENG-04", "P008"])
    for width in (390, 320):
        sheet.set_viewport_size({"width": width, "height": 844})
        wide = sheet.evaluate("() => document.querySelector('main').scrollWidth")
        assert wide <= width
        left, right = (sheet.locator(f'[name="{name}"]').bounding_box()
                       for name in ("bolt_circle", "second.bolt_circle"))
        assert abs(left["y"] - right["y"]) < 2 and left["x"] + left["width"] < right["x"]
        assert min(left["width"], right["width"]) > 100


def test_a_part_is_compared_from_its_own_verdict(phone: Phone) -> None:
    page = phone.open("#/fit/ENG-04/with/P008")
    page.get_by_role("link", name="Compare two parts side by side").tap()
    expect(page.locator('[name="first"]')).to_have_value("P008")
    expect(_verdict(page, "first")).to_have_attribute("data-verdict", VERDICTS["ENG-04", "P008"])
    page.get_by_role("button", name="Only the first").tap()
    expect(page.locator('[name="second.bolt_circle"]')).to_have_count(0)
