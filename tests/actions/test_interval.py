"""A service comes round sooner or later than before, or is not wanted here, and says why."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.due import due
from spares.actions.interval import interval
from spares.actions.show import show
from spares.actions.undo import undo
from spares.errors import InvalidInput


def line(ctx: Context, no: str) -> dict[str, Any]:
    return next(one for one in due(ctx)["services"] if one["service"] == no)


def test_a_shorter_interval_is_due_sooner_and_keeps_its_reason(demo: Context) -> None:
    # last done at 2610,0 h: every 500 h falls due at 3110, every 300 h at 2910, of 3105,6 now
    assert (line(demo, "S24")["state"], line(demo, "S24")["due_at_hours"]) == ("coming", 3110)
    told = interval(demo, "S24", "growth in the tubes after 400 h", every_hours=300)
    assert told["text"] == "S24: 300 h / 24 mo"
    assert (line(demo, "S24")["state"], line(demo, "S24")["due_at_hours"]) == ("overdue", 2910)
    assert demo.aboard().get(f"service/{show(demo, 'S24', 'service')['id']}").note == (
        "2027-03-15: 500 h / 24 mo -> 300 h / 24 mo: growth in the tubes after 400 h")
    undo(demo, told["change"])
    assert line(demo, "S24")["due_at_hours"] == 3110


def test_what_is_not_wanted_here_is_asked_for_no_more_until_it_is_wanted(demo: Context) -> None:
    interval(demo, "S28", "no boiler any more", not_wanted=True)
    assert line(demo, "S28")["state"] == "not-wanted"
    interval(demo, "S28", "a new boiler came", not_wanted=False, every_months=6)
    assert (line(demo, "S28")["state"], line(demo, "S28")["due_on"]) == ("coming", "2027-04-01")


@pytest.mark.parametrize("asked", [
    {"because": " ", "every_hours": 300}, {"because": "x" * 301, "every_hours": 300},
    {"because": "as it is", "every_hours": 500, "every_months": 24},
    {"because": "nothing said"}, {"because": "never", "every_hours": -1},
    {"because": "never", "every_hours": "nan"}, {"because": "never", "every_months": -3}])
def test_without_a_reason_or_a_difference_nothing_is_written(
        demo: Context, asked: dict[str, Any]) -> None:
    with pytest.raises(InvalidInput):
        interval(demo, "S24", **asked)


def _note(ctx: Context) -> str:
    return ctx.aboard().get(ctx.named("S24", "service", "service")).note or ""


def test_the_oldest_reasons_make_room_and_a_persons_own_words_stay(demo: Context) -> None:
    own = "2025-06-01: the drain plug is on port -> mind the wiring, it is hot"
    before = "2026-05-01: 400 h or 24 months -> 500 h or 24 months, from before"
    write_document(demo, "service", {"note": f"{own}\n{before}"}, doc=demo.named(
        "S24", "service", "service"))
    for turn in range(16):
        interval(demo, "S24", f"reason {turn} ".ljust(300, "x"), every_hours=300 + turn)
    lines = _note(demo).split("\n")
    # 4000 characters hold the own line [67] and eleven of 43 + 300 with their ends, not twelve
    assert lines[0] == own and before not in lines and len(lines) == 12
    assert [line.split("reason ")[1].split()[0] for line in lines[1:]] == [
        str(turn) for turn in range(5, 16)]


def test_a_note_that_a_person_filled_refuses_a_reason_by_its_field(demo: Context) -> None:
    write_document(demo, "service", {"note": "x" * 3990}, doc=demo.named(
        "S24", "service", "service"))
    with pytest.raises(InvalidInput) as told:
        interval(demo, "S24", "growth", every_hours=300)
    assert told.value.facts["errors"][0]["pointer"] == "#/because"
    assert line(demo, "S24")["due_at_hours"] == 3110
