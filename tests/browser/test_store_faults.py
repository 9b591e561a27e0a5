"""The browser's own store fails under the page: no room at any write, or its connection dies.

What the page calls saved is there once, what it calls not saved is not there, and no number is
lost or stands for two.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Phone
from tests.browser.keeping import CELLS, IN_BOX, KEEPS, keep_here, meet, on_server, until
from tests.browser.putting import AT, PUTS, THERE, check_there, hear
from tests.conftest import LONG

pytestmark = [pytest.mark.browser, pytest.mark.slow]

DEATHS = 50 if LONG else 4

#: Stands in front of what is written to the box and to the copy of the log, and lets one fail.
WATCH = """() => {
  const writes = ["put", "delete", "clear"];
  const ours = ["changes", "decided", "texts", "rows", "about"];
  window.writing = { seen: 0, failing: 0, forEver: false, late: false };
  const full = () => new DOMException("full", "QuotaExceededError");
  const { put, add } = IDBObjectStore.prototype;
  const own = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, "error").get;
  // As a browser whose request fails some time after it was made, and its transaction after that.
  const failed = (store) => {
    const tx = store.transaction;
    put.call(store, "", "~");
    const request = add.call(store, "", "~");
    Object.defineProperty(request, "error", { get: full });
    Object.defineProperty(tx, "error", { configurable: true, get: () => own.call(tx) && full() });
    return request;
  };
  for (const name of writes) {
    const real = IDBObjectStore.prototype[name];
    IDBObjectStore.prototype[name] = function (...given) {
      const watched = window.writing;
      if (!/^spares-(box|copy)-/.test(this.transaction.db.name) || !ours.includes(this.name)) {
        return real.apply(this, given);
      }
      watched.seen += 1;
      const { seen, failing, forEver, late } = watched;
      if (!failing || (forEver ? seen < failing : seen !== failing)) {
        return real.apply(this, given);
      }
      if (!late) throw full();
      if (late === "request") return failed(this);
      // As a browser that counts its room when the transaction ends: it takes all of it back.
      const tx = this.transaction;
      Object.defineProperty(tx, "error", { get: full });
      const request = real.apply(this, given);
      request.addEventListener("success", () => tx.abort());
      return request;
    };
  }
}"""
#: Two puts and an exchange; says how each put ended, or why not, and how many writes were seen.
STORY = """async ([point, failing, forEver, late, meets]) => {
  const { record } = await import("/outbox.js");
  const { exchange, syncNow } = await import("/kept/kept.js");
  const idle = async () => {
    while (exchange.value.isSyncing) await new Promise((done) => setTimeout(done, 20));
  };
  await idle();
  Object.assign(window.writing, { seen: 0, failing, forEver, late });
  const ends = {};
  for (const i of [0, 1]) {
    const note = `${point}-${i}`;
    const body = { part: "P061", locker: "L03", quantity: 1, note };
    const { state, error } = await record("do/put", body, note);
    ends[note] = error?.code ?? state;
  }
  if (meets) {
    await idle();
    await syncNow();
  }
  const { seen } = window.writing;
  window.writing.failing = 0;
  return [ends, seen];
}"""


@pytest.mark.parametrize("late", [False, "request", True],
                         ids=["at the write", "after it", "at its end"])
@pytest.mark.parametrize("for_ever", [False, True], ids=["once", "for ever after"])
def test_no_room_at_any_write_costs_nothing_that_was_called_saved(
        make_phone: Callable[..., Phone], serve: Callable[[], str], for_ever: bool,
        late: bool | str) -> None:
    address = serve()
    began = on_server(address, "P061")["L03"][1]
    phone = make_phone(address)
    page = keep_here(phone)
    page = opened(phone)
    saved: set[str] = set()
    point = 0
    while True:
        point += 1 if LONG else 5
        ends, seen = page.evaluate(STORY, [point, point, for_ever, late, True])
        saved |= {note for note, state in ends.items() if state == "recorded"}
        assert set(ends.values()) <= {"recorded", "phone-full"}
        assert exactly_there(page) == saved
        page = opened(phone)
        assert exactly_there(page) == saved, "after the page was opened again"
        if seen < point:
            break       # the whole story came through
    assert point > 10 and set(ends.values()) == {"recorded"}
    meet(page)
    waits, _ = page.evaluate(THERE)
    assert waits == [] and on_server(address, "P061")["L03"] == [began + len(saved)] * 3


def opened(phone: Phone) -> Page:
    """Open the page anew, with a watch on its writes, once it has its copy."""
    page = phone.open(AT)
    page.reload()
    until(page, KEEPS)
    page.evaluate(WATCH)
    return page


def exactly_there(page: Page) -> set[str]:
    """Give the notes of what is there, which are under numbers without a hole."""
    check_there(page, set())
    waits, taken = page.evaluate(THERE)
    return {note for _, note in (*waits, *taken)}


@pytest.fixture
def die(make_phone: Callable[..., Phone], own_address: str) -> Iterator[Any]:
    """Give a phone, and what ends all connections of its page to the browser's store.

    The browser's own page about its stores does that, as it does by itself when a store fails.
    """
    phone = make_phone(own_address)
    inside = phone.context.new_page()

    def end() -> int:
        inside.goto("chrome://indexeddb-internals")
        force = inside.locator(".force-close")
        force.first.wait_for()
        for place in range(force.count()):
            force.nth(place).click()
        return force.count()
    yield phone, end
    inside.close()
    phone.requests[:] = [url for url in phone.requests if not url.startswith("chrome://")]


def test_a_connection_that_dies_under_the_page_costs_no_change_and_doubles_none(
        die: tuple[Phone, Callable[[], int]]) -> None:
    (phone, end), rng, said = die, random.Random(7), set()
    began = on_server(phone.address, "P061")["L03"][1]
    keep_here(phone)
    page = opened(phone)
    hear(page, said)
    unsaved: list[str] = []
    page.on("console", lambda message: unsaved.append(message.text)
            if message.text.startswith("unsaved ") else None)
    page.evaluate(f"(given) => {{ window.putting = ({PUTS})(given); }}", [0, 3_000])
    for _ in range(DEATHS):
        known, end_s = len(said), time.monotonic() + 60
        assert end() >= 1
        while len(said) <= known + rng.randint(1, 8):
            assert time.monotonic() < end_s, "nothing is saved any more"
            page.wait_for_timeout(rng.randint(1, 60))
    assert unsaved == [], "a new connection would have taken it"
    check_there(page, said)
    page = opened(phone)
    check_there(page, said)
    meet(page)
    waits, taken = page.evaluate(THERE)
    assert waits == []
    assert on_server(phone.address, "P061")["L03"] == [began + len(taken)] * 3


#: The next change of the box comes to the disk, and its page does not hear of it.
UNHEARD = """() => {
  const begin = IDBDatabase.prototype.transaction;
  window.unheard = 0;
  IDBDatabase.prototype.transaction = function (stores, mode, ...more) {
    const tx = begin.call(this, stores, mode, ...more);
    if (!window.unheard && mode === "readwrite" && /^spares-box-/.test(this.name)) {
      tx.addEventListener("complete", (event) => {
        window.unheard += 1;
        event.stopImmediatePropagation();
      });
    }
    return tx;
  };
}"""


def test_a_change_that_came_to_the_disk_as_its_connection_died_is_there_once_and_called_saved(
        die: tuple[Phone, Callable[[], int]]) -> None:
    phone, end = die
    page = keep_here(phone)
    phone.context.set_offline(True)
    page.goto(f"{phone.address}/#/part/P041?at=L17")
    until(page, KEEPS)
    began = page.evaluate(CELLS, "P041")["L17"][1]
    page.evaluate(UNHEARD)
    page.get_by_role("button", name="Took 1").tap()
    page.wait_for_function("() => window.unheard === 1")
    assert page.locator('[data-piece="undo-bar"]').count() == 0, "nobody knows yet"
    assert end() >= 1
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("Took 1 of P041")
    assert page.evaluate(CELLS, "P041")["L17"][1] == began - 1
    page.reload()
    until(page, KEEPS)
    assert [change["kind"] for change in page.evaluate(IN_BOX)] == ["took"]
    phone.context.set_offline(False)
    meet(page)
