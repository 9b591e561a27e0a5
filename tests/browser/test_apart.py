"""Phones that keep a copy: away from the boat's computer, and together again."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import ROOT
from tests.browser.keeping import (
    CELLS,
    GATHERED,
    IN_BOX,
    KEEPS,
    LEFT_OVER,
    RECORD,
    ROWS,
    keep_here,
    meet,
    on_server,
    until,
)

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def own_store(demo_store: Path, tmp_path: Path) -> Path:
    """A store that this test may change, and whose server it may stop."""
    return Path(shutil.copy(demo_store, tmp_path / "spares.sqlite"))


def test_two_phones_apart_and_a_server_that_restarts_come_to_one_truth(
        make_phone: Callable[..., Any], start: Callable[..., str], stop: Callable[[str], None],
        own_store: Path) -> None:
    address = start(own_store)
    phones = [make_phone(address), make_phone(address)]
    one, other = pages = [keep_here(phone) for phone in phones]
    assert on_server(address, "P034") == {"L17": [2, 2, 2]}
    assert on_server(address, "P041")["L17"][1] >= 2
    began = on_server(address, "P041")
    stop(address)
    # both take one of the same two; one moves what the other counts and takes from
    for page in pages:
        page.goto(f"{address}/#/part/P034?at=L17")
        page.get_by_role("button", name="Took 1").tap()
        expect(page.locator('[data-line="count"]')).to_contain_text("1 here")
    assert one.evaluate(RECORD, ["do/moved", {"part": "P041", "from": "L17", "to": "L03",
                                              "quantity": 2}]) == "recorded"
    assert other.evaluate(RECORD, ["do/counted", {"part": "P041", "locker": "L17",
                                                  "quantity": began["L17"][1]}]) == "recorded"
    for page, count, choice in zip(pages, (39, 40), ("keep", "sell"), strict=True):
        assert page.evaluate(RECORD, ["do/left-over", {"part": "P041", "choice": choice}]
                             ) == "recorded"
        assert page.evaluate(RECORD, ["do/counted", {"part": "P078", "locker": "L07",
                                                     "quantity": count}]) == "recorded"
    assert one.evaluate(RECORD, ["do/put", {"part": "P037", "locker": "L17", "quantity": 4}]
                        ) == "recorded"
    # a tab is lost in the middle of a write: what it had not said to be saved may be gone
    lost = other.context.new_page()
    lost.goto(f"{address}/#/find")
    lost.locator("nav.bar").wait_for()
    until(lost, KEEPS)
    waited = len(other.evaluate(IN_BOX))
    lost.evaluate("""() => { import("/outbox.js").then(async ({ record }) => {
      for (let i = 0; i < 500; i += 1) await record("do/took", { part: "P037", locker: "L03" }, "");
    }); }""")
    until(other, f"async () => (await ({IN_BOX})()).length > {waited + 4}")  # it has begun
    lost.close()
    other.reload()
    until(other, KEEPS)
    # read while she is silent: from her first answer on the phones send by themselves
    made = {change["id"] for page in pages for change in page.evaluate(IN_BOX)}
    survived = sum(1 for change in other.evaluate(IN_BOX) if change["kind"] == "took") - 1
    assert 2 < survived < 500, "the tab was not lost while it wrote"
    started = start(own_store, int(address.rsplit(":", 1)[1]))
    assert started == address
    for page in [*pages, *pages]:
        meet(page)
    # the oracle: plain sums, and the one doubt that fifteen minutes leave
    full = began["L17"][1]
    wanted = {"P034": {"L17": [0, 0, 0]},
              "P041": {"L17": [full - 2, full, full], "L03": [2, 2, 2]}}
    for page in pages:
        assert page.evaluate(CELLS, "P034") == wanted["P034"]
        found = page.evaluate(CELLS, "P041")
        assert found["L03"][1] == began.get("L03", [0, 0, 0])[1] + 2
        low, quantity, high = found["L17"]
        assert (low, high) == (full - 2, full) and quantity in (full - 2, full)
        assert page.evaluate(CELLS, "P037")["L17"][1] == 1 + 4
        assert page.evaluate(CELLS, "P037")["L03"][1] == 1 - survived
    assert one.evaluate(ROWS) == other.evaluate(ROWS)
    assert made <= set(one.evaluate(ROWS))
    for part in ("P034", "P037", "P041"):
        told = on_server(address, part)
        found = {locker: cell for locker, cell in one.evaluate(CELLS, part).items() if cell[1]}
        assert found == {locker: told[locker] for locker in found}
        assert set(told) == set(found)
    for page in pages:
        page.goto(f"{address}/#/part/P034?at=L17")
        expect(page.locator("main")).to_contain_text("None")
        page.goto(f"{address}/#/part/P041?at=L17")
        expect(page.locator('[data-piece="asks"]')).to_contain_text("Moved 2 of P041 from L17")
        expect(page.locator('[data-apart="left_over"]')).to_contain_text("Two people wrote this")
        expect(page.locator('[data-apart="left_over"] [data-keep]')).to_have_count(2)
    other.get_by_role("button", name="Keep this one: Keep it").tap()
    expect(other.locator("[data-apart]")).to_have_count(0)
    expect(other.locator('[data-piece="undo-bar"]')).to_contain_text("P041")
    other.wait_for_timeout(700)     # a touch that follows at once is taken for wet glass
    # one question for the movement and the count, another for the two counts
    one.locator('[data-piece="asks"] [data-side="before"]').tap()
    expect(one.locator('[data-piece="asks"]')).to_have_count(0)
    other.goto(f"{address}/#/part/P078?at=L07")
    expect(other.locator('[data-line="count"]')).to_contain_text("39 to 40 here")
    expect(other.locator('[data-piece="asks"] button')).to_have_text(
        ["39 is right", "40 is right", "Count it anew"])
    other.locator('[data-piece="asks"] [data-count="39"]').tap()
    expect(other.locator('[data-piece="asks"]')).to_have_count(0)
    for page in [*pages, *pages]:
        meet(page)
    for page in pages:
        assert page.evaluate(CELLS, "P041")["L17"] == [full] * 3
        assert page.evaluate(CELLS, "P078")["L07"] == [39] * 3
        assert page.evaluate(LEFT_OVER, "P041") == ["keep", 0]
    assert on_server(address, "P041")["L17"] == [full] * 3
    assert on_server(address, "P078")["L07"] == [39] * 3


PLACES = ["find", "l/TGL:LEMJR", "part/P034", "fit", "fit/machine/HBR", "fit/HBR-04",
          "fit/HBR-04/measure", "fit/ENG-04/with/P008", "restock/T1/edit", "work",
          "work/readings", "work/reading/HBR", "work/S12", "restock", "restock/T1", "restock/new",
          "aboard", "aboard/machines", "aboard/machines/HBR", "aboard/points/HBR-04",
          "aboard/machines/HBR/missing", "work/trails", "work/walk-round",
          "work/walk-round/HBR", "work/lay-up", "work/joint/J1", "work/joint/J1/edit",
          "aboard/points/ENG-09/joint", "aboard/points/ENG-04/asks",
          "aboard/points/ENG-04/place", "aboard/counts", "aboard/counts/L17",
          "aboard/machines/ENG/limits", "find/batch/2026-07", "restock/T1/days", "work/S12/learn",
          "work/gauge/ENG",
          "aboard/lockers", "aboard/lockers/L17", "aboard/plan", "aboard/parts", "aboard/parts/new",
          "aboard/stranded", "aboard/unsettled",
          "aboard/changes", "aboard/loans",
          "aboard/vessels", "aboard/phone", "aboard/files", "aboard/papers",
          "aboard/light", "aboard/begin", "aboard/begin/lockers",
          "aboard/begin/machine", "aboard/signs"]
#: What only the boat's computer can show, and says so.
HERS = {"aboard/people", "aboard/across", "pair/:secret"}
#: Opened where it was begun, in the table of what works without the boat's computer.
BEGUN = {"work/trail/:trail"}


def test_every_address_of_the_page_is_among_the_places() -> None:
    text = (ROOT / "static/routes.js").read_text()
    routes = re.findall(r'\["([^"]+)", "[^"]+"\]', text.partition("];")[0])
    patterns = {route: re.sub(r":\w+", "[^/]+", route) for route in routes}
    assert len(routes) > 20
    left = {route for route, pattern in patterns.items()
            if not any(re.fullmatch(pattern, place) for place in PLACES)}
    assert left == HERS | BEGUN


def test_every_place_opens_after_a_reload_without_the_boats_computer(
        make_phone: Callable[..., Any], start: Callable[..., str], stop: Callable[[str], None],
        own_store: Path) -> None:
    address = start(own_store)
    phone = make_phone(address)
    page = keep_here(phone)
    until(page, GATHERED)
    stop(address)
    for place in PLACES:
        page.goto(f"{address}/#/{place}")
        page.reload()
        page.locator("main h1").wait_for()
        page.wait_for_timeout(250)
        expect(page.locator('main .problem, main [role="alert"]:not([hidden])'), place
               ).to_have_count(0)
    page.goto(f"{address}/#/find")
    for typed, wanted in (("imp har", "P037"), ("EMJR", "Forepeak, box on frame 6"),
                          ("KR 10-034", "P034"), ("impelller", "Close to what you typed")):
        page.locator("#search").fill(typed)
        expect(page.locator("main")).to_contain_text(wanted)
    page.locator("#search").fill("EMJT")
    expect(page.locator("main")).to_contain_text("No such label")


def test_two_tabs_share_one_row_of_numbers(make_phone: Callable[..., Any],
                                           own_address: str) -> None:
    phone = make_phone(own_address)
    first = keep_here(phone)
    second = phone.context.new_page()
    second.goto(f"{own_address}/#/find")
    until(second, KEEPS)
    phone.context.set_offline(True)
    many = """async () => {
      const { record } = await import("/outbox.js");
      const one = () => record("do/put", { part: "P061", locker: "L03", quantity: 1 }, "put");
      return (await Promise.all(Array.from({ length: 50 }, one))).map((done) => done.state);
    }"""
    first.evaluate("() => { window.first = import('/outbox.js'); }")
    first.evaluate(f"() => {{ window.done = ({many})(); }}")
    assert second.evaluate(many) == ["recorded"] * 50
    assert first.evaluate("() => window.done") == ["recorded"] * 50
    numbers = """async () => {
      const { keeper } = await import("/kept/kept.js");
      return keeper.value.waiting().map((change) => change.n);
    }"""
    # What the other tab put in is told to this one a moment later.
    until(first, f"async () => (await ({numbers})()).length >= 100")
    assert first.evaluate(numbers) == list(range(1, 101))
    phone.context.set_offline(False)
    meet(first)
    assert first.evaluate(CELLS, "P061")["L03"][1] == 1 + 100


def test_phone_without_room_says_not_saved_and_keeps_the_form(make_phone: Callable[..., Any],
                                                              own_address: str) -> None:
    phone = make_phone(own_address)
    page = keep_here(phone)
    phone.context.set_offline(True)
    page.goto(f"{own_address}/#/part/P041?at=L17")
    page.get_by_role("button", name="More").tap()
    page.get_by_role("button", name="Put").first.tap()
    page.locator('[name="quantity"]').fill("3")
    page.evaluate("""() => {
      window.put = IDBObjectStore.prototype.put;
      const full = new DOMException("full", "QuotaExceededError");
      IDBObjectStore.prototype.put = () => { throw full; };
    }""")
    page.get_by_role("button", name="Put it there").tap()
    expect(page.locator("form")).to_contain_text("NOT SAVED")
    assert page.locator('[name="quantity"]').input_value() == "3"
    assert page.evaluate(IN_BOX) == []
    page.evaluate("() => { IDBObjectStore.prototype.put = window.put; }")
    page.get_by_role("button", name="Put it there").tap()
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("Put 3 of P041")
    assert [change["kind"] for change in page.evaluate(IN_BOX)] == ["put"]
    phone.context.set_offline(False)


def test_crew_hears_at_once_what_is_the_skippers_to_record(make_phone: Callable[..., Any],
                                                           own_address: str) -> None:
    phone = make_phone(own_address)
    page = keep_here(phone)
    page.goto(f"{own_address}/#/work/S08")
    bag = page.locator('[data-piece="kit-bag"]')
    expect(bag.locator('[data-act="pick"]')).to_be_visible()
    phone.context.set_offline(True)
    page.evaluate("""async () => {
      const { device } = await import("/kept/kept.js");
      device.value = { ...device.value, role: "crew" };
    }""")
    page.goto(f"{own_address}/#/work")
    page.goto(f"{own_address}/#/work/S08")
    expect(bag).to_contain_text("The skipper begins the bag")   # no button that refuses
    expect(bag.locator("button")).to_have_count(0)
    page.goto(f"{own_address}/#/part/P041?at=L17")
    page.get_by_role("button", name="More").tap()
    page.get_by_role("button", name="Lent").first.tap()
    page.locator('[name="who"]').fill("Neighbour")
    page.get_by_role("button", name="Lent it").tap()
    expect(page.locator("form")).to_contain_text("ask the skipper")
    expect(page.locator('[name="who"]')).to_have_value("Neighbour")
    assert page.evaluate(IN_BOX) == []
    page.get_by_role("button", name="Took 1").tap()
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("Took 1 of P041")
    assert [change["kind"] for change in page.evaluate(IN_BOX)] == ["took"]
    phone.context.set_offline(False)
