"""Every verb of the phone with the boat's computer switched off.

Each row of `ROWS` is something a person does, by the same taps as ever. It either works, is seen at
once and lies in the outbox, or says in words that the boat's computer is needed and keeps what was
typed. At the end the computer is switched on again, and it holds all of it.
"""

from __future__ import annotations

import json
import re
import shutil
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, VERDICT, Phone
from tests.browser.keeping import GATHERED, keep_here, until
from tests.browser.offline_loans import (
    HERS,
    give_one_back,
    take_in_a_slip,
    take_it_home,
    write_a_slip,
)
from tests.browser.offline_parts import (
    begin_a_part,
    give_it_another_number,
    join_two_records,
    put_the_new_part_away,
)
from tests.browser.reading_rows import READING_ROWS, readings_arrived
from tests.browser.test_photos import from_camera
from tests.browser.work_rows import (
    KIT_ROWS,
    accept_the_gap,
    begin_a_trail,
    find_it_after_all,
    look_along_the_trail,
    put_the_flow_order_right,
    run_it_again,
    work_by_the_job_card,
)

pytestmark = [pytest.mark.browser, pytest.mark.slow]

BOX = """async () => {
  const { outbox } = await import("/outbox.js");
  return outbox.value.map(({ path, body, as, text }) => ({ path, body, as: as ?? "asked", text }));
}"""
CHANGES = """async () => {
  const { keptChanges } = await import("/kept/kept.js");
  return keptChanges.value.map(({ id, kind }) => ({ id, kind }));
}"""


@dataclass
class Alone:
    """A phone whose boat's computer is off, and how to bring that back."""

    phone: Phone
    page: Page
    start: Callable[..., str]
    store: Path
    done: list[None] = field(default_factory=list)

    def at(self, route: str) -> Page:
        """Open a place, as from a link."""
        self.page.goto(f"{self.phone.address}/{route}")
        self.page.locator("main h1").first.wait_for()
        return self.page

    def tap(self, what: str) -> None:
        """Tap the first thing that *what* selects."""
        self.page.locator(what).first.tap()

    def says(self, text: str) -> None:
        """Expect the bar with the last change."""
        expect(self.page.locator('[data-piece="undo-bar"]')).to_contain_text(text)


@pytest.fixture(scope="module")
def alone(opened_chromium: Any, start: Callable[..., str], stop: Callable[[str], None],
          demo_store: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Alone]:
    """A phone that kept everything before the boat's computer went."""
    store = Path(shutil.copy(demo_store, tmp_path_factory.mktemp("alone") / "spares.sqlite"))
    address = start(store)
    context = opened_chromium.new_context(**PHONE, service_workers="allow")
    phone = Phone(context, address)
    page = keep_here(phone)
    until(page, GATHERED)
    stop(address)
    page.reload()
    yield Alone(phone, page, start, store)
    context.close()
    assert not [one for one in phone.faults if "ERR_CONNECTION_REFUSED" not in one]


def find_by_word(alone: Alone) -> None:
    alone.at("#/find").locator("#search").fill("imp har")
    expect(alone.page.locator("main")).to_contain_text("P037")


def judge_a_pump(alone: Alone) -> None:
    alone.at("#/fit/ENG-04/with/P008")
    expect(alone.page.locator(VERDICT)).to_have_attribute(
        "data-verdict", "fits-with-changes")


def take_one(alone: Alone) -> None:
    alone.at("#/part/P034?at=L17")
    alone.tap('button:has-text("Took 1")')
    expect(alone.page.locator('[data-line="count"]')).to_contain_text("1 here")


def undo_it(alone: Alone) -> None:
    alone.tap('[data-piece="undo-bar"] button')
    expect(alone.page.locator('[data-line="count"]')).to_contain_text("2 here")


def count_none(alone: Alone) -> None:
    alone.at("#/part/P032?at=L04")
    alone.tap('button:has-text("Not here")')
    alone.tap('button:has-text("Record 0 in L04")')
    expect(alone.page.locator('[data-line="count"]')).to_contain_text("None")


def _form(alone: Alone, route: str, name: str) -> None:
    alone.at(route)
    alone.tap('button:has-text("More")')
    alone.page.get_by_role("button", name=name, exact=True).tap()


