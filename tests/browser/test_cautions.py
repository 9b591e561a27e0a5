"""The cautions of a service on the page: nothing puts them away, whatever the light."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone

DEFERRAL = "Local rules and the maker's book decide; where a licence is required, leave it"


@pytest.mark.browser
def test_cautions_stand_above_the_work_and_nothing_puts_them_away(phone: Phone) -> None:
    page = phone.open("#/work/S22")
    box = page.locator('[data-piece="caution"]')
    for text in ("stored energy", "rotating", "sea-cock", "fuel, petrol", "fumes", "mains",
                 DEFERRAL):
        expect(box).to_contain_text(text)
    assert box.locator("button, a, input, details, summary").count() == 0
    kit = page.locator("h2", has_text="Kit").first
    assert box.bounding_box()["y"] < kit.bounding_box()["y"]
    for light in ("deck", "below", "night"):
        page.evaluate("(light) => { document.documentElement.dataset.light = light; }", light)
        expect(box).to_be_visible()
    page.keyboard.press("Escape")
    page.reload()
    expect(box).to_contain_text(DEFERRAL)
    page.emulate_media(media="print")
    expect(box).to_be_visible()
    page.emulate_media(media="screen")
