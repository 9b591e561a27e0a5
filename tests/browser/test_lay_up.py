"""Laying up alone at dusk with the boat's computer off; fitting out by the same list backwards."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PHONE, Phone
from tests.browser.keeping import GATHERED, keep_here, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_points_are_drained_and_closed_while_the_boats_computer_is_off(
        opened_chromium, start, stop, demo_store: Path, tmp_path: Path) -> None:
    store = Path(shutil.copy(demo_store, tmp_path / "spares.sqlite"))
    address = start(store)
    context = opened_chromium.new_context(**PHONE, service_workers="allow")
    phone = Phone(context, address)
    page = keep_here(phone)
    until(page, GATHERED)
    stop(address)
    page.reload()

    page.goto(f"{address}/#/work/lay-up")
    expect(page.locator('[data-piece="caution"]')).to_contain_text("non-toxic fluid")
    order = page.locator("[data-drain]").evaluate_all("all => all.map((one) => one.dataset.drain)")
    assert order[:3] == ["D01", "D02", "D03"]
    plug = page.locator('[data-drain="D02"]')
    plug.locator("summary").first.tap()
    expect(plug).to_contain_text("plug G 1/4")
    plug.get_by_role("button", name="Record it").tap()
    expect(plug).to_have_attribute("data-state", "doubtful")
    expect(plug).to_contain_text("probe the hole, see it run")
    plug.get_by_label("Hole probed, water seen to run").tap()
    plug.get_by_role("button", name="Record it").tap()
    expect(plug).to_have_attribute("data-state", "done")

    keel = page.locator('[data-drain="D10"]')
    keel.locator("summary").first.tap()
    keel.get_by_label("Tested: protects down to").fill("-25,5")
    keel.get_by_role("button", name="Record it").tap()
    expect(keel).to_contain_text("tested down to -25.5 °C")
    cock = page.locator('[data-drain="D01"]')
    cock.locator("summary").first.tap()
    cock.get_by_role("button", name="Record it").tap()
    expect(page.locator('[data-piece="tag"]')).to_contain_text("cock shut")

    page.get_by_role("link", name="Fitting-out: the same list backwards").tap()
    expect(page.locator("main h1")).to_have_text("Fitting-out")
    first = page.locator('[data-drain="D02"]')
    first.locator("summary").first.tap()
    expect(first).to_contain_text("Autumn left: 15 March 2027: drained, seen to run")
    for tick in ("Plug in", "Seal renewed", "Water on it, looked at: no leak"):
        first.get_by_label(tick).tap()
    first.get_by_role("button", name="Record it").tap()
    expect(first).to_have_attribute("data-state", "done")
    card = page.locator('[data-first-run="HBR"]')
    card.locator("summary").first.tap()
    expect(card).to_contain_text("Stop at once: no outlet water")
    expect(card.locator('[data-ticks="minute-15"]')).to_contain_text("water at the outlet")

    assert start(store, int(address.rsplit(":", 1)[1])) == address
    page.reload()
    page.get_by_text("not yet on the boat's computer").wait_for(state="detached", timeout=60_000)
    expect(page.locator('[data-drain="D02"]')).to_have_attribute("data-state", "done")
    context.close()
