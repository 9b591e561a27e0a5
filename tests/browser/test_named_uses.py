"""The three named uses by taps and keys, compared with what was promised for each.

A tap is a lift of the finger, typing counts as keys; opening the page from its icon is
not counted. Four typed characters stand for a scan.
"""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import VERDICT, Phone

pytestmark = pytest.mark.browser


def test_find_by_code_takes_one_tap_and_four_keys(phone: Phone) -> None:
    page = phone.open()
    phone.tap("#search")
    phone.type("emjr")
    locker = page.locator('[data-locker="L17"]')
    expect(locker).to_contain_text("Forepeak, box on frame 6")
    for part, count in (("P034", "2 here"), ("P035", "2 here"), ("P037", "1 here"),
                        ("P041", "3 here"), ("P042", "1 here")):
        expect(locker.locator(f'[data-part="{part}"]')).to_contain_text(count)
    assert locker.locator("[data-part]").count() == 5
    assert (phone.taps, phone.keys) == (1, 4)


def test_a_code_with_swapped_neighbours_opens_no_locker(phone: Phone) -> None:
    page = phone.open()
    phone.tap("#search")
    phone.type("EMRJ")
    expect(page.locator("main")).to_contain_text("No such label")
    assert page.locator("[data-locker]").count() == 0


def test_find_at_a_machine_shows_locker_count_and_state_without_a_further_tap(phone: Phone) -> None:
    page = phone.open()
    phone.tap("#search")
    phone.type("DYF7")
    impeller = page.locator('[data-machine="HBR"] [data-point="HBR-04"]')
    for words in ("pump impeller", "1 in L17", "1 in L03", "Enough"):
        expect(impeller).to_contain_text(words)
    assert (phone.taps, phone.keys) == (1, 4)


def test_find_by_word_shows_locker_and_count_on_every_line(phone: Phone) -> None:
    page = phone.open()
    phone.tap("#search")
    phone.type("imp har")
    impeller = page.locator("main [data-part]").first
    expect(impeller).to_have_attribute("data-part", "P037")
    expect(impeller).to_contain_text("1 in L17")
    expect(impeller).to_contain_text("1 in L03")
    expect(impeller).to_contain_text("Harbour set")
    for line in page.locator("main li [data-part]").all():
        assert line.locator(".where").inner_text().strip()
    assert (phone.taps, phone.keys) == (1, 7)


def test_find_again_takes_one_tap(phone: Phone) -> None:
    phone.open("#/part/P037")
    expect(phone.page.locator('[data-piece="answer-card"]')).to_be_visible()
    page = phone.open("#/find")
    phone.tap('main [data-part="P037"]')
    expect(page.locator('[data-piece="answer-card"][data-part="P037"]')).to_be_visible()
    assert phone.taps == 1


def test_answer_card_says_its_lines_in_the_fixed_order(looker: Phone) -> None:
    page = looker.open("#/part/P037?at=L17")
    card = page.locator('[data-piece="answer-card"]')
    card.wait_for()
    order = card.locator("[data-line]").evaluate_all("all => all.map(one => one.dataset.line)")
    assert order == ["fits", "where", "count", "why", "actions"]
    tops = card.locator("[data-line]").evaluate_all(
        "all => all.map(one => one.getBoundingClientRect().top)")
    assert tops == sorted(tops)
    expect(card.locator('[data-line="fits"]')).to_have_text("Harbour set · pump impeller")
    expect(card.locator('[data-line="where"]')).to_contain_text("L17")
    expect(card.locator('[data-line="where"]')).to_contain_text("EMJR")
    expect(card.locator('[data-line="count"]')).to_contain_text("Enough: 1 here, 1 in L03")
    expect(card.locator('[data-line="why"]')).to_have_text("maker's list · new · until June 2031")
    assert [one.strip() for one in card.locator("button").all_inner_texts()] == [
        "Took 1", "Not here", "More"]
    sizes = card.locator("p, span").evaluate_all(
        "all => all.map(one => [parseFloat(getComputedStyle(one).fontSize), one.className])")
    assert max(sizes)[1] == "locker", "the locker has the largest type"


