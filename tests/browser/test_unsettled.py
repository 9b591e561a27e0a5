"""What two wrote without knowing of each other is settled on a phone, without the server."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.keeping import RECORD, ask, keep_here, meet

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_part_changed_here_while_she_took_it_off_the_books_is_settled_without_her(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = keep_here(phone)
    phone.context.set_offline(True)
    assert page.evaluate(RECORD, ["do/left-over", {"part": "P041", "choice": "keep"}]) == "recorded"
    part = page.evaluate("""async () => (await import("/kept/kept.js")).keeper.value
      .aboard().named("P041", "part").ref""")
    ask(own_address, "documents", {"kind": "part", "doc": part, "fields": {"gone": True}})
    phone.context.set_offline(False)
    meet(page)
    assert [one["no"] for one in ask(own_address, "unsettled")["gone"]] == ["P041"]
    phone.context.set_offline(True)
    page.goto(f"{own_address}/#/aboard")
    expect(page.locator('[data-page="unsettled"]')).to_contain_text(
        "1 changed while off the books")
    page.locator('[data-page="unsettled"]').tap()
    expect(page.locator('[data-list="gone"]')).to_contain_text("This phone")
    page.goto(f"{own_address}/#/part/P041")
    card = page.locator("[data-gone]")
    expect(card).to_contain_text("what shall become of it: Keep it")
    expect(card).to_contain_text("Taken off the books")
    expect(page.locator('main [role="alert"]')).to_have_count(0)
    card.get_by_role("button", name="Leave it off the books").tap()
    expect(card).to_have_count(0)
    page.locator('[data-piece="undo-bar"]').wait_for()
    page.goto(f"{own_address}/#/aboard/unsettled")
    expect(page.locator("[data-list]")).to_have_count(1)        # its pieces lie there still
    expect(page.locator('[data-list="gone_but_there"]')).to_contain_text("P041")
    phone.context.set_offline(False)
    meet(page)
    assert ask(own_address, "unsettled")["gone"] == []