def put_a_dated_lot(alone: Alone) -> None:
    _form(alone, "#/part/P047?at=L21", "Put")
    alone.page.locator('[name="quantity"]').fill("2")
    alone.phone.fill_day("expires", "", "June", "2033")
    alone.tap('button:has-text("Put it there")')
    expect(alone.page.locator('[data-line="count"]')).to_contain_text("3 here")


def lend_one(alone: Alone) -> None:
    _form(alone, "#/part/P047?at=L21", "Lent")
    alone.page.locator('[name="who"]').fill("HESTEREJE")
    alone.tap('button:has-text("Lent it")')
    expect(alone.page.locator('[data-line="count"]')).to_contain_text("2 here")


def move_two(alone: Alone) -> None:
    _form(alone, "#/part/P041?at=L17", "Moved")
    alone.page.locator('[name="quantity"]').fill("2")
    alone.page.locator('[name="to"]').fill("f3je")
    alone.tap('button:has-text("Moved it")')
    alone.says("Moved 2 of P041 from L17")


def land_one(alone: Alone) -> None:
    _form(alone, "#/part/P078?at=L07", "Landed")
    alone.tap('button:has-text("Landed it")')
    alone.says("Landed 1 of P078 from L07")


def undo_from_the_list(alone: Alone) -> None:
    line = alone.at("#/aboard/changes").locator("[data-change]").first
    expect(line).to_contain_text("Landed 1 of P078 from L07")
    line.get_by_role("button", name="Undo").tap()
    expect(alone.page.locator("[data-change]").nth(1)).to_contain_text("Undone")
    expect(alone.page.locator("[data-change]").nth(1).get_by_role("button")).to_have_count(0)


def read_a_counter(alone: Alone) -> None:
    alone.at("#/work/reading/ENG").locator('[name="hours"]').fill("1925,5")
    alone.tap('button:has-text("Record the hours")')
    expect(alone.page.locator("main")).to_contain_text("1925.5 h")


def do_a_service(alone: Alone) -> None:
    """S21 was overdue by hours and days; once it is done it is neither."""
    line = alone.at("#/work").locator('[data-service="S21"]')
    expect(line).to_contain_text("Overdue")
    line.tap()
    alone.page.locator('[name="hours"]').fill("3107")
    alone.tap('button:has-text("Record it as done")')
    alone.says("S21")
    alone.at("#/work").locator("summary", has_text="Not yet due").tap()
    expect(line).not_to_contain_text("Overdue")


def exchange_a_pump(alone: Alone) -> None:
    alone.at("#/fit/ENG-04/with/P008")
    alone.tap('button:has-text("Exchange it now")')
    alone.page.locator('[name="old"]').select_option("locker")
    alone.page.locator('[name="old_to"]').fill("TT34")
    alone.page.locator('[name="why"]').select_option("failed")
    alone.tap('button:has-text("Look at it")')
    alone.tap('button:has-text("Yes, it is exchanged")')
    expect(alone.page.locator('[data-part="P009"]')).to_contain_text("belongs to ENG-05")
    alone.says("Exchanged ENG-04: P008 in")
    alone.at("#/aboard/points/ENG-04")
    expect(alone.page.locator("main")).to_contain_text("P008")
    expect(alone.page.locator("main")).to_contain_text("P007")     # sat there before


def sell_what_is_left_over(alone: Alone) -> None:
    line = alone.at("#/aboard/stranded").locator('[data-left-over="P056"]')
    line.locator("summary").tap()
    line.get_by_label("Sell it").tap()
    line.get_by_role("button", name="Record it").tap()
    expect(line.locator("summary")).to_contain_text("Sell it")


def go_without(alone: Alone) -> None:
    alone.at("#/restock/T1")
    line = alone.page.locator('[data-piece="short"] [data-line="P014"]')
    line.locator('button:has-text("Too late: what now?")').tap()
    line.locator('[name="accept-by"]').fill("Anna")
    line.locator('[data-form="accept"] button:has-text("Go without it")').tap()
    accepted = alone.page.locator('main [data-line="P014"][data-state="accepted"]')
    expect(accepted).to_contain_text("Accepted by Anna")


def go_with_it_after_all(alone: Alone) -> None:
    alone.page.locator('main [data-line="P014"] button:has-text("Take it back")').tap()
    expect(alone.page.locator('[data-piece="short"] [data-line="P014"]')).to_contain_text(
        "Too late")


