"""Weeks at sea without the boat's computer: the day goes on, on the phone."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Route, expect

from tests.browser.conftest import TODAY
from tests.browser.keeping import GATHERED, keep_here, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

WEEKS = timedelta(weeks=5)
CARRIED_BYTES = 60_000
MANY = """async (many) => {
  const { keeper, recordHere } = await import("/kept/kept.js");
  const { newId } = await import("/api.js");
  const aboard = keeper.value.aboard();
  const [part, locker] = [aboard.named("P034", "part").ref, aboard.named("L17", "locker").ref];
  await recordHere(Array.from({ length: many }, () =>
    ({ id: newId(), kind: "put", body: { part, locker, lot: "", q: 1000 } })), {});
}"""
LAST_BODY = """async () => {
  const { keptChanges } = await import("/kept/kept.js");
  return keptChanges.value.at(-1).body;
}"""


def test_five_weeks_on_work_is_dated_to_the_day_and_the_due_list_has_moved_on(
        make_phone: Callable[..., Any], own_address: str) -> None:
    """S15 is done every 12 months, last on 20 March 2026: five days ahead, then a month over."""
    phone = make_phone(own_address)
    page = keep_here(phone)
    until(page, GATHERED)
    page.goto(f"{own_address}/#/work")
    expect(page.locator('[data-service="S15"]')).to_contain_text("5 days left")
    phone.context.set_offline(True)
    page.clock.set_fixed_time(datetime.now(UTC) + WEEKS)
    page.reload()
    on = date.fromisoformat(TODAY) + WEEKS
    expect(page.locator('[data-service="S15"]')).to_contain_text("30 days over")
    page.goto(f"{own_address}/#/work/S15")
    expect(page.locator('[name="at-day"]')).to_have_value(str(on.day))
    page.get_by_role("button", name="Record it as done").tap()
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("S15")
    assert page.evaluate(LAST_BODY)["date"] == on.isoformat()
    page.goto(f"{own_address}/#/work")
    page.locator("summary", has_text="Not yet due").tap()
    expect(page.locator('[data-service="S15"]')).to_be_visible()
    expect(page.locator('[data-service="S15"]')).not_to_contain_text("over")
    page.goto(f"{own_address}/#/work/reading/ENG")
    page.locator('[name="hours"]').fill("1990")
    page.get_by_role("button", name="Record the hours").tap()
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("1990")
    assert page.evaluate(LAST_BODY)["date"] == on.isoformat()
    # Back at the edge of the boat's net, where only small requests come through in time.
    sizes: list[int] = []

    def carry(route: Route) -> None:
        sizes.append(len(route.request.post_data_buffer or b""))
        if sizes[-1] > CARRIED_BYTES:
            route.abort()
        else:
            route.continue_()
    page.route("**/api/sync*", carry)
    page.evaluate(MANY, 300)
    phone.context.set_offline(False)
    until(page, """async () => {
      const { keptChanges, syncNow } = await import("/kept/kept.js");
      await syncNow();
      return !keptChanges.value.length;
    }""")
    assert max(sizes) > CARRIED_BYTES >= sizes[-1], sizes
