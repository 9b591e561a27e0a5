"""Plan, marks, a new machine with the boat's computer off: rows of the table of verbs."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from playwright.sync_api import Locator, expect

from tests.browser.test_photos import from_camera

if TYPE_CHECKING:
    from tests.browser.test_all_offline import Alone


def _tap(picture: Locator, x: float, y: float) -> None:
    """Tap a picture at shares of its width and height."""
    picture.scroll_into_view_if_needed()
    box = picture.bounding_box()
    assert box is not None
    picture.tap(position={"x": x * box["width"], "y": y * box["height"]})


def draw_a_deck(alone: Alone) -> None:
    page = alone.at("#/aboard/plan")
    expect(page.locator("svg[data-deck]")).to_have_attribute("data-deck", "On deck")
    page.locator('summary:has-text("Another deck")').tap()
    page.locator('[name="deck-name"]').fill("on deck")
    page.get_by_role("button", name="Draw this deck").tap()
    expect(page.locator("main")).to_contain_text("There is a deck of this name already.")
    page.locator('[name="deck-name"]').fill("Crow's nest")
    page.get_by_role("button", name="Draw this deck").tap()
    picture = page.locator('[data-form="deck-draw"] svg')
    for x, y in ((0.5, 0.1), (0.8, 0.6), (0.1, 0.9)):
        _tap(picture, x, y)
    page.get_by_role("button", name="Take the last corner back").tap()
    expect(page.locator("main")).to_contain_text("2 corners.")
    page.reload()                                   # half a line is kept
    expect(page.locator("main")).to_contain_text("2 corners.")
    _tap(picture, 0.2, 0.61)                        # in line with the corner before
    _tap(picture, 0.51, 0.11)                       # the first one again closes it
    expect(picture.locator("polygon")).to_have_attribute("points", "500,150 800,900 200,900")
    alone.says("Drew a line on Crow's nest")


def put_a_locker_by_keys(alone: Alone) -> None:
    page = alone.at("#/aboard/plan?deck=Crow's%20nest&do=place&locker=L17")
    page.locator(".steer summary").focus()
    page.keyboard.press("Enter")
    for key in ("ArrowUp", "ArrowUp", "ArrowLeft"):
        page.keyboard.press(key)
    page.get_by_role("button", name="Here", exact=True).press("Enter")
    alone.says("L17 is on the plan of Crow's nest")
    mark = page.locator('svg [data-locker="L17"] .dot')
    expect(mark).to_have_attribute("cx", "480")
    expect(mark).to_have_attribute("cy", "690")
    alone.tap('[data-piece="undo-bar"] button')
    expect(mark).to_have_count(0)
    page.locator('[name="plan-locker"]').select_option("L17")
    _tap(page.locator('[data-form="deck-place"] svg'), 0.55, 0.7)
    expect(mark).to_have_count(1)
    expect(alone.at("#/part/P034?at=L17").locator('[data-piece="on-plan"]')).to_contain_text(
        "Crow's nest, aft, in the middle")
    alone.tap('[data-piece="on-plan"] a')
    _tap(page.locator("svg[data-deck]"), 0.57, 0.71)        # near it is enough
    expect(page.locator("main h2").first).to_have_text("L17")


def mark_a_fit_point(alone: Alone) -> None:
    page = alone.at("#/aboard/machines/HBR")
    piece = page.locator('[data-piece="photos"]')
    piece.locator("summary").first.tap()
    piece.locator('[name="photo-choose"]').set_input_files(from_camera((20, 90, 200)))
    piece.locator(".photo button.plain").tap()
    expect(piece.locator('.photo button[aria-expanded="true"]')).to_be_focused()
    piece.get_by_role("button", name="Mark a fit point").tap()
    piece.locator('[name="mark-point"]').select_option("HBR-03")
    _tap(piece.locator('[data-form="photo-mark"] img'), 0.25, 0.5)
    alone.says("Marked sea-water pump on a photo")
    piece.get_by_role("button", name="Finished marking").tap()
    _tap(piece.locator("img"), 0.27, 0.52)
    expect(page.locator("main h1")).to_contain_text("sea-water pump")
    there = page.locator('[data-piece="marked-on"]')
    expect(there).to_contain_text("On a photo of Harbour set")
    expect(there.locator('[data-mark="HBR-03"].meant')).to_have_count(1)


def begin_a_machine(alone: Alone) -> None:
    """Her page with her fit points and her label's code is there at once, and in the list."""
    form = alone.at("#/aboard/begin/machine").locator('[data-form="begin-machine"]')
    form.locator('[name="sort"]').select_option("diesel-engine")
    form.locator('[name="machine-name"]').fill("Engine of the tender")
    form.locator('label:has([name="point-7"])').tap()
    form.get_by_role("button", name="Add the machine").tap()
    expect(alone.page.locator("main h1")).to_have_text("Engine of the tender")
    expect(alone.page.locator("main [data-point]")).to_have_count(6)
    expect(alone.page.locator("main")).to_contain_text("6 jobs come round")
    alone.says("New machine: Engine of the tender")
    alone.at("#/aboard/machines")
    expect(alone.page.get_by_text("Engine of the tender", exact=True)).to_have_count(1)


def drawings_arrived(told: Callable[[str], Any]) -> None:
    """Ask the boat's computer for all of it."""
    plan = told("plan")
    deck = plan["decks"][-1]
    assert (deck["name"], [one["corners"] for one in deck["lines"]]) == (
        "Crow's nest", ["500,100 800,600 200,600"])
    place = next(one["place"] for one in plan["lockers"] if one["locker"] == "L17")
    assert place["deck"] == deck["doc"]
    assert all(abs(place[key] - value) <= 4 for key, value in (("x", 550), ("y", 700)))
    begun = next(one for one in told("machines")["machines"]
                 if one["name"] == "Engine of the tender")
    assert re.fullmatch(r"ENG2-[0-9A-Z]{3}", begun["no"]) and begun["code"]
    assert len(told(f"machines/{begun['no']}")["points"]) == 6
    mark, = told("photos?of=HBR-03")["marked_on"][0]["marks"]
    assert mark["point"] == "HBR-03"
    assert all(abs(mark[key] - value) <= 5 for key, value in (("x", 250), ("y", 500)))


DRAWING_ROWS = [
    (draw_a_deck, ["set", "set"]), (put_a_locker_by_keys, ["set", "set", "set"]),
    (mark_a_fit_point, ["photo", "set"]), (begin_a_machine, ["set"] * 13),
]
