"""Job card and broken piece with the boat's computer off: rows of the table of verbs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from playwright.sync_api import expect

if TYPE_CHECKING:
    from tests.browser.test_all_offline import Alone


def work_by_the_job_card(alone: Alone) -> None:
    card = alone.at("#/work/S20").locator('[data-piece="job-card"]')
    expect(card.locator('[data-ticks="shut-off"]')).to_contain_text("Stored energy released")
    expect(card.locator('[data-ticks="take"]')).to_contain_text("1 from L17")
    expect(card.locator('[data-ticks="step"]')).to_contain_text("From the maker's book")
    expect(card.locator('[data-ticks="after"]')).to_contain_text("Oil level seen")
    # no paper without the boat's computer
    expect(card.locator('a[target="_blank"]')).to_have_count(0)
    card.locator('[name="shut-off-0"]').check()
    run = card.locator('[data-piece="test-run"]')
    expect(run).to_contain_text("Stop at once: no outlet water")
    run.locator('[data-minute="5"] summary').tap()
    run.locator('[name="run-5-oil bar"]').fill("4,5")
    alone.page.reload()
    expect(card.locator('[name="run-5-oil bar"]')).to_have_value("4,5")
    expect(card.locator('[name="shut-off-0"]')).to_be_checked()
    expect(card.locator('[name="shut-off-1"]')).not_to_be_checked()


def gather_a_kit(alone: Alone) -> None:
    """Twelve nuts are needed and ten lie aboard."""
    bag = alone.at("#/work/S08").locator('[data-piece="kit-bag"]')
    expect(bag).to_have_attribute("data-state", "not-begun")
    bag.locator('[data-act="pick"]').tap()
    expect(bag).to_have_attribute("data-state", "short")
    expect(bag).to_contain_text("10 × P017 Tall brass nut M10")
    expect(alone.page.locator('[data-ticks="take"]')).to_contain_text("1 from BAG-S08")


def put_the_kit_back(alone: Alone) -> None:
    bag = alone.at("#/work/S08").locator('[data-piece="kit-bag"]')
    bag.locator('[data-act="put-back"]').tap()
    expect(bag).to_have_attribute("data-state", "not-begun")
    expect(alone.page.locator('[data-ticks="take"]')).to_contain_text("1 from L04")


def clean_it_sooner(alone: Alone) -> None:
    """The cooler of the set: every 300 hours instead of 500."""
    fold = alone.at("#/work/S24").locator('[data-piece="interval"]')
    fold.locator("summary").tap()
    expect(fold.locator('[name="every_hours"]')).to_have_value("500")
    fold.locator('[name="every_hours"]').fill("300")
    fold.get_by_role("button", name="Record the interval").tap()
    expect(fold).to_contain_text("Please fill this in")          # why
    fold.locator('[name="because"]').fill("growth in the tubes")
    fold.get_by_role("button", name="Record the interval").tap()
    alone.says("S24")


KIT_ROWS = [(gather_a_kit, ["set", "moved", "moved", "moved"]), (put_the_kit_back, ["moved"] * 3),
            (clean_it_sooner, ["set"])]


def begin_a_trail(alone: Alone) -> None:
    """A blade is missing: the set is marked at once, wherever it stands."""
    card = alone.at("#/work/S22").locator('[data-piece="job-card"]')
    card.locator('[data-to="missing"]').tap()
    form = alone.page.locator('[data-form="trail-begin"]')
    expect(form.locator('[name="point"]')).to_have_value("HBR-04")
    expect(form.locator('[name="place-strainer"]')).not_to_be_checked()     # before the pump
    form.locator('[name="what"]').fill("impeller blade")
    form.locator('[name="of_pieces"]').fill("6")
    form.locator('[name="place-water lock"]').uncheck()
    form.get_by_role("button", name="Mark it: do not run").tap()
    expect(alone.page.locator("main [data-place]")).to_have_count(4)
    expect(alone.page.locator("main")).to_contain_text("Do not run: HBR")
    expect(alone.page.locator('[data-piece="caution"]')).to_contain_text(
        "Do not run before the trail is closed")
    expect(alone.page.locator('[data-place="2"]')).to_contain_text("1 in L04")      # its gasket
    for route in ("#/work", "#/aboard", "#/aboard/machines/HBR", "#/work/S22", "#/restock/T1"):
        expect(alone.at(route).locator("main .do-not-run")).to_contain_text("Do not run: HBR")
    expect(alone.at("#/work").locator('[data-service="S21"]')).to_contain_text("Do not run")


def look_along_the_trail(alone: Alone) -> None:
    alone.at("#/work/trail/HBR-T1").locator('[name="who"]').fill("Ole")
    for number in (1, 2):
        place = alone.page.locator(f'[data-place="{number}"]')
        alone.page.wait_for_timeout(700)     # a touch that follows at once is taken for wet glass
        place.get_by_role("button", name="Nothing here").tap()
        expect(place).to_have_attribute("data-state", "nothing")
        expect(place).to_contain_text("Ole")
    expect(alone.page.locator('[data-place="3"]')).to_contain_text("Look here next")


def put_the_flow_order_right(alone: Alone) -> None:
    alone.at("#/work/trail/HBR-T1")
    alone.tap('[data-piece="trail-order"] summary')
    alone.tap('[data-piece="trail-order"] button:has-text("Add a place")')
    form = alone.page.locator('[data-form="trail-place"]')
    form.locator('[name="place-name"]').fill("thermostat housing")
    form.locator('[name="place-before"]').select_option(label="zinc HBR-07")
    form.get_by_role("button", name="Save").tap()
    expect(alone.page.locator('main .trail-place[data-place="3"]')).to_contain_text("thermostat")


def accept_the_gap(alone: Alone) -> None:
    alone.at("#/work/trail/HBR-T1")
    alone.tap('[data-piece="trail-close"] summary')
    form = alone.page.locator('[data-form="trail-accept"]')
    form.locator('[name="accept-by"]').fill("Tove")
    form.get_by_role("button", name="Accept it in writing").tap()
    expect(form).to_contain_text("Please fill this in")         # the reason
    form.locator('[name="accept-why"]').fill("flushed both ways, flow as before")
    form.get_by_role("button", name="Accept it in writing").tap()
    expect(alone.page.locator('[data-piece="trail-accepted"]')).to_contain_text(
        "Accepted by Tove, 15 March 2027, 1 piece missing")
    expect(alone.at("#/aboard/machines/HBR").locator("main .do-not-run")).to_have_count(0)


def find_it_after_all(alone: Alone) -> None:
    place = alone.at("#/work/trail/HBR-T1").locator('main .trail-place[data-place="5"]')
    place.get_by_role("button", name="Found 1").tap()
    expect(alone.page.locator("main")).to_contain_text("All pieces found")


def run_it_again(alone: Alone) -> None:
    form = alone.at("#/work/trail/HBR-T1").locator('[data-form="trail-first-run"]')
    form.locator('[name="run-flow"]').fill("as before")
    form.locator('[name="run-temperature_c"]').fill("82,5")
    form.get_by_role("button", name="Record the run").tap()
    expect(alone.page.locator('[data-piece="trail-first-run"]')).to_contain_text(
        "outlet water as before, 82.5 °C, 15 March 2027")
