"""A store that shows its damage while the server runs: the page says so, and keeps what is said."""

from __future__ import annotations

import json
import urllib.error
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


def test_aboard_says_that_nothing_more_is_written_and_a_tap_waits(
        make_phone: Callable[..., Any], start: Callable[..., str], demo_store: Path,
        tmp_path: Path) -> None:
    store = tmp_path / "spares.sqlite"
    # Text rots inside a row of the log: every page of the file is whole.
    whole = demo_store.read_bytes()
    store.write_bytes(whole.replace(b'"Lube oil filter"', b'"Lube oil filled"', 1))
    address = start(store)
    with pytest.raises(urllib.error.HTTPError) as told:
        urllib.request.urlopen(f"{address}/api/check", timeout=30)
    with told.value:
        assert json.load(told.value)["stop"] == "damaged"
    phone = make_phone(address, service_workers="block")
    page = phone.open("#/aboard")
    alert = page.locator("main [role=alert]")
    expect(alert).to_contain_text("records nothing more")
    expect(alert).to_contain_text("spares restore FILE")
    page.goto(f"{address}/#/part/P034?at=L17")
    page.get_by_role("button", name="Took 1").tap()
    expect(page.locator("body")).to_contain_text("The store is damaged")
    waiting = page.evaluate("async () => (await import('/outbox.js')).outbox.value.length")
    assert waiting == 1
