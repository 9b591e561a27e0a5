"""A phone that is none of the crew's meets the page on the vessel's network."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Route, expect

from tests.browser.keeping import CELLS, IN_BOX, RECORD, ask, keep_here, meet, on_server

pytestmark = pytest.mark.browser


def test_a_stranger_is_asked_for_the_code_and_for_nothing_else(
        make_phone: Callable[..., Any], address: str) -> None:
    phone = make_phone(address, service_workers="block")

    def not_paired(route: Route) -> None:
        route.fulfill(status=401, content_type="application/problem+json", body=json.dumps(
            {"type": "/problems/stopped", "status": 401, "stop": "not_paired",
             "title": "Stopped", "detail": "this device is not paired"}))

    phone.page.route("**/api/**", not_paired)
    page = phone.open("#/find")
    expect(page.locator("h1")).to_have_text("This phone")
    expect(page.locator("main")).not_to_contain_text("Last wanted")


@pytest.mark.slow
@pytest.mark.parametrize("how", ["its token is gone", pytest.param(
    "it was reported lost, and found", marks=pytest.mark.long)])
def test_a_phone_that_is_out_is_let_in_again_and_hands_in_what_waits(
        make_phone: Callable[..., Any], own_address: str, how: str) -> None:
    phone = make_phone(own_address)
    page = keep_here(phone)
    began = on_server(own_address, "P041")["L17"][1]
    phone.context.set_offline(True)
    assert page.evaluate(RECORD, ["do/took", {"part": "P041", "locker": "L17"}]) == "recorded"
    if how == "its token is gone":
        phone.context.clear_cookies()
    else:
        dev = page.evaluate("async () => (await import('/kept/kept.js')).device.value.dev")
        ask(own_address, f"devices/{dev}/revoke", {"how": "lost"})
    phone.context.set_offline(False)
    page.get_by_role("button", name="Meet").tap()
    expect(page.locator("main .panel")).to_contain_text("the crew", timeout=20_000)
    assert [change["kind"] for change in page.evaluate(IN_BOX)] == ["took"]
    page.get_by_role("button", name="Keep her records on this phone").tap()
    expect(page.locator('[data-kept="none"]')).to_be_visible(timeout=20_000)
    meet(page)
    assert on_server(own_address, "P041")["L17"][1] == began - 1
    assert page.evaluate(CELLS, "P041")["L17"][1] == began - 1
