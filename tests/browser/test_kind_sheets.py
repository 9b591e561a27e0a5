"""A person's own kind sheet on the phone: measured by, and told where it cannot be used."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone
from tests.domain.test_own_kind_sheets import GOOD

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def with_sheets(start: Callable[[Path], str], demo_store: Path,
                tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    """A server with a folder of own sheets beside its store: its address, and the folder."""
    folder = tmp_path_factory.mktemp("with-sheets")
    shutil.copy(demo_store, folder / "spares.sqlite")
    (folder / "sheets").mkdir()
    (folder / "sheets" / "pawl.toml").write_text(GOOD.replace("tol = 0.2", "tol = -1"),
                                                 encoding="utf-8")
    return start(folder / "spares.sqlite"), folder / "sheets"


def test_the_fit_place_names_a_faulty_sheet_until_it_is_mended(
        make_phone: Callable[..., Phone], with_sheets: tuple[str, Path]) -> None:
    address, folder = with_sheets
    phone = make_phone(address, service_workers="block")
    page = phone.open("#/fit")
    told = page.locator('[data-piece="sheet-faults"]')
    expect(told).to_contain_text("pawl.toml, attributes/length: a tolerance is not negative")
    expect(page.locator('[data-machine="ENG"]')).to_be_visible()
    (folder / "pawl.toml").write_text(GOOD, encoding="utf-8")
    page.reload()
    expect(page.locator('[data-machine="ENG"]')).to_be_visible()
    expect(told).to_have_count(0)
