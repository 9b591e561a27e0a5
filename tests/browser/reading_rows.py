"""Readings, torque, lessons, drawings with the boat's computer off: rows of the table of verbs."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from playwright.sync_api import expect

from tests.browser.drawing_rows import DRAWING_ROWS, drawings_arrived

if TYPE_CHECKING:
    from tests.browser.test_all_offline import Alone


def read_a_gauge(alone: Alone) -> None:
    form = alone.at("#/work/gauge/HBR").locator('[data-form="gauged"]')
    form.locator('[name="other"]').fill("exhaust")
    form.locator('[name="value"]').fill("82,5")
    form.locator('[name="hours"]').fill("3106")
    form.get_by_role("button", name="Record it").tap()
    gauge = alone.page.locator('[data-gauge="HBR exhaust"]')
    expect(gauge).to_have_attribute("data-state", "no-limit")
    gauge.locator("summary").tap()
    expect(gauge).to_contain_text("Too few readings to see a trend (1).")


def write_its_limits(alone: Alone) -> None:
    form = alone.at("#/aboard/machines/HBR/limits?name=exhaust").locator('[data-form="limits"]')
    form.locator('[name="high"]').fill("95")
    form.get_by_role("button", name="Record the limits").tap()
    expect(form).to_contain_text("Please fill this in")         # where they stand
    form.locator('[name="source"]').fill("maker's book, page 31")
    form.locator('[name="by"]').fill("Anna")
    form.get_by_role("button", name="Record the limits").tap()
    gauge = alone.page.locator('[data-gauge="HBR exhaust"]')
    expect(gauge).to_have_attribute("data-state", "within")
    gauge.locator("summary").tap()
    expect(gauge).to_contain_text("The book says at most 95 °C.")
    expect(gauge).to_contain_text("entered by Anna")
    expect(alone.at("#/work/S20").locator('[data-piece="card-gauges"]')).to_contain_text("82.5 °C")


def run_after_the_work(alone: Alone) -> None:
    """The figure that the job card kept since `work_by_the_job_card` becomes a reading."""
    page = alone.at("#/work/S20")
    page.locator('[name="run-leaks"]').fill("none at the cover")
    page.locator('[name="run-accepted"]').fill("Anna")
    alone.tap('button:has-text("Record it as done")')
    alone.says("HBR")
    expect(alone.at("#/aboard/machines/HBR").locator('[data-gauge="HBR oil"]')).to_contain_text(
        "4.5 bar")
    alone.tap('[data-piece="test-runs"] summary')
    expect(alone.page.locator('[data-piece="test-runs"]')).to_contain_text("accepted by Anna")


def note_the_days_run(alone: Alone) -> None:
    form = alone.at("#/restock/T2/days").locator('[data-form="daily-run"]')
    expect(form.locator('[name="machine"]')).to_have_value("HBR")
    form.locator('[name="hours"]').fill("3")
    form.locator('[name="litres"]').fill("4,2")
    form.locator('[name="charge_ah"]').fill("140")
    form.get_by_role("button", name="Record the day").tap()
    expect(alone.page.locator('[data-beside="hours_per_day"]')).to_contain_text("more than planned")
    expect(alone.page.locator('[data-beside="charge_ah_per_day"]')).to_contain_text("as planned")
    expect(alone.page.locator('[data-day="2027-03-15"]')).to_contain_text("3 h · 4.2 L · 140 Ah")


def tighten_a_joint(alone: Alone) -> None:
    alone.at("#/work/joint/J1")
    alone.tap('[data-piece="tightened"] details summary')
    form = alone.page.locator('[data-form="tightened"]')
    form.locator('[name="torque_used"]').fill("45 N·m")
    form.locator('[name="again_at"]').fill("1962,4")
    form.get_by_role("button", name="Record it").tap()
    expect(alone.page.locator('[data-joint="J1"]')).to_contain_text("Tighten again at 1962.4 h")
    expect(alone.at("#/work").locator('[data-piece="to-tighten"]')).to_contain_text("J1")


def doubt_a_count(alone: Alone) -> None:
    card = alone.at("#/part/P103").locator('[data-piece="answer-card"]')
    card.get_by_role("button", name="More").tap()
    alone.tap('[data-do="doubt"]')
    expect(card).to_contain_text("doubt")
    first = alone.at("#/aboard/counts").locator("[data-count-locker]").first
    expect(first).to_contain_text("1 count is doubted")
    expect(first).to_have_attribute("data-count-locker", "L15")


def count_it_blind(alone: Alone) -> None:
    """Fifteen fuses were written; nothing says so before one's own number stands there."""
    line = alone.at("#/aboard/counts/L15").locator('[data-count="P103"]')
    expect(line).not_to_contain_text("15")
    line.locator('[name="yours"]').fill("14")
    line.get_by_role("button", name="That is my count").tap()
    expect(line).to_contain_text("15 was written, you count 14.")
    line.locator('[name="reason"]').fill("taken in a hurry")
    line.get_by_role("button", name="Record 14").tap()
    expect(alone.page.locator('[data-count="P103"]')).not_to_contain_text("Doubted")


