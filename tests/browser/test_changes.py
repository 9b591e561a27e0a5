"""What a hand did, recorded with the page: taken, undone, counted, exchanged, read, planned.

The tests of this file share one store; each works on things of its own.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import VERDICT, Phone

pytestmark = pytest.mark.browser


def test_took_one_is_one_tap_and_the_undo_bar_stays(own_phone: Phone) -> None:
    page = own_phone.open("#/part/P034?at=L17")
    count = page.locator('[data-line="count"]')
    expect(count).to_contain_text("2 here")
    own_phone.tap('button:has-text("Took 1")')
    expect(count).to_contain_text("Low: 1 here")
    bar = page.locator('[data-piece="undo-bar"]')
    expect(bar).to_contain_text("Took 1 of P034 from L17")
    expect(page.locator('p[aria-live="polite"]')).to_have_text("Took 1 of P034 from L17")
    assert own_phone.taps == 1
    own_phone.open("#/work")
    expect(bar).to_contain_text("Took 1 of P034 from L17")
    own_phone.tap('[data-piece="undo-bar"] button')
    expect(bar).to_have_count(0)
    own_phone.open("#/part/P034?at=L17")
    expect(count).to_contain_text("Enough: 2 here")


def test_not_here_asks_before_it_records_none(own_phone: Phone) -> None:
    page = own_phone.open("#/part/P032?at=L04")
    own_phone.tap('button:has-text("Not here")')
    expect(page.locator('[data-piece="undo-bar"]')).to_have_count(0)
    own_phone.tap('button:has-text("Record 0 in L04")')
    expect(page.locator('[data-line="count"]')).to_contain_text("None")
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("Counted 0 of P032 in L04")


def test_moved_names_its_missing_field_and_keeps_what_was_typed(own_phone: Phone) -> None:
    page = own_phone.open("#/part/P041?at=L17")
    own_phone.tap('button:has-text("More")')
    own_phone.tap('button:has-text("Moved")')
    page.locator('[name="quantity"]').fill("two")
    own_phone.tap('button:has-text("Moved it")')
    expect(page.locator(".field.wrong")).to_have_count(2)
    expect(page.locator('[name="quantity"]')).to_have_attribute("aria-invalid", "true")
    page.reload()
    own_phone.tap('button:has-text("More")')
    own_phone.tap('button:has-text("Moved")')
    expect(page.locator('[name="quantity"]')).to_have_value("two")
    expect(page.locator("form")).to_contain_text("You were typing here")
    page.locator('[name="quantity"]').fill("2")
    page.locator('[name="to"]').fill("f3je")
    own_phone.tap('button:has-text("Moved it")')
    bar = page.locator('[data-piece="undo-bar"]')
    expect(bar).to_contain_text("Moved 2 of P041 from L17 to L03")


def test_put_and_lent_change_what_counts_as_aboard(own_phone: Phone) -> None:
    page = own_phone.open("#/part/P047?at=L21")
    own_phone.tap('button:has-text("More")')
    own_phone.tap('button:has-text("Put")')
    page.locator('[name="quantity"]').fill("2")
    own_phone.fill_day("expires", "", "June", "2033")
    own_phone.tap('button:has-text("Put it there")')
    expect(page.locator('[data-line="count"]')).to_contain_text("3 here")
    own_phone.tap('button:has-text("More")')
    own_phone.tap('button:has-text("Lent")')
    page.locator('[name="who"]').fill("HESTEREJE")
    own_phone.tap('button:has-text("Lent it")')
    expect(page.locator('[data-line="count"]')).to_contain_text("2 here")


def test_exchange_asks_once_and_retires_what_sat_on_the_old_part(own_phone: Phone) -> None:
    page = own_phone.open("#/fit/ENG-04/with/P008")
    own_phone.tap('button:has-text("Exchange it now")')
    own_phone.tap('button:has-text("Look at it")')
    expect(page.locator('[name="old"]')).to_be_focused()
    page.locator('[name="old"]').select_option("locker")
    own_phone.tap('button:has-text("Look at it")')
    expect(page.locator(".field.wrong")).to_have_count(1)
    page.locator('[name="old_to"]').fill("TT34")
    page.locator('[name="why"]').select_option("failed")
    own_phone.tap('button:has-text("Look at it")')
    sure = page.locator('[data-piece="exchange-sure"]')
    expect(sure).to_contain_text("It failed")
    expect(sure).to_contain_text("Coolant pump face seal")
    own_phone.tap('button:has-text("Yes, it is exchanged")')
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("Fitted P008 at ENG-04")
    expect(page.locator("main")).to_contain_text("Left over since the exchange: ENG-04")
    expect(page.locator('[data-part="P009"]')).to_contain_text("belongs to ENG-05")
    own_phone.tap('[data-piece="undo-bar"] button')
    expect(page.locator('[data-part="P009"]')).to_have_count(0)


def test_a_doubtful_reading_is_asked_about_and_kept_with_its_reason(own_phone: Phone) -> None:
    page = own_phone.open("#/work/reading/AIR")
    page.locator('[name="hours"]').fill("38,8")
    own_phone.tap('button:has-text("Record the hours")')
    expect(page.locator('.problem[role="alert"]')).to_contain_text("Please look again")
    own_phone.tap('button:has-text("Record it with this reason")')
    expect(page.locator(".field.wrong")).to_contain_text("Why it is right all the same")
    page.locator('[name="because"]').fill("read in the dark")
    own_phone.tap('button:has-text("Record it with this reason")')
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("AIR")
    own_phone.open("#/aboard/machines/AIR")
    page.locator("summary:has-text('Hours')").click()
    expect(page.locator("details:has(summary:has-text('Hours'))")).to_contain_text(
        "read in the dark")


def test_a_reading_that_can_be_read_in_two_ways_is_asked_about(own_phone: Phone) -> None:
    page = own_phone.open("#/work/reading/HBR")
    page.locator('[name="hours"]').fill("3.107")
    own_phone.tap('button:has-text("Record the hours")')
    expect(page.locator("form")).to_contain_text("Which one is meant?")
    own_phone.tap('button:has-text("3107 h")')
    own_phone.tap('button:has-text("Record the hours")')
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("3107")


def test_a_service_done_takes_its_kit_and_shows_its_cautions(own_phone: Phone) -> None:
    page = own_phone.open("#/work/S12")
    caution = page.locator('[data-piece="caution"]')
    expect(caution).to_contain_text("pressure")
    expect(caution).to_contain_text("leave it to the licensed trade")
    page.locator('[name="hours"]').fill("641,5")
    own_phone.tap('button:has-text("Record it as done")')
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("S12 done on 2027-03-15")
    own_phone.open("#/part/P023")
    expect(page.locator('[data-line="count"]')).to_contain_text(
        re.compile("none here|None recorded in any locker"))     # as it was open before or not


def test_a_new_trip_takes_three_taps_and_its_dates(own_phone: Phone) -> None:
    page = own_phone.open()
    own_phone.tap('nav a[href="#/restock"]')
    own_phone.tap('a:has-text("New trip")')
    own_phone.fill_day("leave", "1", "August", "2027")
    own_phone.fill_day("back", "31", "August", "2027")
    expect(page.locator('[name="leg-0-distance_nm"]')).to_have_value("84")     # as the last trip
    own_phone.tap('button:has-text("Make the list")')
    expect(page.locator('[data-piece="short"] h2')).to_contain_text("Short")
    assert own_phone.taps == 3
    expect(page.locator("main")).to_contain_text("30 days")


def test_ticks_at_the_counter_stay_on_the_phone(own_phone: Phone) -> None:
    page = own_phone.open("#/restock/T1")
    own_phone.tap('[data-line="P040"] input[type="checkbox"]')
    page.reload()
    expect(page.locator('[data-line="P040"] input[type="checkbox"]')).to_be_checked()
    expect(page.locator('[data-line="P058"] input[type="checkbox"]')).not_to_be_checked()


def test_a_half_filled_measuring_sheet_is_kept_and_judges_each_number(own_phone: Phone) -> None:
    page = own_phone.open("#/fit/ENG-04/measure")
    page.locator('[name="pilot_diameter"]').fill("63,5")
    expect(page.locator(VERDICT)).to_have_attribute("data-verdict", "does-not-fit")
    page.reload()
    expect(page.locator('[name="pilot_diameter"]')).to_have_value("63,5")
    expect(page.locator(VERDICT)).to_have_attribute("data-verdict", "does-not-fit")
    page.locator('[name="pilot_diameter"]').fill("61,98")
    expect(page.locator(VERDICT)).to_have_attribute("data-verdict", "not-known-yet")


def test_a_change_without_an_answer_stays_in_sight_and_counts_once(
        make_phone: Callable[..., Phone], own_address: str) -> None:
    phone = make_phone(own_address, service_workers="block")
    page = phone.open("#/part/P063?at=L20")
    expect(page.locator('[data-line="count"]')).to_contain_text("3 here")
    lost = []

    def lose_the_answer(route: object) -> None:
        if lost:
            route.continue_()  # type: ignore[attr-defined]
        else:
            lost.append(route.fetch())  # type: ignore[attr-defined]
            route.abort()  # type: ignore[attr-defined]

    page.route("**/api/do/took*", lose_the_answer)
    phone.tap('button:has-text("Took 1")')
    box = page.locator('[data-piece="outbox"]')
    expect(box).to_contain_text("1 change is not yet on the boat's computer")
    expect(box).to_contain_text("does not answer")
    page.reload()
    expect(page.locator('[data-line="count"]')).to_contain_text("2 here")
    expect(box).to_have_count(0)
    assert lost[0].ok


def test_a_refused_change_says_why_and_waits_to_be_dropped(
        make_phone: Callable[..., Phone], own_address: str) -> None:
    phone = make_phone(own_address, service_workers="block")
    page = phone.open("#/part/P065?at=L20")
    page.route("**/api/do/took*", lambda route: route.continue_(
        post_data=route.request.post_data.replace("L20", "L99")))
    phone.tap('button:has-text("Took 1")')
    box = page.locator('[data-piece="outbox"]')
    expect(box).to_contain_text("L99")
    expect(box.get_by_role("link", name="Open P065")
           ).to_have_attribute("href", "#/part/P065?at=L20")
    phone.tap('[data-piece="outbox"] button:has-text("Drop it")')
    page.wait_for_timeout(700)     # a touch that follows at once is taken for wet glass
    phone.tap('button:has-text("Drop this change for good?")')
    expect(box).to_have_count(0)


def test_a_refused_form_is_opened_again_with_what_was_typed(
        make_phone: Callable[..., Phone], own_address: str) -> None:
    """Its answer was lost; when it is sent again the boat's computer does not take it."""
    phone = make_phone(own_address, service_workers="block")
    page = phone.open("#/restock/new")
    for name, day in (("leave", "1"), ("back", "20")):
        page.locator(f'[name="{name}-day"]').fill(day)
        page.locator(f'[name="{name}-month"]').select_option("6")
        page.locator(f'[name="{name}-year"]').fill("2027")
    page.locator('[name="name"]').fill("To the islands")
    page.route("**/api/trips*", lambda route: route.abort())
    page.locator('form[data-form="trip"] button.main').tap()
    box = page.locator('[data-piece="outbox"]')
    expect(box).to_contain_text("does not answer")
    page.unroute("**/api/trips*")
    page.route("**/api/trips*", lambda route: route.continue_(
        post_data=(route.request.post_data or "").replace("2027-06-20", "2027-05-20") or None))
    box.locator("summary").tap()
    box.get_by_role("button", name="Try again").tap()
    box.get_by_role("button", name="Change what was typed").tap()
    expect(box).to_have_count(0)
    expect(page.locator('[name="name"]')).to_have_value("To the islands")
    expect(page.locator('[name="back-day"]')).to_have_value("20")
    page.unroute("**/api/trips*")
    page.locator('form[data-form="trip"] button.main').tap()
    expect(page.locator("main h1")).to_contain_text("To the islands")


def test_changes_are_listed_and_can_be_taken_back(own_phone: Phone) -> None:
    page = own_phone.open("#/part/P072?at=L06")
    own_phone.tap('button:has-text("Took 1")')
    expect(page.locator('[data-piece="undo-bar"]')).to_contain_text("P072")
    own_phone.open("#/aboard/changes")
    first = page.locator("[data-change]").first
    expect(first).to_contain_text("Took 1 of P072 from L06")
    taken = first.get_attribute("data-change")
    page.wait_for_timeout(700)      # a touch that follows at once is taken for wet glass
    first.locator("button").tap()
    expect(page.locator(f'[data-change="{taken}"]')).to_contain_text("Undone")
    own_phone.open("#/part/P072?at=L06")
    expect(page.locator('[data-line="count"]')).to_contain_text("5 here")
