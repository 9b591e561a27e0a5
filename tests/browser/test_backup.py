"""How old the last backup is, on the page where a person looks at all that is aboard."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import ROOT, TODAY

pytestmark = pytest.mark.browser


def test_aboard_says_how_old_the_last_backup_is(make_phone: Callable[..., Any],
                                                start: Callable[..., str], demo_store: Path,
                                                tmp_path: Path) -> None:
    store = tmp_path / "spares.sqlite"
    store.write_bytes(demo_store.read_bytes())
    address = start(store)
    line = make_phone(address).open("#/aboard").locator('[data-piece="last-backup"]')
    expect(line).to_have_attribute("data-age", "never")
    expect(line).to_contain_text("No backup of her records has been made yet")
    kept = {name: value for name, value in os.environ.items() if not name.startswith("SPARES_")}
    subprocess.run([sys.executable, "-m", "spares", "--store", str(store), "backup",
                    str(tmp_path / "kept.zip")], cwd=ROOT, check=True, env=kept,
                   capture_output=True, timeout=60)
    line = make_phone(address).open("#/aboard").locator('[data-piece="last-backup"]')
    days = max(0, (date.fromisoformat(TODAY) - date.today()).days)  # her day is set
    expect(line).to_have_attribute("data-age", str(days))
    expect(line).to_contain_text("Last backup:")
    expect(line).to_contain_text("nothing recorded since")