def order_and_stow(alone: Alone) -> None:
    """From wanted to its locker, at the quay with the computer asleep."""
    alone.at("#/restock/T1")
    line = alone.page.locator('[data-piece="short"] [data-line="P014"]')
    line.locator('button:has-text("Too late: what now?")').tap()
    line.locator('button:has-text("on the order list")').first.tap()
    order = alone.page.locator("[data-order]", has_text="Injector nozzle")
    for button, state in (("Ordered it", "ordered"), ("It arrived", "arrived")):
        order.locator(f'button:has-text("{button}")').tap()
        expect(order).to_have_attribute("data-state", state)
    order.locator('button:has-text("Stow it in L14")').tap()
    expect(alone.page.locator('[data-piece="short"] [data-line="P014"]')).to_have_count(0)


def tick_the_list(alone: Alone) -> None:
    alone.at("#/restock/T1")
    alone.tap('[data-line="P040"] input[type="checkbox"]')
    alone.page.reload()
    expect(alone.page.locator('[data-line="P040"] input[type="checkbox"]')).to_be_checked()


def say_what_it_burns(alone: Alone) -> None:
    alone.at("#/aboard/machines/ENG").locator('[data-piece="burns"] summary').tap()
    alone.page.locator('[name="l_per_h"]').fill("16")
    alone.tap('button:has-text("Record what it burns")')
    expect(alone.page.locator('[data-piece="burns"] summary')).to_contain_text("16 L/h at 8 kn")


def take_a_photo(alone: Alone) -> None:
    alone.at("#/part/P034")
    photos = alone.page.locator('[data-piece="photos"]')
    photos.locator("summary").tap()
    photos.locator('[name="photo-choose"]').set_input_files(from_camera())
    expect(photos.locator('[data-photo="waiting"]')).to_have_text("Still on this phone")


def change_the_trip(alone: Alone) -> None:
    """The list is worked out by the boat's computer; the change waits and is seen."""
    alone.at("#/restock/T1/edit").locator('[name="hours-ENG"]').fill("199,5")
    alone.tap('form button:has-text("Change the trip")')
    expect(alone.page.locator('[data-piece="trip-waits"]')).to_contain_text(
        "works the list out anew")
    alone.at("#/restock/T1/edit")
    expect(alone.page.locator('[name="hours-ENG"]')).to_have_value("199.5")


def plan_a_trip(alone: Alone) -> None:
    alone.at("#/restock/new")
    alone.phone.fill_day("leave", "1", "August", "2027")
    alone.phone.fill_day("back", "31", "August", "2027")
    alone.page.locator('[name="name"]').fill("Around the cape")
    alone.tap('button:has-text("Make the list")')
    expect(alone.page.locator('[data-trip="new"]')).to_contain_text("Around the cape")


def want_all_of_a_trip(alone: Alone) -> None:
    alone.at("#/restock/T1")
    alone.tap('button:has-text("Put all of it on the order list")')


#: What a person does, and the kinds of change that then lie in the outbox, or the request there.
ROWS: list[tuple[Callable[[Alone], None], list[str]]] = [
    (find_by_word, []), (judge_a_pump, []), (take_one, ["took"]), (undo_it, ["void"]),
    (count_none, ["counted"]), (put_a_dated_lot, ["set", "put"]), (lend_one, ["set", "moved"]),
    (move_two, ["moved"]), (land_one, ["landed"]), (undo_from_the_list, ["void"]),
    (read_a_counter, ["reading"]), (work_by_the_job_card, []), *KIT_ROWS,
    (begin_a_trail, ["set"] * 5), (look_along_the_trail, ["set", "set"]),
    (put_the_flow_order_right, ["set"]), (accept_the_gap, ["set"]), (find_it_after_all, ["set"]),
    (run_it_again, ["set"]), (do_a_service, ["service"]),
    (exchange_a_pump, ["set", "exchange"]),
    (sell_what_is_left_over, ["set"]), (go_without, ["set"]), (go_with_it_after_all, ["set"]),
    (order_and_stow, ["set", "set", "set", "set", "put"]), (tick_the_list, []),
    (say_what_it_burns, ["set"]), (take_a_photo, ["photo"]),
    (begin_a_part, ["set"]), (put_the_new_part_away, ["put"]), (give_it_another_number, ["set"]),
    (join_two_records, ["same"]), (write_a_slip, []), (take_in_a_slip, ["set", "set", "put"]),
    (give_one_back, ["landed"]), (take_it_home, ["moved"]), *READING_ROWS,
    (change_the_trip, ["trips/T1"]), (plan_a_trip, ["trips"]),
    (want_all_of_a_trip, ["do/want-trip"]),
]