def test_restock_of_a_trip_takes_two_taps_and_a_third_shares_it(phone: Phone) -> None:
    phone.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=phone.address)
    page = phone.open()
    phone.tap('nav a[href="#/restock"]')
    phone.tap("[data-trip]")
    short = page.locator('[data-piece="short"] [data-line]')
    expect(short).to_have_count(12)      # a long list is painted a piece at a time
    assert short.evaluate_all("all => all.map(one => one.dataset.line)") == [
        "P014", "P040", "P058", "P024", "P017", "P061", "P112", "P115", "P021", "P117", "P074",
        "P094"]
    assert short.evaluate_all("all => all.map(one => one.dataset.state)") == [
        "too-late", *["order-by"] * 11]
    assert phone.taps == 2
    page.evaluate("() => { navigator.share = async (what) => { window.shared = what.text; }; }")
    phone.tap('button:has-text("Share the list")')
    page.wait_for_function("() => window.shared !== undefined")
    text = page.evaluate("() => window.shared")
    assert "4 x Injector nozzle, Krustrand KR 33-410" in text
    assert "2 x Tall brass nut M10, Fennholt FH BN-10" in text
    assert phone.taps == 3


def test_fit_with_a_number_takes_three_taps_after_the_machine(phone: Phone) -> None:
    page = phone.open()
    phone.tap('nav a[href="#/fit"]')
    expect(page.locator("#search")).to_be_focused()
    phone.type("AVD3")
    phone.tap('[data-point="ENG-04"]')
    phone.tap('[data-part="P008"]')
    expect(page.locator(VERDICT)).to_have_attribute("data-verdict", "fits-with-changes")
    expect(page.locator(VERDICT)).to_have_text("Fits with changes")
    assert (phone.taps, phone.keys) == (3, 4)
    assert page.locator('[data-piece="changes"] li').count() == 3
    expect(page.locator('[data-change="inlet_port"]')).to_contain_text("×1 (0 aboard)")
    expect(page.locator('[data-piece="would-strand"]')).to_contain_text("P009 ×1")
    expect(page.locator('[data-piece="caution"]')).to_contain_text("leave it to the licensed trade")


def test_fit_from_a_part_card_takes_two_taps(phone: Phone) -> None:
    page = phone.open("#/part/P002")
    page.locator('[data-piece="answer-card"]').wait_for()
    phone.open("#/find")
    phone.tap('main [data-part="P002"]')
    phone.tap('a[href="#/fit/ENG-01/with/P002"]')
    expect(page.locator(VERDICT)).to_have_attribute("data-verdict", "fits")
    assert phone.taps == 2


def test_fit_without_a_number_reaches_the_sheet_in_three_taps(phone: Phone) -> None:
    page = phone.open()
    phone.tap('nav a[href="#/fit"]')
    expect(page.locator("#search")).to_be_focused()
    phone.type("AVD3")
    phone.tap('[data-point="ENG-04"]')
    phone.tap('a:has-text("Measure a part")')
    expect(page.locator('[name="pilot_diameter"]')).to_be_visible()
    assert (phone.taps, phone.keys) == (3, 4)


@pytest.mark.parametrize(("route", "verdict"), [
    ("#/fit/ENG-04/with/P007", "fits"), ("#/fit/ENG-04/with/P119", "does-not-fit"),
    ("#/fit/ENG-02/with/P004", "not-known-yet"), ("#/fit/ENG-06/with/P011", "does-not-fit"),
    ("#/fit/AIR-03/with/P011", "fits"), ("#/fit/SAN-01/with/P054", "fits")])
def test_demo_verdicts_are_shown_with_their_rows(looker: Phone, route: str, verdict: str) -> None:
    page = looker.open(route)
    expect(page.locator(VERDICT)).to_have_attribute("data-verdict", verdict)
    assert page.locator("[data-row]").count() > 0


def test_work_lists_what_is_due_and_what_nobody_can_date_apart(looker: Phone) -> None:
    page = looker.open("#/work")
    unknown = page.locator('section:has(h2:has-text("History unknown")) [data-service]')
    expect(unknown).to_have_count(8)        # a long list is drawn a few lines at a time
    assert set(unknown.evaluate_all("all => all.map(one => one.dataset.service)")) == {
        "S04", "S05", "S11", "S13", "S17", "S23", "S29", "S33"}
    overdue = page.locator('section:has(h2:has-text("Due")) [data-service="S30"]')
    expect(overdue).to_contain_text("Overdue")
