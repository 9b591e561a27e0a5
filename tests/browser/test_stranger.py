"""A phone that is none of the crew's meets the page on the vessel's network."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Route, expect

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