@pytest.mark.parametrize("row", range(len(ROWS)), ids=[act.__name__ for act, _ in ROWS])
def test_it_works_and_waits_in_the_outbox(alone: Alone, row: int) -> None:
    act, kinds = ROWS[row]
    while len(alone.done) < row:        # another worker did those before on a phone of its own
        alone.done.append(ROWS[len(alone.done)][0](alone))
    before = {one["id"] for one in alone.page.evaluate(CHANGES)}
    asked = [one["path"] for one in alone.page.evaluate(BOX) if one["as"] == "asked"]
    act(alone)
    made = [one["kind"] for one in alone.page.evaluate(CHANGES) if one["id"] not in before]
    made += [one["path"] for one in alone.page.evaluate(BOX) if one["as"] == "asked"][len(asked):]
    assert made == kinds
    alone.done.append(None)


@pytest.mark.parametrize("route", ["#/aboard/people", "#/aboard/files", "#/aboard/papers"])
def test_a_place_that_needs_the_boats_computer_says_so(alone: Alone, route: str) -> None:
    alone.at(route)
    alone.page.reload()
    expect(alone.page.locator("main")).to_contain_text("boat's computer")


def test_all_of_it_reaches_the_boats_computer(alone: Alone) -> None:
    if len(alone.done) < len(ROWS):
        pytest.skip("goes on from the whole table")
    port = int(alone.phone.address.rsplit(":", 1)[1])
    assert alone.start(alone.store, port) == alone.phone.address
    alone.at("#/aboard/phone")
    alone.page.get_by_role("button", name="Meet").tap()
    until(alone.page, f"async () => (await ({BOX})()).length === 0", seconds=60)

    def told(path: str) -> Any:
        with urllib.request.urlopen(f"{alone.phone.address}/api/{path}", timeout=20) as answer:
            return json.load(answer)
    assert told("points/ENG-04")["fitted"]["part"] == "P008"
    assert told("machines/ENG")["hours"] == 1925.5
    assert float(told("machines/ENG")["burns"]["l_per_h"]) == 16
    assert {one["no"]: one["hours"].get("ENG") for one in told("trips")["trips"]}["T1"] == 199.5
    assert "Around the cape" in [one["name"] for one in told("trips")["trips"]]
    assert [one["state"] for one in told("orders?trip=T1")["orders"]
            if one["part"] == "P014"] == ["stowed"]
    begun = told("find?q=zc77")["hits"][0]
    assert begun["name"] == "zinc collar nut" and re.fullmatch(r"P121-[0-9A-Z]{3}", begun["no"])
    assert [(one["locker"], one["quantity"]) for one in begun["where"]] == [("L20", 3)]
    joined = told("parts/P056")
    assert joined["no"] == "P057" and [one["quantity"] for one in joined["where"]] == [7]
    assert "OX 5510" in [one["number"] for one in joined["numbers"]]
    lots = {one["expires"]: one["quantity"] for one in told("parts/P047")["where"]
            if one["locker"] == "L21"}
    assert sum(lots.values()) == 3 and "2033-06" in lots
    [borrowed], [lent] = told("loans")["borrowed"], told("loans")["lent"]
    assert (borrowed["loan"], borrowed["quantity"], borrowed["back"]) == (HERS, 2, 1)
    assert (lent["who"], lent["quantity"], lent["back"]) == ("HESTEREJE", 1, 1)
    trail = told("trails/HBR-T1")
    assert (trail["state"], trail["missing"], trail["of_pieces"]) == ("found", 1, 6)
    assert [one["state"] for one in trail["places"]] == [
        "nothing", "nothing", "not-looked", "not-looked", "found"]
    assert trail["accepted"]["why"] == "flushed both ways, flow as before"
    assert told("trails")["do_not_run"] == []
    readings_arrived(told)
