"""A service's page: nothing puts its cautions away, whatever the light; the screen stays on."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone

DEFERRAL = "Local rules and the maker's book decide; where a licence is required, leave it"

# Counts the screens that the page keeps on.
COUNT_LOCKS = """() => {
  window.held = 0;
  const release = async () => { window.held -= 1; };
  const request = async () => {
    window.held += 1;
    window.lock = { release, released: false };
    return window.lock;
  };
  Object.defineProperty(navigator, "wakeLock", { configurable: true, value: { request } });
}"""


@pytest.mark.browser
def test_cautions_stand_above_the_work_and_nothing_puts_them_away(looker: Phone) -> None:
    page = looker.open("#/work/S22")
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


@pytest.mark.browser
def test_the_screen_stays_on_while_a_job_card_is_open_and_no_longer(looker: Phone) -> None:
    looker.page.evaluate(COUNT_LOCKS)
    page = looker.open("#/work/S22")
    page.locator('[data-piece="job-card"]').wait_for()
    page.wait_for_function("() => window.held === 1")
    page.evaluate("""() => {    // a phone lets go while the page is out of sight
      window.lock.released = true;
      window.held = 0;
      document.dispatchEvent(new Event("visibilitychange"));
    }""")
    page.wait_for_function("() => window.held === 1")
    page.goto(f"{looker.address}/#/work")
    page.wait_for_function("() => window.held === 0")
    page.evaluate("() => { delete navigator.wakeLock; }")
