"""Keyboard alone: `/` to the field, Tab and Enter for the rest, the focus always in sight."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import VERDICT, Phone
from tests.browser.test_page import SETTLED

pytestmark = pytest.mark.browser

# What has the focus, and whether the bar at the side or below, or the dock, lies over it.
FOCUS = """(wanted) => {
  const now = document.activeElement;
  if (now === document.body) return [false, false];      // the browser's own bar has it
  const box = now.getBoundingClientRect();
  const point = document.elementFromPoint(
    box.left + box.width / 2, box.top + Math.min(box.height, 20) / 2);
  if (now.contains(point)) return [now.matches(wanted), false];
  const over = [...document.querySelectorAll(".bar, .dock")].filter((one) => !one.contains(now))
    .map((one) => one.getBoundingClientRect())
    .some((one) => box.top < one.bottom && box.bottom > one.top && box.left < one.right
      && box.right > one.left);
  return [now.matches(wanted), over];
}"""


def _tab_to(page: Page, wanted: str) -> None:
    """Press Tab until the focus is on what is wanted; on its way it is never hidden (2.4.11)."""
    for _ in range(80):
        page.keyboard.press("Tab")
        is_there, is_hidden = page.evaluate(FOCUS, wanted)
        assert not is_hidden, f"the focus is under a bar on the way to {wanted}"
        if is_there:
            return
    raise AssertionError(f"Tab does not come to {wanted}")


def test_the_three_named_uses_work_by_keyboard_alone(make_phone: Callable[..., Phone],
                                                     address: str) -> None:
    desk = make_phone(address, viewport={"width": 1280, "height": 800}, has_touch=False,
                      is_mobile=False)
    page = desk.open("#/work")
    page.wait_for_function(SETTLED)
    page.keyboard.press("/")
    expect(page.locator("#search")).to_be_focused()
    assert page.evaluate("() => location.hash") == "#/find"
    page.keyboard.type("EMJR")
    expect(page.locator('[data-part="P034"]')).to_be_visible()
    for _ in range(40):
        page.keyboard.press("Shift+Tab")
        if page.evaluate("() => document.activeElement.dataset.part") == "P034":
            break
    outline = page.evaluate("() => getComputedStyle(document.activeElement).outlineWidth")
    assert outline == "3px"
    page.keyboard.press("Enter")
    expect(page.locator('[data-piece="answer-card"][data-part="P034"]')).to_be_visible()
    expect(page.locator("h1")).to_be_focused()
    page.keyboard.press("/")
    page.keyboard.type("x")
    page.keyboard.press("Escape")
    expect(page.locator("#search")).to_have_value("")
    _tab_to(page, 'nav a[href="#/restock"]')
    page.keyboard.press("Enter")
    page.locator("[data-trip]").first.wait_for()
    _tab_to(page, "[data-trip]")
    page.keyboard.press("Enter")
    expect(page.locator('[data-piece="short"] [data-line]').first).to_be_visible()
    page.keyboard.press("/")
    _tab_to(page, 'nav a[href="#/fit"]')
    page.keyboard.press("Enter")
    expect(page.locator("#search")).to_be_focused()
    page.keyboard.type("AVD3")
    page.locator('[data-point="ENG-04"]').wait_for()
    _tab_to(page, '[data-point="ENG-04"]')
    page.keyboard.press("Enter")
    page.locator('main [data-part="P008"]').first.wait_for()
    _tab_to(page, '[data-part="P008"]')
    page.keyboard.press("Enter")
    expect(page.locator(VERDICT)).to_have_attribute("data-verdict", "fits-with-changes")


def test_the_focus_is_never_under_the_bar_below_a_phones_page(looker: Phone) -> None:
    """WCAG 2.2, 2.4.11, where the bar and the dock lie below what scrolls; a small phone's room."""
    looker.page.set_viewport_size({"width": 320, "height": 640})
    for route in ("#/find?q=imp", "#/part/P037", "#/restock/T1", "#/work/S22"):
        page = looker.open(route)
        page.wait_for_function(SETTLED)
        places = set()
        for _ in range(40):
            page.keyboard.press("Tab")
            place, is_hidden = page.evaluate(f"""() => {{
              const box = document.activeElement.getBoundingClientRect();
              return [`${{Math.round(box.top)}} ${{Math.round(box.left)}}`, ({FOCUS})("body")[1]];
            }}""")
            assert not is_hidden, f"the focus is under a bar on {route}, at {place}"
            places.add(place)
        assert len(places) > 5, f"Tab stays where it was on {route}"
    looker.page.set_viewport_size({"width": 390, "height": 844})
