"""What a person writes about parts with the boat's computer switched off: rows of the table."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import expect


def begin_a_part(alone: Any) -> None:
    """Nothing is found, so it is recorded; it is found at once, and pieces can be put away."""
    alone.at("#/find").locator("#search").fill("zinc collar nut")
    alone.tap('main a:has-text("as a new part")')
    expect(alone.page.locator('[name="name"]')).to_have_value("zinc collar nut")
    alone.page.locator('[name="number"]').fill("ZC-77")
    alone.tap('button:has-text("Record the part")')
    expect(alone.page.locator("main h1")).to_contain_text("zinc collar nut")
    alone.at("#/find").locator("#search").fill("zc77")
    expect(alone.page.locator("main")).to_contain_text("zinc collar nut")
    alone.at("#/aboard/parts")
    expect(alone.page.get_by_role("link", name="Record a new part")).to_have_count(1)


def put_the_new_part_away(alone: Any) -> None:
    alone.at("#/find").locator("#search").fill("zc77")
    alone.tap('button:has-text("More")')        # nothing lies anywhere: it opens at Put
    alone.page.locator('[name="quantity"]').fill("3")
    alone.page.locator('[name="locker"]').fill("L20")
    alone.tap('button:has-text("Put it there")')
    expect(alone.page.locator('[data-line="count"]')).to_contain_text("3 here")


def give_it_another_number(alone: Any) -> None:
    alone.at("#/part/P057")
    alone.tap('[data-piece="more-numbers"] button:has-text("Another number")')
    alone.page.locator('[name="more-number"]').fill("OX 5510")
    alone.page.locator('[name="more-maker"]').fill("Ostrel")
    alone.tap('button:has-text("Add the number")')
    expect(alone.page.locator('[data-piece="other-numbers"]')).to_contain_text("Ostrel OX 5510")
    alone.at("#/find").locator("#search").fill("ox5510")
    expect(alone.page.locator('[data-piece="answer-card"]')).to_have_attribute(
        "data-part", "P057")


def join_two_records(alone: Any) -> None:
    """P056 (3 in L13) and P057 (4 in L13) turn out to be one part."""
    alone.at("#/part/P057?at=L13")
    alone.tap('[data-piece="more-numbers"] button:has-text("recorded twice")')
    alone.page.locator('[name="same"]').fill("P056")
    alone.tap('[data-piece="more-numbers"] .lines button')
    alone.tap('button:has-text("They are one part")')
    expect(alone.page.locator('[data-line="count"]')).to_contain_text("7 here")
    alone.at("#/part/P056")
    expect(alone.page.locator('[data-piece="answer-card"]')).to_have_attribute(
        "data-part", "P057")
