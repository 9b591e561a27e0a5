"""Several tabs of one browser, a tab that is closed in mid-write, and a phone without room."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.keeping import CELLS, IN_BOX, KEEPS, keep_here, meet, on_server, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

#: IndexedDB as it is on a phone whose storage is full: nothing more is written, reading goes on.
FULL = """() => {
  window.wasPut = IDBObjectStore.prototype.put;
  IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); };
}"""
#: Full until the room that was held back is given up.
FULL_UNTIL_ROOM = """() => {
  const put = IDBObjectStore.prototype.put, drop = IDBObjectStore.prototype.delete;
  let isFull = true;
  IDBObjectStore.prototype.put = function (...given) {
    if (isFull) throw new DOMException("full", "QuotaExceededError");
    return put.apply(this, given);
  };
  IDBObjectStore.prototype.delete = function (key) {
    if (key === "room") isFull = false;
    return drop.call(this, key);
  };
}"""
ROOM = "() => { IDBObjectStore.prototype.put = window.wasPut; }"
STORAGE_FULL = """() => {
  window.wasSet = Storage.prototype.setItem;
  Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };
}"""
WAITING = "JSON.parse(localStorage['spares.outbox'] ?? '[]').length"
STORAGE_ROOM = "() => { Storage.prototype.setItem = window.wasSet; }"


def _second(phone: Any, route: str) -> Page:
    page: Page = phone.context.new_page()
    page.goto(f"{phone.address}/{route}")
    page.locator("nav.bar").wait_for()
    return page


def test_a_change_of_one_tab_is_seen_in_the_other_and_sent_once(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    first = keep_here(phone)
    second = _second(phone, "#/part/P078?at=L07")
    until(second, KEEPS)
    expect(second.locator('[data-line="count"]')).to_contain_text("40 here")
    phone.context.set_offline(True)
    first.goto(f"{own_address}/#/part/P078?at=L07")
    first.get_by_role("button", name="Took 1").tap()
    expect(first.locator('[data-line="count"]')).to_contain_text("39 here")
    until(second, f"async () => (await ({IN_BOX})()).length === 1")
    second.get_by_role("button", name="Took 1").tap()
    expect(second.locator('[data-line="count"]')).to_contain_text("38 here")
    until(first, f"async () => (await ({IN_BOX})()).length === 2")
    phone.context.set_offline(False)
    # both wake up and exchange at once
    both = "() => { window.met = import('/kept/kept.js').then(({ syncNow }) => syncNow()); }"
    for page in (first, second):
        page.evaluate(both)
    for page in (first, second):
        page.evaluate("() => window.met")
        until(page, f"async () => (await ({IN_BOX})()).length === 0")
    assert on_server(own_address, "P078") == {"L07": [38, 38, 38]}
    assert first.evaluate(CELLS, "P078") == second.evaluate(CELLS, "P078")


#: A page of an older version puts a change in: it leaves no mark that it was there.
OLDER_PAGE = """async () => {
  const { keeper } = await import("/kept/kept.js");
  const { newId } = await import("/api.js");
  const { withKept } = await import("/kept/open.js");
  const db = await withKept("box", keeper.value.vessel, (db) => db);
  const tx = db.transaction(["changes", "about"], "readwrite");
  const { mark, ...about } = await tx.objectStore("about").get("box");
  const last = JSON.parse(await tx.objectStore("changes").get(about.made));
  const n = about.made + 1;
  tx.objectStore("changes").put(JSON.stringify({ ...last, id: newId(), n }), n);
  tx.objectStore("about").put({ ...about, made: n }, "box");
  await tx.done;
  return mark.length;
}"""


def test_what_an_older_page_put_into_the_box_is_not_written_over(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = keep_here(phone)
    phone.context.set_offline(True)
    page.goto(f"{own_address}/#/part/P079?at=L07")
    count = page.locator('[data-line="count"]')
    expect(count).to_contain_text("here")
    began = page.evaluate(CELLS, "P079")["L07"][1]
    page.get_by_role("button", name="Took 1").tap()
    until(page, f"async () => (await ({IN_BOX})()).length === 1")
    assert page.evaluate(OLDER_PAGE) == 36
    page.wait_for_timeout(800)      # a finger does not come down twice at once
    page.get_by_role("button", name="Took 1").tap()
    until(page, f"async () => (await ({IN_BOX})()).length === 3")
    phone.context.set_offline(False)
    meet(page)
    left = on_server(own_address, "P079")["L07"]
    assert left == [began - 3] * 3


def test_requests_of_two_tabs_wait_in_one_outbox_and_go_once(
        make_phone: Callable[..., Any], own_address: str) -> None:
    """A phone without a copy: its requests wait as they were typed."""
    phone = make_phone(own_address)
    first = phone.open("#/part/P061?at=L03")
    second = _second(phone, "#/part/P063?at=L20")
    expect(first.locator('[data-line="count"]')).to_contain_text("1 here")
    expect(second.locator('[data-line="count"]')).to_contain_text("3 here")
    phone.context.set_offline(True)
    first.get_by_role("button", name="Took 1").tap()
    expect(first.locator('[data-piece="outbox"]')).to_contain_text("1 change is not yet")
    second.get_by_role("button", name="Took 1").tap()
    for page in (first, second):
        expect(page.locator('[data-piece="outbox"]')).to_contain_text("2 changes are not yet")
    asked: list[str] = []
    phone.context.on("request", lambda request: asked.append(str(request.post_data))
                     if "/api/do/took" in request.url else None)
    phone.context.set_offline(False)      # both tabs hear of it
    for page in (first, second):
        page.wait_for_function(f"() => {WAITING} === 0", timeout=60_000)
        expect(page.locator('[data-piece="outbox"]')).to_have_count(0)
    ids = [json.loads(one)["change_id"] for one in asked]
    assert len(ids) == len(set(ids)) == 2
    assert on_server(own_address, "P061") == {}
    assert on_server(own_address, "P063") == {"L20": [2, 2, 2]}


def test_a_tab_closed_while_its_request_was_on_its_way_leaves_it_to_the_next(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = _second(phone, "#/part/P065?at=L20")
    count = page.locator('[data-line="count"]')
    expect(count).to_contain_text("here")
    began = on_server(own_address, "P065")["L20"][1]
    on_its_way: list[Any] = []
    page.route("**/api/do/took*", lambda route: on_its_way.append(route))  # and never answered
    page.get_by_role("button", name="Took 1").tap()
    page.wait_for_function(f"() => {WAITING} === 1")
    page.unroute_all(behavior="ignoreErrors")
    page.close()
    assert on_its_way
    again = phone.open("#/part/P065?at=L20")
    again.wait_for_function(f"() => {WAITING} === 0")
    assert on_server(own_address, "P065").get("L20", [0, 0, 0]) == [began - 1] * 3


def test_one_tap_that_cannot_be_kept_says_so_and_is_recorded_by_a_further_press(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = keep_here(phone)
    phone.context.set_offline(True)
    page.goto(f"{own_address}/#/part/P041?at=L17")
    began = page.evaluate(CELLS, "P041")["L17"][1]
    page.evaluate(FULL)
    page.get_by_role("button", name="Took 1").tap()
    box = page.locator('[data-piece="outbox"]')
    expect(box).to_contain_text("NOT SAVED: this phone has no room left")
    expect(box).to_contain_text("Took 1 of P041 from L17")
    expect(box).not_to_contain_text("Kept on this phone")
    expect(page.locator('[data-piece="undo-bar"]')).to_have_count(0)
    assert page.evaluate(IN_BOX) == [] and page.evaluate(CELLS, "P041")["L17"][1] == began
    page.evaluate(ROOM)
    box.get_by_role("button", name="Try again").tap()
    until(page, f"async () => (await ({IN_BOX})()).length === 1")
    expect(box).to_have_count(0)
    assert page.evaluate(CELLS, "P041")["L17"][1] == began - 1
    phone.context.set_offline(False)
    meet(page)


def test_a_phone_that_is_full_in_the_middle_of_an_exchange_keeps_its_changes(
        make_phone: Callable[..., Any], own_address: str) -> None:
    """The answer cannot be stored: the change stays in the box, and is there once afterwards."""
    phone = make_phone(own_address)
    page = keep_here(phone)
    phone.context.set_offline(True)
    page.goto(f"{own_address}/#/part/P032?at=L04")
    page.get_by_role("button", name="Took 1").tap()
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("Took 1 of P032")
    took = page.evaluate(IN_BOX)
    phone.context.set_offline(False)
    page.evaluate(FULL)
    page.evaluate("() => import('/kept/kept.js').then(({ syncNow }) => syncNow()).catch(() => {})")
    page.goto(f"{own_address}/#/aboard/phone")
    expect(page.locator("main")).to_contain_text("no room left")
    assert page.evaluate(IN_BOX) == took
    page.evaluate(ROOM)
    meet(page)
    with_it = page.evaluate("""async (id) => {
      const { keeper } = await import("/kept/kept.js");
      return keeper.value.aboard().entries().filter((entry) => entry.id === id).length;
    }""", took[0]["id"])
    assert with_it == 1


def test_a_full_phone_gives_up_what_can_be_had_again_before_it_says_not_saved(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = keep_here(phone)
    page.evaluate("""async () => {
      const { withKept } = await import("/kept/open.js");
      const { keeper } = await import("/kept/kept.js");
      const { vessel } = keeper.value;
      await withKept("copy", vessel, (db) => db.put("answers", { a: 1 }, "/api/signs"));
      const photo = [new Blob(["a photo"]), "f".repeat(64)];
      await withKept("photos", vessel, (db) => db.put("seen", ...photo));
    }""")
    left = """async () => {
      const { withKept } = await import("/kept/open.js");
      const { keeper } = await import("/kept/kept.js");
      const { vessel } = keeper.value;
      const count = async (kind, store) =>
        (await withKept(kind, vessel, (db) => db.getAllKeys(store))).length;
      const box = await withKept("box", vessel, (db) => db);
      return [Boolean(await box.getKey("about", "room")), await count("copy", "answers") > 0,
        await count("photos", "seen"), await count("copy", "rows") > 0];
    }"""
    assert page.evaluate(left) == [True, True, 1, True]
    phone.context.set_offline(True)
    page.goto(f"{own_address}/#/part/P041?at=L17")
    page.evaluate(FULL_UNTIL_ROOM)
    page.get_by_role("button", name="Took 1").tap()
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("Took 1 of P041")
    expect(page.locator('[data-piece="outbox"]')).to_have_count(0)
    assert page.evaluate(left) == [False, False, 0, True], "only what can be had again is given up"
    page.reload()
    until(page, KEEPS)
    assert [change["kind"] for change in page.evaluate(IN_BOX)] == ["took"]
    phone.context.set_offline(False)
    meet(page)


def test_a_form_of_a_phone_without_copy_and_room_keeps_its_text(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    page = phone.open("#/part/P047?at=L21")
    page.get_by_role("button", name="More").tap()
    page.get_by_role("button", name="Put", exact=True).tap()
    page.locator('[name="quantity"]').fill("2")
    phone.context.set_offline(True)
    page.evaluate(STORAGE_FULL)
    page.get_by_role("button", name="Put it there").tap()
    expect(page.locator("form")).to_contain_text("NOT SAVED")
    expect(page.locator('[name="quantity"]')).to_have_value("2")
    page.evaluate(STORAGE_ROOM)
    phone.context.set_offline(False)
    page.get_by_role("button", name="Put it there").tap()
    expect(page.locator('[data-line="count"]')).to_contain_text("3 here")


def test_the_browser_is_asked_to_keep_what_is_stored(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    phone.page.add_init_script("""
      window.askedToStay = 0;
      navigator.storage.persist = async () => {
        window.askedToStay += 1;
        return window.mayStay ?? false;
      };
    """)
    page = keep_here(phone)
    assert page.evaluate("() => window.askedToStay") >= 1
    expect(page.locator("main")).to_contain_text("The browser may clear what is kept")
    phone.page.add_init_script("window.mayStay = true;")
    page.reload()
    expect(page.locator("main")).to_contain_text("The browser promised not to clear what is kept")
