"""A page or a view one of whose files does not come tries once more, and else says so."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from playwright.sync_api import Route, expect

from tests.browser.keeping import GATHERED, keep_here, until


def missing(make_phone: Callable[..., Any], address: str, times: int) -> tuple[Any, list[str]]:
    """Open the page on a phone to which one file fails to come *times* times; list the asking."""
    phone = make_phone(address, service_workers="block")
    asked: list[str] = []

    def answer(route: Route) -> None:
        asked.append(route.request.url)
        if len(asked) <= times:
            route.abort()
        else:
            route.continue_()

    phone.page.route("**/views/find.js", answer)
    phone.page.goto(f"{address}/#/part/P001")
    return phone, asked


def test_page_starts_where_a_file_comes_at_the_second_time(
        make_phone: Callable[..., Any], address: str) -> None:
    phone, asked = missing(make_phone, address, times=1)
    expect(phone.page.locator("nav.bar")).to_be_visible()
    expect(phone.page.locator("#not-whole")).to_be_hidden()
    assert len(asked) == 2
    phone.page.route("**/views/service.js", lambda route: route.abort(), times=3)
    phone.page.goto(f"{address}/#/work/S12")
    expect(phone.page.locator('main [role="alert"]')).to_contain_text("does not answer")
    phone.page.get_by_role("button", name="Try again").tap()
    expect(phone.page.locator("h1")).to_have_text("change return filter")


def test_page_that_does_not_come_whole_says_so_and_does_not_go_round(
        make_phone: Callable[..., Any], address: str) -> None:
    phone, asked = missing(make_phone, address, times=99)
    expect(phone.page.locator("#not-whole")).to_be_visible()
    assert len(asked) == 2
    expect(phone.page.locator("nav.bar")).to_have_count(0)


def test_what_a_phone_keeps_is_there_where_one_of_its_files_comes_at_the_second_time(
        make_phone: Callable[..., Any], own_address: str) -> None:
    phone = make_phone(own_address)
    until(keep_here(phone), GATHERED)
    # Without the worker, so that one file can be kept from the page.
    phone.page.evaluate("""async () => {
      for (const one of await navigator.serviceWorker.getRegistrations()) await one.unregister();
    }""")
    phone.page.close()
    phone.context.add_init_script("delete Navigator.prototype.serviceWorker")
    page, asked, faults = phone.context.new_page(), [], []
    page.on("pageerror", lambda fault: faults.append(str(fault)))

    def lose_the_first(route: Route) -> None:
        asked.append(route.request.url)
        if len(asked) == 1:
            route.abort()
        else:
            route.continue_()

    page.route("**/verbs/lending.js", lose_the_first)
    page.route("**/fit/sheets.js", lambda route: route.abort(), times=1)
    page.route("**/api/**", lambda route: route.abort())    # the boat's computer is silent
    page.add_init_script("""new MutationObserver(() => {
      if (document.querySelector('main [role="alert"]')) globalThis.wasTold = true;
    }).observe(document, { childList: true, subtree: true })""")
    page.goto(f"{own_address}/#/aboard/lockers")
    expect(page.locator("main h1")).to_be_visible()
    expect(page.locator("main")).to_contain_text("L17")
    assert not page.evaluate("() => Boolean(globalThis.wasTold)"), "it said that nothing was there"
    page.goto(f"{own_address}/#/fit/ENG-04/with/P008")
    expect(page.locator("[data-verdict]")).to_be_visible()
    assert len(asked) == 2
    assert not faults


def test_page_is_in_the_persons_language_where_its_words_come_at_the_second_time(
        make_phone: Callable[..., Any], address: str) -> None:
    phone = make_phone(address, service_workers="block", locale="da-DK")
    phone.page.route("**/words/da.js", lambda route: route.abort(), times=1)
    expect(phone.open().locator("nav.bar")).to_contain_text("Arbejde")
