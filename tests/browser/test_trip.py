"""A trip planned from the phone, questioned, shared, and taken to a counter without the server."""

from __future__ import annotations

from collections.abc import Callable
from math import prod

import pytest
from playwright.sync_api import Locator, Page, Response, expect
from scipy.stats import nbinom, poisson

from tests.browser.conftest import Phone

pytestmark = pytest.mark.browser

SHORT = '[data-piece="short"] [data-line]'


LAST = {"name": "Last one", "departs_on": "2028-05-03", "returns_on": "2028-07-05",
        "hours": {"ENG": 210, "HBR": 190}, "hours_before_departure": "none"}

# Chance that nothing more breaks than lies aboard beyond the services, in 30 days with 100 h of
# the main engine and 80.5 h of the harbour set. Of six nozzles one broke in 11474.4 h and both
# aboard are for a service, as is one of two impellers of the set; a pressure switch lies aboard.
BREAKS = (nbinom.cdf(0, 1 + 0.5, 11474.4 / (11474.4 + 6 * 100)), poisson.cdf(1, 80.5 / 600),
          poisson.cdf(1, 30 / 900))
BILGE = (poisson.cdf(0, 30 / 1000), poisson.cdf(1, 30 / 1000))     # without and with one piece


def _of_hundred(*chances: float) -> str:
    return str(int(100 * prod(chances)))


def _planned(phone: Phone) -> Page:
    """Plan August from the form; the hours come from the last trip, day for day."""
    made = phone.context.request.post(f"{phone.address}/api/trips", data=LAST,
                                      headers={"X-Spares": "1"})
    assert made.ok, made.text()
    page = phone.open("#/restock")
    phone.tap('a:has-text("New trip")')
    phone.fill_day("leave", "1", "August", "2027")
    with page.expect_response(_answers_for("2027-08-31")):
        phone.fill_day("back", "31", "August", "2027")
    # 210 h of the main engine in the last trip's 63 days are 100 h in 30, 190 h are 90.5 h.
    expect(page.locator('[name="hours-ENG"]')).to_have_value("100")
    expect(page.locator('[name="hours-HBR"]')).to_have_value("90.5")
    # Of 100 h from one oil change of the set to the next 45.6 h are used: 54 h more need none.
    effect = page.locator('[data-piece="effect"]')
    page.locator('[name="hours-HBR"]').fill("54")
    expect(effect).to_contain_text("Your last change: −36.5 h Harbour set, 1 fewer Lube oil filter "
                                   "(P034), 1 fewer Engine oil 15W-40, 5 L (P067)")
    page.locator('[name="hours-HBR"]').fill("80,5")
    expect(effect).to_contain_text("Your last change: +26.5 h Harbour set, 1 more Lube oil filter "
                                   "(P034), 1 more Engine oil 15W-40, 5 L (P067)")
    expect(effect).to_contain_text(
        f"Of 100 such trips, {_of_hundred(*BREAKS, BILGE[0])} need nothing against breakdown")
    page.locator('[name="name"]').fill("August round")
    phone.tap('button:has-text("Make the list")')
    expect(page.locator("h1")).to_have_text("August round")
    expect(page.locator("main")).to_contain_text("1 August 2027 – 31 August 2027, 30 days")
    page.locator(SHORT).first.wait_for()
    return page


def _answers_for(returns_on: str) -> Callable[[Response], bool]:
    """Tell the answer about a draft that ends on a day."""
    return lambda response: (response.url.endswith("/trips/draft")
                             and returns_on in (response.request.post_data or ""))


def _table_behind(picture: Locator) -> Locator:
    """Open the table behind a picture."""
    expect(picture.locator(".table-behind")).to_have_class("table-behind unseen")
    picture.locator('button:has-text("As a table")').tap()
    expect(picture.locator(".table-behind")).to_have_class("table-behind")
    return picture.locator(".table-behind tbody tr")


