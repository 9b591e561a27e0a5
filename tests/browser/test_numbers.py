"""Numbers on the part's page and at the fit point: chains, proofs, trials, what is left."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Phone
from tests.demo.expected import VERDICTS

pytestmark = pytest.mark.browser


def test_a_dropped_part_says_since_when_what_is_left_and_what_took_over(looker: Phone) -> None:
    """P054 was dropped in 2025, P055 took over; one P054 lies ashore in L25 (seed, stock)."""
    page = looker.open("#/part/P054")
    dropped = page.locator('[data-piece="dropped"]')
    expect(dropped).to_contain_text("Dropped by its maker 2025")
    expect(dropped).to_contain_text("none aboard, 1 ashore or lent")
    chain = page.locator('[data-piece="chain"] > li')
    expect(chain).to_have_count(2)
    expect(chain.first).to_contain_text("this part")
    dropped.get_by_role("link", name="Taken over by P055").tap()
    expect(page.locator('[data-piece="chain"] [aria-current]')).to_contain_text("P055")


def test_a_stand_in_is_named_with_its_proof_and_count(looker: Phone) -> None:
    page = looker.open("#/part/P001")
    expect(page.locator('[data-piece="stand-ins"]')).to_contain_text("P002")
    expect(page.locator('[data-piece="stand-ins"]')).to_contain_text("measured · 1 usable aboard")
    looker.open("#/part/P002")
    expect(page.locator('[data-piece="stands-in-for"]')).to_contain_text("P001")


def test_candidates_at_a_fit_point_show_proof_and_verdict(looker: Phone) -> None:
    page = looker.open("#/fit/ENG-04")
    for part, proof in (("P007", "maker's list"), ("P008", "candidate, not proved"),
                        ("P119", "candidate, not proved")):
        line = page.locator(f'main [data-part="{part}"]')
        expect(line).to_contain_text(proof)
        expect(line.locator(".fit-sign")).to_have_attribute(
            "data-verdict", VERDICTS["ENG-04", part])


def test_what_was_tried_and_failed_stands_apart_with_its_note(looker: Phone) -> None:
    page = looker.open("#/fit/ENG-06")
    expect(page.locator('[data-piece="tried"]')).to_contain_text("P011")
    expect(page.locator('[data-piece="tried"]')).to_contain_text("10 mm too long")
    looker.open("#/part/P011")
    expect(page.locator('main a[href="#/fit/ENG-06/with/P011"]')).to_contain_text("tried: no")
