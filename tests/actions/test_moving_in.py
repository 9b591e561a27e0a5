"""Moving in from an old spreadsheet: looked at, brought in and undone as one, the rest given back.

Five thousand rows of which four hundred have a fault each; what each fault must come to is written
beside it, apart from the program.
"""

from __future__ import annotations

import csv
import io
import random
from collections import Counter

import pytest

from spares.actions.context import Context
from spares.actions.find import find
from spares.actions.moving_in import bring_sheet_in, left_out_of_sheet, look_at_sheet
from spares.actions.put import put
from spares.actions.show import lockers, machines, parts, show
from spares.actions.undo import undo
from spares.db.dump import logical_dump
from spares.db.history import newest
from tests.conftest import LONG

ROWS, FAULTS, PLACES = 5000, 400, 40
#: As many are brought in and taken back in the usual run.
FEWER = (5000, 400) if LONG else (1000, 80)
HEADER = ("Description", "Brand", "Part no.", "Stowage", "Qty", "Unit price EUR", "Use by",
          "Remarks")
#: What is typed into which column, and what must become of the row.
FAULT = (
    (4, "ca. {n}", "look-at"), (4, "{n} pcs", "look-at"), (4, "a few", "look-at"),
    (4, "", "look-at"), (5, "ask", "look-at"), (3, "", "look-at"), (0, "", "look-at"),
    (4, "-{n}", "skip"), (4, "see drawing", "skip"), (6, "30.02.2028", "skip"),
    (6, "next year", "skip"), (4, "#REF!", "skip"), (0, "Total", "skip"))


def untidy(count: int, faults: int) -> tuple[list[list[str]], Counter[str], dict[int, str]]:
    """Make the rows; give them, how many are of each verdict, and the verdict by row number."""
    rng = random.Random(20270315)
    faulty = set(rng.sample(range(count), faults))
    rows, verdicts = [], {}
    for i in range(count):
        n = rng.randint(1, 40)
        row = [f"Part {i}", rng.choice(["Nordwik", "Tarnhelm", ""]), f"NW {i:05}",
               rng.choice([" ", ""]) + f"Locker {rng.randrange(PLACES)}", str(n),
               f"{n},50" if i % 3 else "", f"{1 + i % 28:02}.{1 + i % 12:02}.2031" if i % 5 else "",
               rng.choice(["", "old stock", "from the refit"])]
        verdicts[i + 4] = "good"        # a title, a blank line and the header stand above
        if i in faulty:
            column, text, verdicts[i + 4] = FAULT[len(verdicts) % len(FAULT)]
            row[column] = text.format(n=n)
        rows.append(row)
    return rows, Counter(verdicts.values()), verdicts


def as_csv(rows: list[list[str]]) -> bytes:
    out = io.StringIO()
    csv.writer(out, delimiter=";").writerows([["Inventory, last touched 2019"], [], HEADER, *rows])
    return out.getvalue().encode("cp1252")


def aboard(ctx: Context) -> object:
    """Give all that she has, as a person would find it."""
    return parts(ctx, limit=1000), lockers(ctx), machines(ctx), [
        find(ctx, word)["hits"] for word in ("part", "locker", "pump")]


def dumped(ctx: Context) -> object:
    with ctx.store.reading() as session:
        return logical_dump(session, ctx.vessel)


def test_five_thousand_untidy_rows_are_looked_at_and_nothing_is_written(ctx: Context) -> None:
    rows, count, verdicts = untidy(ROWS, FAULTS)
    before = dumped(ctx)
    looked = look_at_sheet(ctx, as_csv(rows), "old.csv")
    assert dumped(ctx) == before, "nothing is written before a yes"
    assert (looked["good"], looked["look_at"], looked["skip"]) == (
        count["good"], count["look-at"], count["skip"])
    assert looked["good"] == ROWS - FAULTS
    told = {line["row"]: line["verdict"] for line in looked["lines"]}
    assert told == {row: verdict for row, verdict in verdicts.items() if verdict != "good"}
    assert len(looked["new_lockers"]) == PLACES


