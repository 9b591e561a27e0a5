"""A person's own spreadsheet on the page: columns put right, rows judged, one yes, one undo."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SHEET = ("Thing;Maker;Number;Where;Qty\nTow line;Kallbrook;KB 99;Forward hold;2\n"
         "Fender;;;Forward hold;lots of\nLamp glass;;;Forward hold;ca. 3\n")


def test_own_spreadsheet_is_looked_at_put_right_brought_in_and_undone(own_phone: Phone) -> None:
    page = own_phone.open("#/aboard/files")
    page.locator('[name="sheet"]').set_input_files([{
        "name": "old list.csv", "mimeType": "application/octet-stream", "buffer": SHEET.encode()}])
    part = page.locator('[data-piece="moving-in"]')
    expect(part).to_contain_text("3 rows: 0 good, 1 to look at, 2 skipped")     # of what things?
    expect(part).to_contain_text("Nothing is written yet")
    page.locator('[name="column-0"]').select_option("name")
    expect(part).to_contain_text("1 good, 1 to look at, 1 skipped")
    expect(part).to_contain_text("Lockers that will be made (1): Forward hold")
    part.get_by_text("To look at (1)").tap()
    expect(part).to_contain_text("Row 4, Lamp glass: “ca. 3” – more than a number → 3")
    part.get_by_label("Bring in the 1 to look at as well").tap()
    expect(part.get_by_role("button", name="Bring in 2 rows")).to_be_visible()
    with page.expect_download() as download:
        part.get_by_role("button", name="Save the row left out").tap()
    assert "Fender" in download.value.path().read_text("utf-8-sig")
    part.get_by_role("button", name="Bring in 2 rows").tap()
    expect(part).to_contain_text("2 rows brought in, 1 left out")
    own_phone.open("#/find?q=KB%2099")
    expect(page.locator("main")).to_contain_text("Tow line")
    page.locator('[data-piece="undo-bar"] button').tap()
    expect(page.locator("main")).not_to_contain_text("Tow line")
