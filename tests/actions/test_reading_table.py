"""Which figures of an hour counter are asked about as they are entered: a table by hand.

The machine of each case has run 1 h a day: 100 h on 1 December, 140 h on 10 January, 180 h on
19 February, unless the case says otherwise. Today is 15 March 2027, 24 days later: up to
180 + 5 * 24 = 300 h is five times the usual, up to 180 + 24 * 24 = 756 h is round the clock.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.context import Context
from spares.actions.done import done
from spares.actions.reading import reading
from spares.actions.show import show
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.errors import AskFirst, InvalidInput
from tests.actions.conftest import TODAY

USUAL = (("2026-12-01", 100), ("2027-01-10", 140), ("2027-02-19", 180))
CHANGED = (*USUAL, ("2027-02-20", 0, "new counter"))
SECOND_HAND = (*USUAL, ("2027-02-20", 300, "New counter, second-hand"))
SLIPPED = (*USUAL, ("2027-02-25", 2040, "read twice, it is so"))
NOTED = (*USUAL, ("2027-03-01", 190, "service"))


@dataclass(frozen=True)
class Case:
    """What was known, what is entered, what is asked (or the field that is refused)."""

    what: str
    known: tuple[tuple[Any, ...], ...]
    enters: Any
    asks: str | None = None
    at: str | None = None
    refused: str | None = None
    by: str = "own"         # own counter, the one it shares, or none


CASES = [
    Case("an hour a day", USUAL, 204),
    Case("not run since", USUAL, 180),
    Case("a tenth lower", USUAL, "179.9", "lower"),
    Case("the last digit left out", USUAL, 20, "lower"),
    Case("one digit too many", USUAL, 2040, "above-24-h-a-day"),
    Case("the point one place too far left", USUAL, "20.4", "lower"),
    Case("two digits swapped", USUAL, 402, "five-times-usual"),
    Case("exactly five times the usual", USUAL, 300),
    Case("a tenth over five times the usual", USUAL, "300.1", "five-times-usual"),
    Case("round the clock, nothing usual to compare", USUAL[2:], 756),
    Case("a tenth over round the clock", USUAL[2:], "756.1", "above-24-h-a-day"),
    Case("the first figure of an old machine", (), 11840),
    Case("the first figure of a new machine", (), 0),
    Case("a counter at nought, nobody said it is new", USUAL, 0, "lower"),
    Case("a day after a new counter", CHANGED, 23),
    Case("the old counter's figure after a new one", CHANGED, 190, "five-times-usual"),
    Case("below what a second-hand counter began at", SECOND_HAND, 290, "lower"),
    Case("on from what a second-hand counter began at", SECOND_HAND, 323),
    Case("late, between two", USUAL, 160, at="2027-01-30"),
    Case("late, higher than the later one", USUAL, 190, "higher-than-later", at="2027-01-30"),
    Case("late, lower than the one before", USUAL, 139, "lower", at="2027-01-30"),
    Case("late, before all", USUAL, 70, at="2026-11-01"),
    Case("late, before all and higher", USUAL, 101, "higher-than-later", at="2026-11-01"),
    Case("late, of the counter that was taken off", CHANGED[:2] + CHANGED[3:], 171,
         at="2027-02-10"),
    Case("the same day, the same figure", USUAL, 180, at="2027-02-19"),
    Case("the same day, five hours on", USUAL, 185, at="2027-02-19"),
    Case("the same day, lower", USUAL, 175, "lower", at="2027-02-19"),
    Case("shared counter, an hour a day", USUAL, 204, by="shared"),
    Case("shared counter, lower", USUAL, 170, "lower", by="shared"),
    Case("shared counter, tenfold", USUAL, 2040, "above-24-h-a-day", by="shared"),
    Case("no counter", (), 5, refused="#/machine", by="none"),
    Case("after a doubtful one, on from the last trusted", SLIPPED, 205),
    Case("after a doubtful one, on from the doubtful", SLIPPED, 2041, "above-24-h-a-day"),
    Case("below what a service noted", NOTED, 185, "lower"),
    Case("on from what a service noted", NOTED, 204),
    Case("late, above what a later service noted", NOTED, 195, "higher-than-later",
         at="2027-02-25"),
    Case("laid up all winter, then run", (("2026-10-01", 100), ("2027-02-19", 100)), 150),
    Case("runs day and night", (("2027-01-01", 0), ("2027-02-20", 1200)), 1752),
    Case("runs day and night, an hour too much", (("2027-01-01", 0), ("2027-02-20", 1200)), 1753,
         "above-24-h-a-day"),
    Case("decimal comma", USUAL, "204,5"),
    Case("a mark and three digits", USUAL, "1.204", refused="#/hours"),
    Case("below nought", USUAL, -1, refused="#/hours"),
    Case("words", USUAL, "about 200", refused="#/hours"),
    Case("a day to come", USUAL, 204, refused="#/at", at="2027-03-16"),
    Case("a month only", USUAL, 204, refused="#/at", at="2027-03"),
]


def _files() -> dict[str, str]:
    machines, readings, services = [], [], []
    for n, case in enumerate(CASES):
        machines.append(f"M{n:02};x;{'none' if case.by == 'none' else 'own'};")
        machines.append(f"S{n:02};x;of;M{n:02}")
        services.append(f"J{n:02};look;M{n:02};100")
        readings += [f"M{n:02};{on};{h};{why[0] if why else ''}" for on, h, *why in case.known
                     if why != ["service"]]
    return {"vessel": "mark;name\nTAB;TABLE\n",
            "machines": "\n".join(["no;name;counter;counter_of", *machines]),
            "services": "\n".join(["no;what;machine;every_h", *services]),
            "readings": "\n".join(["machine;date;hours;because", *readings])}


@pytest.fixture(scope="module")
def table(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Context]:
    """One machine a case; a case looks at its own alone."""
    folder = tmp_path_factory.mktemp("table")
    (folder / "files").mkdir()
    for name, text in _files().items():
        (folder / "files" / f"{name}.csv").write_text(text + "\n", encoding="utf-8")
    store = open_store(folder / "spares.sqlite")
    bring_in(store, folder / "files")
    with store.reading() as session:
        ctx = Context(store, vessels(session)[0][0], TODAY)
    for n, case in enumerate(CASES):
        for on, h in (one[:2] for one in case.known if one[2:] == ("service",)):
            done(ctx, f"J{n:02}", at=on, run=h)
    yield ctx
    store.close()


def _trusted(ctx: Context, machine: str) -> Any:
    return show(ctx, machine)["hours"]


@pytest.mark.parametrize("n", range(len(CASES)), ids=[case.what for case in CASES])
def test_a_figure_is_asked_about_at_entry_and_stored_only_with_the_reason(
        table: Context, n: int) -> None:
    case, owner = CASES[n], f"M{n:02}"
    machine = f"S{n:02}" if case.by == "shared" else owner
    before, trusted = len(show(table, owner)["readings"]), _trusted(table, owner)
    if case.refused:
        with pytest.raises(InvalidInput) as said:
            reading(table, machine, case.enters, at=case.at)
        assert said.value.facts["errors"][0]["pointer"] == case.refused
    elif case.asks is None:
        assert reading(table, machine, case.enters, at=case.at)["machine"] == owner
        last = show(table, owner)["readings"][-1] if case.at is None else None
        assert last is None or last["doubt"] is None
    else:
        for nothing in (None, "", "  "):
            with pytest.raises(AskFirst) as asked:
                reading(table, machine, case.enters, at=case.at, because=nothing)
            assert asked.value.facts["asks"] == case.asks
        assert len(show(table, owner)["readings"]) == before, "nothing is stored yet"
        reading(table, machine, case.enters, at=case.at, because="read by lamp, it is so")
        kept = [one for one in show(table, owner)["readings"]
                if one["because"] == "read by lamp, it is so"]
        assert len(kept) == 1 and kept[0]["doubt"]
        assert _trusted(table, owner) == trusted, "used nowhere"


def test_the_table_has_forty_cases_and_of_each_sort():
    assert len(CASES) >= 40
    assert {case.asks for case in CASES} == {
        None, "lower", "above-24-h-a-day", "five-times-usual", "higher-than-later"}


@pytest.mark.parametrize(("because", "enters", "trusted"), [
    ("new counter", 3, 3), ("New counter, second-hand", 90, 90),
    ("last entry was a slip", 340, 340),            # on from the 200 h of September
    ("The last entry was a slip: 305", 306, 306),
    ("last entry was a slip", 199, 350),            # lower than September's too: still in doubt
    ("read late", 340, 350), ("it is so", 349, 350)])
def test_what_the_reason_makes_of_a_lower_figure(
        ctx: Context, because: str, enters: float, trusted: float) -> None:
    with pytest.raises(AskFirst):
        reading(ctx, "ENG", enters)
    reading(ctx, "ENG", enters, because=because)
    assert _trusted(ctx, "ENG") == trusted


def test_a_corrected_slip_is_kept_and_named(ctx: Context) -> None:
    reading(ctx, "ENG", 340, because="last entry was a slip")
    doubts = {one["hours"]: one["doubt"] for one in show(ctx, "ENG")["readings"]}
    assert doubts == {100: None, 200: None, 350: "a slip, says the reading of 2027-03-15",
                      340: None}