def test_good_rows_come_in_as_one_and_go_back_whole(ctx: Context) -> None:
    rows, count, verdicts = untidy(*FEWER)
    content, before = as_csv(rows), aboard(ctx)
    good = FEWER[0] - FEWER[1]
    steps: list[tuple[int, int]] = []
    answer = bring_sheet_in(ctx, content, "old.csv", told=lambda *step: steps.append(step))
    assert (answer["rows"], answer["left_out"]) == (good, FEWER[1])
    assert answer["things"]["part"] == answer["things"]["counted"] == good
    assert steps == sorted(steps) and len(steps) > 2 and steps[-1][0] == steps[-1][1]
    with ctx.store.reading() as session:
        assert {row.batch for row in newest(session, ctx.vessel, answer["changes"])} == {
            answer["batch"]}
    one = next(i for i in range(FEWER[0]) if verdicts[i + 4] == "good" and rows[i][6])
    part = find(ctx, rows[one][2])["hits"][0]
    assert (part["name"], part["aboard"]) == (rows[one][0], float(rows[one][4]))
    assert part["where"][0]["name"] == rows[one][3].strip()
    day, month, year = rows[one][6].split(".")
    assert part["where"][0]["expires"] == f"{year}-{month}-{day}"
    assert bring_sheet_in(ctx, content, "old.csv")["changes"] == 0, "the same file says nothing new"
    left = list(csv.reader(io.StringIO(left_out_of_sheet(content).decode("utf-8-sig"))))
    assert [int(line[-2]) for line in left[1:]] == [
        row for row, verdict in verdicts.items() if verdict != "good"]
    assert all(line[-1] for line in left[1:])
    undo(ctx, answer["batch"])
    assert aboard(ctx) == before


@pytest.fixture
def few() -> bytes:
    return (b"Item;Maker;Number;Where;Qty\nFilter;Fennholt;FH 5;port SHELF;9\n"
            b"Belt;Kallbrook;KB 7;Forepeak;ca. 2\nSeal;;;Forepeak;lots of\n")


def test_what_is_aboard_already_keeps_its_record_and_is_counted(ctx: Context, few: bytes) -> None:
    """P05 is the filter FH 5 and lies in L01, the port shelf."""
    answer = bring_sheet_in(ctx, few)
    assert answer["things"] == {"counted": 1}
    place, = show(ctx, "P05")["where"]
    assert (place["locker"], place["quantity"]) == ("L01", 9)
    assert show(ctx, "P05")["price"] is None


def test_rows_to_look_at_come_in_as_suggested_when_that_is_said(ctx: Context, few: bytes) -> None:
    assert look_at_sheet(ctx, few)["coming"] == 1
    assert look_at_sheet(ctx, few, suggestions=True)["coming"] == 2
    bring_sheet_in(ctx, few, suggestions=True)
    belt = find(ctx, "KB 7")["hits"][0]
    assert (belt["aboard"], belt["where"][0]["name"]) == (2, "Forepeak")
    made = next(one for one in lockers(ctx)["lockers"] if one["name"] == "Forepeak")
    assert (made["no"], len(made["code"])) == ("L04", 4)
    text = left_out_of_sheet(few, suggestions=True).decode("utf-8-sig")
    assert "Seal" in text and "Belt" not in text


def test_sheet_that_was_taken_back_comes_in_again(ctx: Context, few: bytes) -> None:
    before = aboard(ctx)
    undo(ctx, bring_sheet_in(ctx, few, suggestions=True)["batch"])
    assert aboard(ctx) == before
    again = bring_sheet_in(ctx, few, suggestions=True)
    assert again["changes"] > 0 and show(ctx, "P05")["where"][0]["quantity"] == 9


def test_place_in_which_something_else_lies_by_now_stays(ctx: Context, few: bytes) -> None:
    batch = bring_sheet_in(ctx, few, suggestions=True)["batch"]
    put(ctx, "P02", "L04", 1)
    undo(ctx, batch)
    kept = next(one for one in lockers(ctx)["lockers"] if one["no"] == "L04")
    assert (kept["name"], kept["lines"]) == ("Forepeak", 1)
    assert find(ctx, "KB 7")["hits"] == []
