"""A phone that keeps a copy: what its page is asked, and how it is waited for."""

from __future__ import annotations

import json
import time
import urllib.request
from typing import Any

from playwright.sync_api import Page, expect

IN_BOX = """async () => {
  const { keptChanges } = await import("/kept/kept.js");
  return keptChanges.value.map((one) => ({ id: one.id, as: one.as, kind: one.kind }));
}"""
CELLS = """async (no) => {
  const { keeper } = await import("/kept/kept.js");
  const aboard = keeper.value.aboard();
  const cells = aboard.cellsOf(aboard.named(no, "part").ref);
  const found = {};
  for (const { locker, low, quantity, high } of cells) {
    const { no } = aboard.get(locker);
    const sum = found[no] ?? [0, 0, 0];
    found[no] = [low, quantity, high].map((one, place) => sum[place] + one / 1000);
  }
  return found;
}"""
ROWS = """async () => {
  const { keeper } = await import("/kept/kept.js");
  return keeper.value.aboard().entries().map((entry) => entry.id).sort();
}"""
RECORD = """async ([path, body]) => {
  const { record } = await import("/outbox.js");
  return (await record(path, body, `${path} ${body.part}`)).state;
}"""
LEFT_OVER = """async (no) => {
  const { keeper } = await import("/kept/kept.js");
  const { apartOf } = await import("/kept/apart.js");
  const aboard = keeper.value.aboard();
  const { ref, left_over } = aboard.named(no, "part");
  return [left_over, apartOf(aboard, ref).length];
}"""
KEEPS = """async () => (await import("/kept/kept.js")).keepsHere()"""
GATHERED = """async () => (await import("/kept/gather.js")).gatheredAt.value !== null"""


def until(page: Page, asked: str, given: Any = None, seconds: int = 60) -> None:
    """Ask the page again and again until it says yes."""
    end = time.monotonic() + seconds
    while not page.evaluate(asked, given):
        assert time.monotonic() < end, asked
        page.wait_for_timeout(100)


def keep_here(phone: Any) -> Page:
    """Let this browser keep a copy, and wait until it is whole."""
    page = phone.open("#/aboard/phone")
    page.get_by_role("button", name="Keep her records on this phone").tap()
    expect(page.get_by_text("Last met the boat's computer")).to_be_visible(timeout=20000)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    return page


def meet(page: Page) -> None:
    """Let a phone meet the boat's computer until nothing waits on it."""
    page.goto(page.url.split("#")[0] + "#/aboard/phone")
    before = page.evaluate("() => Date.now()")
    page.get_by_role("button", name="Meet").tap()
    until(page, """async (before) => {
      const { exchange } = await import("/kept/kept.js");
      return exchange.value.at > before && !exchange.value.isSyncing;
    }""", before)
    expect(page.locator('[data-kept="none"]')).to_be_visible(timeout=20000)


def ask(address: str, path: str, body: dict[str, Any] | None = None) -> Any:
    """Ask the boat's computer, from herself; with a body it is a request that writes."""
    request = urllib.request.Request(
        f"{address}/api/{path}", None if body is None else json.dumps(body).encode(),
        {"Content-Type": "application/json", "X-Spares": "1"})
    with urllib.request.urlopen(request, timeout=20) as answer:
        return json.load(answer)


def on_server(address: str, part: str) -> dict[str, list[float]]:
    """Give what the boat's computer says, by locker: low, quantity, high."""
    where = ask(address, f"parts/{part}")["where"]
    found: dict[str, list[float]] = {}
    for one in where:
        sums = found.get(one["locker"], [0, 0, 0])
        found[one["locker"]] = [sums[0] + one["low"], sums[1] + one["quantity"],
                                sums[2] + one["high"]]
    return found
