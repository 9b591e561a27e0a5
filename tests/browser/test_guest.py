"""A guest's phone looks on: no page shows it a form that would only be refused."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Phone
from tests.browser.test_apart import PLACES
from tests.browser.test_axe import SETTLED
from tests.conftest import LONG

pytestmark = [pytest.mark.browser, pytest.mark.slow]

AS = """async (role) => {
  const { device, exchange } = await import("/kept/kept.js");
  device.value = role && { dev: "d", name: "Guest", role, grants: [], vessel: { mark: "TGL" },
    vessels: [] };
  if (!role) exchange.value = { ...exchange.value, stop: null };
}"""
#: Forms that write nothing down.
HARMLESS = {"who-has", "counting-game", "measure"}
WRITES = """() => [...document.querySelectorAll(
    "main form, main [data-act], main [data-do], main [data-keep], main input[type=file]")]
  .map((one) => one.dataset.form ?? one.name ?? one.dataset.act ?? one.textContent.trim())"""
#: Pages that are a form as a whole: a guest reads whose they are.
WHOLE_FORMS = {"restock/T1/edit", "work/reading/HBR", "restock/new", "aboard/machines/HBR/missing",
               "work/joint/J1/edit", "aboard/points/ENG-09/joint", "aboard/points/ENG-04/asks",
               "aboard/points/ENG-04/place", "aboard/counts/L17", "aboard/machines/ENG/limits",
               "restock/T1/days", "work/gauge/ENG", "aboard/parts/new", "aboard/begin/lockers",
               "aboard/begin/machine"}
#: One of each sort of piece; all of them with `--long`.
SAMPLE = ["part/P041", "aboard/machines/HBR", "work/walk-round/HBR", "work/lay-up", "work/S12",
          "work/joint/J1", "restock/T1", "aboard/stranded", "restock/new", "work/reading/HBR"]


@pytest.fixture
def guest(looker: Phone) -> Iterator[Page]:
    looker.page.evaluate(AS, "guest")
    yield looker.page
    looker.page.evaluate(AS, None)


def test_no_page_shows_a_guest_what_would_only_be_refused(guest: Page) -> None:
    found = {}
    for place in PLACES if LONG else SAMPLE:
        guest.evaluate("(place) => { location.hash = `#/${place}`; }", place)
        guest.wait_for_function(SETTLED)
        guest.wait_for_load_state("networkidle")
        if place in WHOLE_FORMS:
            expect(guest.locator("[data-whose]")).to_be_visible()
        if left := [form for form in guest.evaluate(WRITES) if form not in HARMLESS]:
            found[place] = left
    assert not found, json.dumps(found, indent=1)


def test_rights_are_those_aboard_the_vessel_that_was_chosen(guest: Page) -> None:
    assert guest.evaluate("""async () => {
      const { device, isCrew, isSkipper, maySet, mayTake } = await import("/kept/kept.js");
      const { vessel: chosen } = await import("/state.js");
      const now = device.value;
      const rights = () => [isSkipper(), isCrew(), mayTake(), maySet("part", "no")];
      device.value = { ...now, grants: ["take"], vessel: { id: "a", mark: "TGL" }, vessels: [
        { id: "a", mark: "TGL", role: "guest" }, { id: "b", mark: "BBB", role: "skipper" },
        { id: "c", mark: "CCC", role: "guest" }] };
      const found = [rights()];
      for (const mark of ["BBB", "CCC"]) {
        chosen.value = mark;
        found.push(rights());
      }
      chosen.value = null;
      device.value = now;
      return found;
    }""") == [[False, False, True, False], [True, True, True, True], [False, False, False, False]]