def type_in_a_slip_of_paper(alone: Alone) -> None:
    card = alone.at("#/part/P103").locator('[data-piece="answer-card"]')
    card.get_by_role("button", name="More").tap()
    card.get_by_role("button", name="Took", exact=True).tap()
    form = card.locator('[data-form="took"]')
    form.locator("details summary").tap()
    form.locator('[name="at-day"]').fill("10")
    form.locator('[name="at-month"]').select_option("3")
    form.locator('[name="at-year"]').fill("2027")
    form.get_by_role("button", name="Took it").tap()
    expect(card).to_contain_text("13 here")


def learn_a_job(alone: Alone) -> None:
    page = alone.at("#/work/S22/learn")
    screen = page.locator("[data-screen]")
    seen = []
    while (kind := screen.get_attribute("data-screen")) != "end":
        seen.append(kind)
        if kind == "off":
            expect(screen.locator('[data-piece="hands-off"]')).to_contain_text("Hands off")
        if kind == "count":
            screen.locator('[name="count"]').fill("99")
            screen.get_by_role("button", name="Is it right?").tap()
            expect(screen.locator('[data-piece="told"]')).to_contain_text("Count once more")
        page.get_by_role("button", name="Next").tap()
        expect(page.get_by_text(f"{len(seen) + 1} of ")).to_be_visible()
    assert seen[0] == "what" and {"off", "find", "count"} <= set(seen)
    form = page.locator('[data-form="lesson"]')
    form.locator('[name="seen"]').fill("six vanes")
    form.locator('[name="learner"]').fill("Mia")
    form.locator('[name="confirmed_by"]').fill("Anna")
    form.get_by_role("button", name="Record it").tap()
    alone.says("Mia")


def readings_arrived(told: Callable[[str], Any]) -> None:
    """Ask the boat's computer for all of it."""
    gauges = {one["name"]: one for one in told("gauges?machine=HBR")["gauges"]}
    assert (gauges["exhaust"]["state"], gauges["exhaust"]["high"]) == ("within", 95)
    assert gauges["oil"]["last"]["value"] == 4.5
    assert told("trips/T2/days")["days"][0]["charge_ah"] == 140
    assert told("joints")["to_tighten"][0]["again_at_hours"] == 1962.4
    assert sum(one["doubtful"] for one in told("counts")["lockers"]) == 0
    assert told("services/S22/card")["lessons"][0]["confirmed_by"] == "Anna"
    states = {one["service"]: one["state"] for one in told("due")["services"]}
    assert states["S21"] not in ("due", "overdue")
    drawings_arrived(told)


READING_ROWS = [
    (read_a_gauge, ["set", "set"]), (write_its_limits, ["set"]),
    (run_after_the_work, ["service", "set", "set"]), (note_the_days_run, ["set"]),
    (tighten_a_joint, ["set"]), (doubt_a_count, ["set"]), (count_it_blind, ["counted", "set"]),
    (type_in_a_slip_of_paper, ["took"]), (learn_a_job, ["set"]), *DRAWING_ROWS,
]
