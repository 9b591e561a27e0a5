"""Does axe-core find nothing at WCAG 2.2 AA, on every place, in every light, narrow and enlarged?

axe-core (MPL-2.0) comes with the package axe-playwright-python; its rules are those of its
documentation, chosen by the tags of WCAG 2.0, 2.1 and 2.2 at A and AA.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from importlib.resources import files
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page

from tests.browser.conftest import Phone
from tests.browser.test_apart import PLACES
from tests.browser.test_page import UNFOLD
from tests.conftest import LONG

pytestmark = pytest.mark.browser

LIGHTS = ("deck", "below", "night")
#: Pages with other pieces on them than the list of all addresses opens.
BESIDES = ["find?q=EMJR", "find?q=imp har", "find?q=EMRJ", "part/P119", "part/P056",
           "fit/ENG-04", "fit/ENG-04/with/P119", "aboard/people", "aboard/across?part=P034",
           "aboard/plan?locker=L17",
           "aboard/plan?deck=Below%20deck&do=draw", "aboard/plan?do=place"]
#: One place of each sort of piece; all of them with `--long`.
SAMPLE = ["find?q=EMJR", "part/P034", "fit/ENG-04/with/P008", "fit/HBR-04/measure", "work/S12",
          "restock/T1", "restock/new", "aboard/light",
          "aboard/plan?do=place"]
AA = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]

ASK = """async ([tags, rules]) => {
  const only = rules ? { type: "rule", values: rules } : { type: "tag", values: tags };
  const found = await axe.run(document, { runOnly: only, resultTypes: ["violations"],
    iframes: false });
  return found.violations.flatMap((one) => one.nodes.map((node) =>
    `${one.id}: ${node.target.join(" ")}: ${node.any.concat(node.all, node.none)
      .map((check) => check.message).join("; ")}`));
}"""
SETTLED = """() => document.querySelector("main h1")
  && document.querySelector("main").innerText.trim().length > 20"""
SIDEWAYS = """() => Math.max(document.documentElement.scrollWidth - innerWidth,
  document.querySelector("main").scrollWidth - document.querySelector("main").clientWidth)"""
#: Buttons, and the field with the four characters of a code, that do not hold their words.
CUT = """() => [...document.querySelectorAll("button, a.button, #search")]
  .filter((one) => one.checkVisibility() && !(one.value?.length > 4)
    && one.scrollWidth > one.clientWidth + 1)
  .map((one) => `cut off: ${one.value || one.innerText}`)"""


@pytest.fixture
def asked(make_phone: Callable[..., Phone], shared: BrowserContext, address: str) -> Page:
    """A phone with axe-core on its page."""
    phone = make_phone(address, shared)
    page = phone.open("#/find")
    page.evaluate((files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8"))
    return page


def _show(page: Page, place: str) -> None:
    page.evaluate("(place) => { location.hash = `#/${place}`; }", place)
    page.wait_for_function(SETTLED)
    page.wait_for_load_state("networkidle")


def _faults(page: Page, rules: list[str] | None = None) -> list[str]:
    found: Any = page.evaluate(ASK, [AA, rules])
    return list(found)


def _in_light(page: Page, light: str) -> None:
    page.evaluate("(light) => { document.documentElement.dataset.light = light; }", light)


def test_axe_sees_what_is_wrong(asked: Page) -> None:
    asked.evaluate("""() => {
      const grey = document.createElement("p");
      grey.textContent = "hardly to be read";
      grey.setAttribute("class", "quiet");
      document.querySelector("main").append(grey, document.createElement("input"));
      document.documentElement.style.setProperty("--quiet", "#999999");
    }""")
    found = {fault.partition(":")[0] for fault in _faults(asked)}
    assert {"color-contrast", "label"} <= found


def _does_not_hold(page: Page) -> list[str]:
    page.evaluate(UNFOLD)
    over = page.evaluate(SIDEWAYS)
    found: list[str] = page.evaluate(CUT)
    return [f"scrolls sideways by {over} px", *found] if over > 0 else found


def test_axe_finds_nothing_on_any_place_in_any_light_narrow_or_enlarged(asked: Page) -> None:
    """Narrow is 320 px (WCAG 2.2, 1.4.10), enlarged is text at 200 % on a phone (1.4.4)."""
    found = {}
    for place in [*PLACES, *BESIDES] if LONG else SAMPLE:
        asked.set_viewport_size({"width": 320, "height": 640})
        _show(asked, place)
        _in_light(asked, "deck")
        faults = _faults(asked)
        for light in LIGHTS[1:]:
            _in_light(asked, light)
            faults += [f"{light} {fault}" for fault in _faults(asked, ["color-contrast"])]
        _in_light(asked, "deck")
        asked.set_viewport_size({"width": 390, "height": 844})
        asked.evaluate("() => { document.documentElement.style.fontSize = '225%'; }")
        faults += [f"enlarged: {fault}" for fault in
                   [*_faults(asked, ["target-size", "color-contrast"]), *_does_not_hold(asked)]]
        asked.evaluate("() => { document.documentElement.style.fontSize = ''; }")
        if faults:
            found[place] = faults
    assert not found, json.dumps(found, indent=1)