def test_a_trip_is_planned_asked_why_shared_and_ticked_without_the_server(
        make_phone: Callable[..., Phone], serve: Callable[[], str],
        stop: Callable[[str], None]) -> None:
    phone = make_phone(serve(), service_workers="allow")
    page = phone.open("#/restock")
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.reload()
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    page = _planned(phone)

    nozzles = page.locator('[data-piece="short"] [data-line="P014"]')
    nozzles.locator('summary:has-text("Why")').tap()
    expect(nozzles.locator("details")).to_contain_text("S07 test or renew nozzles")
    # six for the service, and one for what may break
    expect(nozzles.locator("details")).to_contain_text("need 7, usable 2")

    picture = page.locator('[data-picture="time-line"]')
    expect(picture.locator("svg desc")).to_contain_text("services before leaving")
    row = _table_behind(picture).filter(has_text="S07 test or renew nozzles")
    expect(row).to_contain_text("Main engine")
    page.locator('summary:has-text("Hours since each service")').tap()
    row = _table_behind(page.locator('[data-picture="hours"]')).filter(has_text="S20")
    # 45.6 h when leaving and 80.5 h in the trip are 100 h and 26.1 h.
    expect(row.locator("td")).to_have_text([
        "Harbour set", "S20 change oil and filter", "100.0 h", "45.6 h", "1", "26.1 h"])
    # What is due comes first, an impeller of the bilge pump to be carried among it.
    rows = _table_behind(page.locator('[data-picture="protection"]').first)
    expect(rows.first.locator("td").last).to_have_text(_of_hundred(*BREAKS, BILGE[1]))

    page.evaluate("() => { navigator.share = async (what) => { window.shared = what.text; }; }")
    phone.tap('button:has-text("Share the list")')
    page.wait_for_function("() => window.shared !== undefined")
    text = page.evaluate("() => window.shared")
    assert "Shopping list, August round" in text
    assert "5 x Injector nozzle, Krustrand KR 33-410" in text

    page.wait_for_load_state("networkidle")
    count = page.locator(SHORT).count()
    stop(phone.address)
    page.reload()
    expect(page.locator('[data-piece="from-kept"]')).to_contain_text("of 15 March 2027")
    expect(page.locator(SHORT)).to_have_count(count)
    for at in (0, 1):
        page.locator(SHORT).nth(at).locator("input").tap()
    expect(page.locator("main")).to_contain_text(f"2 of {count} ticked")
    page.reload()
    expect(page.locator("main")).to_contain_text(f"2 of {count} ticked")
    expect(page.locator(SHORT)).to_have_count(count)        # the lines are drawn in turn
    assert [one.is_checked() for one in page.locator(f"{SHORT} input").all()] == [
        True, True, *[False] * (count - 2)]
    page.evaluate("() => { navigator.share = async (what) => { window.shared = what.text; }; }")
    phone.tap('button:has-text("Share the list")')
    page.wait_for_function("() => window.shared !== undefined")
    assert "Figures as of 15 March 2027" in page.evaluate("() => window.shared")


def test_a_trip_is_drawn_from_the_top(own_phone: Phone) -> None:
    """What is put between what stands there already has the browser style the whole page anew."""
    own_phone.page.add_init_script("""
        window.between = []; window.drawn = 0;
        new MutationObserver((seen) => {
          const added = new Set(seen.flatMap((one) => [...one.addedNodes]));
          for (const one of added) {
            if (one.nodeType !== 1 || !one.parentElement?.matches(".page, .lines")) continue;
            window.drawn += 1;
            let next = one.nextElementSibling;
            while (added.has(next)) next = next.nextElementSibling;
            if (next) window.between.push(one.outerHTML.slice(0, 80));
          }
        }).observe(document, { childList: true, subtree: true });""")
    page = own_phone.open("#/restock/T1")
    page.locator('[data-piece="papers"]').wait_for()
    assert page.evaluate("() => window.drawn") > 30
    assert page.evaluate("() => window.between") == []


def test_a_list_without_the_server_goes_by_the_counts_of_now(
        make_phone: Callable[..., Phone], serve: Callable[[], str],
        stop: Callable[[str], None]) -> None:
    phone = make_phone(serve())
    page = phone.open("#/restock/T1")
    page.locator(SHORT).first.wait_for()
    expect(page.locator('[data-piece="short"] [data-line="P113"]')).to_have_count(0)
    page.goto(f"{phone.address}/#/part/P113?at=L16")
    expect(page.locator('[data-line="count"]')).to_contain_text("6 here")
    page.wait_for_load_state("networkidle")
    stop(phone.address)
    phone.tap('button:has-text("Took 1")')
    page.goto(f"{phone.address}/#/restock/T1")
    flares = page.locator('[data-piece="short"] [data-line="P113"]')
    expect(flares).to_contain_text("1 × Hand flare, red")
    expect(flares).to_contain_text("Worked out again on this phone: 5 usable now.")


def test_a_card_stays_at_its_locker_when_the_last_piece_is_taken(own_phone: Phone) -> None:
    page = own_phone.open("#/part/P037?at=L17")
    expect(page.locator('[data-line="count"]')).to_contain_text("1 here, 1 in L03")
    own_phone.tap('button:has-text("Took 1")')
    expect(page.locator('[data-line="count"]')).to_contain_text("none here, 1 in L03")
    expect(page.locator('[data-line="where"] .locker')).to_have_text("L17")
    expect(page.locator('[data-piece="empty-here"]')).to_contain_text("Nothing left in L17.")
    own_phone.tap('[data-piece="empty-here"] a:has-text("Look in L03")')
    expect(page.locator('[data-line="where"] .locker')).to_have_text("L03")


def test_a_trip_is_changed_in_the_form_that_made_it(own_phone: Phone) -> None:
    page = own_phone.open("#/restock/T1")
    own_phone.tap('a.button:has-text("Change the trip")')
    expect(page.locator('[name="hours-ENG"]')).to_have_value("210")
    expect(page.locator('[name="leave-day"]')).to_have_value("3")
    page.locator('[name="hours-ENG"]').fill("199,5")
    own_phone.tap('button:has-text("Change the trip")')
    expect(page.locator('[data-piece="running"]')).to_contain_text("199.5 h")


