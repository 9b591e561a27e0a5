"""A joint with twelve studs, re-made with the boat's computer off; and a new joint sheet."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PHONE, Phone
from tests.browser.keeping import GATHERED, keep_here, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_joint_sheet_is_read_and_ticked_while_the_boats_computer_is_off(
        opened_chromium, start, stop, demo_store: Path, tmp_path: Path) -> None:
    address = start(Path(shutil.copy(demo_store, tmp_path / "spares.sqlite")))
    context = opened_chromium.new_context(**PHONE, service_workers="allow")
    phone = Phone(context, address)
    page = keep_here(phone)
    until(page, GATHERED)
    stop(address)
    page.reload()
    page.goto(f"{address}/#/work/S08")
    sheet = page.locator('[data-joint="J1"]')
    expect(sheet).to_contain_text("12 × P018 Conical spring washer M10, hollow side to the flange")
    sheet.get_by_role("link", name="Open in big type").tap()
    expect(page.locator('[data-piece="caution"]')).to_contain_text(
        "Values only from the maker's book")
    # twelve in two rows of six: the four in the middle have the first four turns
    for place in ("3", "4", "9", "10"):
        assert int(page.locator(f'[data-place="{place}"]').get_attribute("data-turn")) <= 4
    expect(page.locator("[data-torque]")).to_have_attribute("data-torque", "not-known")
    page.get_by_label("All at 30 % of the torque").tap()
    page.reload()
    expect(page.get_by_label("All at 30 % of the torque")).to_be_checked()
    context.close()


def test_a_joint_sheet_is_written_at_its_fit_point(own_phone: Phone) -> None:
    page = own_phone.open("#/aboard/points/HBR-06")
    page.locator('[data-piece="joints"]').get_by_role("link", name="New joint sheet").tap()
    form = page.locator('[data-form="joint"]')
    form.get_by_role("button", name="Record the joint sheet").tap()
    expect(form.locator(".fault").first).to_have_text("Please fill this in.")
    form.get_by_label("Which joint").fill("End cap")
    form.get_by_label("Pieces, one a line").fill("P040\n8 x bolt M8, A4\ncap of aluminium")
    form.get_by_label("How many fasteners").fill("8")
    form.get_by_label("Thread").fill("M8")
    form.get_by_label("Class of the screw").fill("A4-70")
    form.get_by_role("button", name="Record the joint sheet").tap()
    page.get_by_role("link", name="J2: End cap").tap()
    expect(page.locator('[data-torque="estimate"]')).to_contain_text("Estimate only")
    expect(page.locator('[data-piece="joint-warnings"]')).to_contain_text("insulating paste")
    expect(page.locator('[data-place="5"]')).to_have_attribute("data-turn", "2")
