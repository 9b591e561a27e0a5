"""The first week on a vessel of unknown history: going round, also with the boat's computer off."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PHONE, Phone
from tests.browser.keeping import GATHERED, keep_here, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_walk_round_is_made_and_kept_while_the_boats_computer_is_off(
        opened_chromium, start, stop, demo_store: Path, tmp_path: Path) -> None:
    store = Path(shutil.copy(demo_store, tmp_path / "spares.sqlite"))
    address = start(store)
    context = opened_chromium.new_context(**PHONE, service_workers="allow")
    phone = Phone(context, address)
    page = keep_here(phone)
    until(page, GATHERED)
    stop(address)
    page.reload()

    page.goto(f"{address}/#/work/walk-round/WIN")
    expect(page.locator('[data-piece="caution"]')).to_contain_text("Nobody under or in line")
    plate = page.locator('[data-question="plate"]')
    expect(plate).to_have_attribute("data-state", "open")
    plate.locator("summary").tap()
    expect(plate).to_contain_text("Find the plate, wipe it")
    plate.get_by_role("button", name="Record the answer").tap()
    expect(plate.locator(".fault")).to_have_text("Please fill this in.")
    plate.get_by_text("by somebody, or on paper").tap()
    plate.get_by_label("Serial").fill("YM 12-9")
    page.reload()       # half typed, and kept
    plate.locator("summary").first.tap()
    expect(plate.get_by_label("Serial")).to_have_value("YM 12-9")
    plate.get_by_role("button", name="Record the answer").tap()
    expect(plate).to_have_attribute("data-state", "told")
    expect(plate.locator('[data-origin="told"]')).to_contain_text("Told: serial YM 12-9")

    page.goto(f"{address}/#/work/walk-round/ENG")
    belt = page.locator('[data-about="S04"]')
    belt.locator("summary").tap()
    expect(belt.locator('[data-piece="first-look"]')).to_contain_text("cracks, glaze")
    belt.locator('[name="done_on-year"]').fill("2026")
    belt.get_by_role("button", name="Record the answer").tap()
    expect(belt).to_have_attribute("data-state", "seen")

    page.goto(f"{address}/#/work/walk-round")
    page.get_by_text("Set the baseline", exact=True).first.tap()
    page.locator('[data-form="baseline"] button.main').tap()
    expect(page.locator('[data-piece="baseline"]')).to_contain_text("counted from 15 March 2027")
    page.goto(f"{address}/#/work")
    expect(page.locator('[data-service="S33"]')).to_contain_text(
        "counted from the baseline, not from a known service")
    expect(page.locator('[data-service="S33"]')).to_contain_text("History unknown")

    assert start(store, int(address.rsplit(":", 1)[1])) == address
    page.reload()
    page.get_by_text("not yet on the boat's computer").wait_for(state="detached", timeout=60_000)
    page.goto(f"{address}/#/work/walk-round/WIN")
    expect(page.locator('[data-question="plate"]')).to_have_attribute("data-state", "told")
    context.close()