def test_half_typed_trips_are_kept(own_phone: Phone) -> None:
    page = own_phone.open("#/restock/new")
    page.locator('[name="name"]').fill("Half a thought")
    expect(page.locator('[name="leg-1-distance_nm"]')).to_have_value("84")   # as the last trip
    own_phone.tap('summary:has-text("Legs under way: 2 legs, 168 nm")')
    own_phone.tap('button:has-text("Add a leg")')
    page.locator('[name="leg-2-distance_nm"]').fill("60")
    page.reload()
    expect(page.locator('[name="name"]')).to_have_value("Half a thought")
    expect(page.locator('[name="leg-2-distance_nm"]')).to_have_value("60")
    own_phone.tap('button:has-text("Start over")')
    expect(page.locator('[name="name"]')).to_have_value("")


def test_what_comes_too_late_has_ways_out(own_phone: Phone) -> None:
    page = own_phone.open("#/restock/T1")
    nozzles = page.locator('[data-piece="short"] [data-line="P014"]')
    nozzles.locator('button:has-text("Too late: what now?")').tap()
    for way in ("Order it anyway", "Use a stand-in", "Leave later", "Go without it"):
        expect(nozzles).to_contain_text(way)
    nozzles.locator('[data-form="accept"] button:has-text("Go without it")').tap()
    expect(nozzles).to_contain_text("Please fill this in.")
    nozzles.locator('[name="accept-by"]').fill("Anna")
    nozzles.locator('[data-form="accept"] button:has-text("Go without it")').tap()
    accepted = page.locator('main [data-line="P014"][data-state="accepted"]')
    expect(accepted).to_contain_text("Accepted by Anna, 15 March 2027")
    accepted.locator('button:has-text("Take it back")').tap()
    expect(nozzles).to_contain_text("Too late")


def test_an_order_goes_from_wanted_to_its_locker(own_phone: Phone) -> None:
    page = own_phone.open("#/restock/T1")
    own_phone.tap('button:has-text("Put all of it on the order list")')
    nozzles = page.locator('[data-order]', has_text="Injector nozzle")
    expect(nozzles).to_have_attribute("data-state", "wanted")
    nozzles.locator('button:has-text("Ordered it")').tap()
    expect(nozzles).to_have_attribute("data-state", "ordered")
    nozzles.locator('button:has-text("It arrived")').tap()
    expect(nozzles).to_have_attribute("data-state", "arrived")
    nozzles.locator('button:has-text("Stow it in L14")').tap()      # where its like lies
    expect(page.locator('[data-piece="short"] [data-line="P014"]')).to_have_count(0)
    page = own_phone.open("#/part/P014?at=L14")
    expect(page.locator('[data-line="count"]')).to_contain_text("6 here")


def test_a_harbour_lists_what_to_buy_and_folds_away_what_is_enough(own_phone: Phone) -> None:
    # The water of 29 days wants cartridges past the harbour; a limit of 0 leaves all unbought.
    made = own_phone.context.request.post(f"{own_phone.address}/api/trips", data={
        "name": "By a harbour", "departs_on": "2027-05-03", "returns_on": "2027-06-01",
        "hours": {"HBR": 96, "WMK": 58}, "limits": {"cost": 0},
        "stops": [{"name": "Grimvik", "arrives_on": "2027-05-14", "all": True}]},
        headers={"X-Spares": "1"})
    assert made.ok, made.text()
    page = own_phone.open(f"#/restock/{made.json()['no']}")
    page.locator(SHORT).first.wait_for()
    gasket = page.locator('[data-piece="short"] [data-line="P040"]')
    expect(gasket).to_contain_text("1 × End-cap gasket")
    expect(gasket).to_contain_text("1 not to be bought: over the trip's limit")
    harbour = page.locator("[data-stop]")
    expect(harbour.locator("summary", has_text="Enough from what is left")).to_be_visible()
    expect(harbour).not_to_contain_text("0 ×")


def test_fuel_is_told_on_the_phone_or_said_to_be_unknown(own_phone: Phone) -> None:
    """84 nm at 7 kn twice, with half an hour's manoeuvring each, are 24 h and 1 h of ENG."""
    page = own_phone.open("#/restock/T2")
    expect(page.locator('[data-piece="fuel"]')).to_contain_text("361 L by the plan")
    page.goto(f"{own_phone.address}/#/aboard/machines/ENG")
    page.locator('[data-piece="burns"] summary').tap()
    page.locator('[name="l_per_h"]').fill("16")
    page.locator('[name="idle_l_per_h"]').fill("2,5")
    own_phone.tap('button:has-text("Record what it burns")')
    expect(page.locator('[data-piece="burns"] summary')).to_contain_text("16 L/h at 8 kn")
    page.goto(f"{own_phone.address}/#/restock/T2")
    # The cube law: 24 h x 16 l/h x (7/8)^3 + 1 h x 2.5 l/h, and what charging burns.
    expect(page.locator('[data-piece="fuel"]')).to_contain_text("328 L by the plan")
    own_phone.tap('a.button:has-text("Change the trip")')
    expect(page.get_by_text("By a table that came in by file.")).to_be_attached()
