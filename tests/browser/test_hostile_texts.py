"""Texts that would be a script, in every field that takes text, on every page that shows one."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.browser.conftest import Phone
from tests.browser.test_page import ADDRESSES, _at
from tests.hostile import HOSTILE, make_hostile

pytestmark = [pytest.mark.browser, pytest.mark.slow]

RAN = "() => ({ ran: window.ran ?? null, images: document.querySelectorAll('[src=x]').length })"


@pytest.fixture(scope="module")
def hostile_address(start: Callable[..., str], demo_store: Path,
                    tmp_path_factory: pytest.TempPathFactory) -> str:
    path = Path(shutil.copy(demo_store, tmp_path_factory.mktemp("hostile") / "spares.sqlite"))
    make_hostile(path)
    return start(path)


def test_s35_no_text_of_the_store_becomes_a_script_on_any_page(
        make_phone: Callable[..., Phone], hostile_address: str) -> None:
    phone = make_phone(hostile_address, service_workers="block")
    dialogs: list[str] = []
    phone.page.on("dialog", lambda one: (dialogs.append(one.message), one.dismiss()))
    showed = []
    for route in (*ADDRESSES, "#/find?q=onerror", "#/aboard/phone", "#/aboard/people"):
        page = _at(phone, route)
        assert page.evaluate(RAN) == {"ran": None, "images": 0}, route
        if "onerror=" in page.locator("body").inner_text():
            showed.append(route)
    assert dialogs == []
    # The hostile text was there to be read, as text, wherever names are shown.
    assert len(showed) > len(ADDRESSES) // 2, showed


def test_s35_what_is_typed_on_the_page_becomes_no_script(
        make_phone: Callable[..., Phone], hostile_address: str) -> None:
    phone = make_phone(hostile_address, service_workers="block")
    for route in ("#/find", "#/restock/new", "#/part/P037", "#/work/readings", "#/aboard/people"):
        page = _at(phone, route)
        fields = page.locator("input:visible:not([type]), input[type=text]:visible, "
                              "input[type=search]:visible, textarea:visible")
        at = 0
        while at < min(fields.count(), 20):     # what is typed may put other fields there
            fields.nth(at).fill(HOSTILE)
            at += 1
        page.wait_for_timeout(300)
        assert page.evaluate(RAN) == {"ran": None, "images": 0}, route
