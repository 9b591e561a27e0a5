"""How old the last backup is, on the page where a person looks at all that is aboard."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import TODAY
from tests.browser.forked import begin

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_aboard_says_how_old_the_last_backup_is(make_phone: Callable[..., Any],
                                                start: Callable[..., str], demo_store: Path,
                                                tmp_path: Path) -> None:
    store = tmp_path / "spares.sqlite"
    store.write_bytes(demo_store.read_bytes())
    address = start(store)
    page = make_phone(address, service_workers="block").open("#/aboard")
    line = page.locator('[data-piece="last-backup"]')
    expect(line).to_have_attribute("data-age", "never")
    expect(line).to_contain_text("No backup of her records has been made yet")
    backup = begin("backup", str(tmp_path / "kept.zip"),
                   settings={**os.environ, "SPARES_STORE": str(store)})
    backup.join(timeout=60)
    assert backup.exitcode == 0
    page.reload()
    days = max(0, (date.fromisoformat(TODAY) - date.today()).days)  # her day is set
    expect(line).to_have_attribute("data-age", str(days))
    expect(line).to_contain_text("Last backup:")
    expect(line).to_contain_text("nothing recorded since")
