"""Loans between vessels with the boat's computer switched off: rows of the table."""

from __future__ import annotations

import json
from typing import Any

from playwright.sync_api import Locator, expect

from spares.domain.slip import read_slip
from tests.client.lent_slips import back_from_her, slip_from_her

HERS = "00000000-0000-4000-8000-0000000000d7"


def _line(alone: Any, text: str) -> Locator:
    return alone.page.locator("[data-loan]", has_text=text)


def _slip_shown(alone: Any, button: str, line: Locator) -> Any:
    line.get_by_role("button", name=button).tap()
    return read_slip(json.loads(line.locator('[data-piece="slip"] textarea').input_value()))


def _paste(alone: Any, slip: Any, says: str) -> None:
    alone.page.locator('[name="slip"]').fill(json.dumps(slip))
    expect(alone.page.locator('[data-form="slip-in"]')).to_contain_text(says)


def write_a_slip(alone: Any) -> None:
    """What was lent above goes with a slip that the other vessel can take in."""
    alone.at("#/aboard/loans")
    slip = _slip_shown(alone, "Slip to send", _line(alone, "to HESTEREJE"))
    assert (slip["kind"], [one["q"] for one in slip["lines"]]) == ("loan", [1000])


def take_in_a_slip(alone: Any) -> None:
    alone.at("#/aboard/loans")
    damaged = {**slip_from_her(HERS, (2000,)), "on": "2027-03-01"}
    alone.page.locator('[name="slip"]').fill(json.dumps(damaged))
    expect(alone.page.locator('[data-piece="slip-in"]')).to_contain_text("damaged")
    _paste(alone, slip_from_her(HERS, (2000,)), "HESTEREJE lends 2 of Fan belt")
    alone.page.locator('[name="slip-locker"]').fill("L20")
    alone.tap('button:has-text("Take it in")')
    expect(_line(alone, "from HESTEREJE")).to_contain_text("2 of P")


def give_one_back(alone: Any) -> None:
    line = _line(alone, "from HESTEREJE")
    line.get_by_role("button", name="Give back").tap()
    line.locator('[name="quantity"]').fill("1")
    line.get_by_role("button", name="Gave it back").tap()
    expect(line).to_contain_text("1 back")
    slip = _slip_shown(alone, "Slip of what went back", line)
    assert (slip["kind"], slip["loan"], slip["lines"][0]["q"]) == ("return", HERS, 1000)


def take_it_home(alone: Any) -> None:
    """The borrower's slip puts the piece back where it came from; the same one again does not."""
    line = _line(alone, "to HESTEREJE")
    slip = back_from_her(line.get_attribute("data-loan"), 1000)
    for said in ("Taken in.", "Nothing changed."):
        _paste(alone, slip, "gave back 1")
        alone.tap('button:has-text("Take it in")')
        expect(alone.page.locator('[data-piece="slip-in"]')).to_contain_text(said)
    expect(line).to_contain_text("1 back")
