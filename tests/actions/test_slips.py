"""One wrong or missing record keeps nobody from finding a part, and makes nothing look well."""

from __future__ import annotations

from concurrent.futures import Future, ThreadPoolExecutor, wait
from pathlib import Path
from typing import Any

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.changes import changes
from spares.actions.context import Context, clock_ms, open_context
from spares.actions.documents import write_document
from spares.actions.done import kit_lines
from spares.actions.due import due
from spares.actions.exchange import exchange
from spares.actions.find import find
from spares.actions.fit import fit
from spares.actions.lent import lent
from spares.actions.moving_in import bring_sheet_in
from spares.actions.put import put
from spares.actions.reading import reading
from spares.actions.same import same
from spares.actions.show import show
from spares.actions.summary import summary
from spares.actions.took import took
from spares.actions.trip.restock import restock
from spares.actions.trip.write import new_trip
from spares.actions.undo import undo
from spares.config import read_settings
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.db.rebuild import rebuild
from spares.domain.draft import setting
from spares.errors import Conflict, InvalidInput, NotFound


def planned(ctx: Context) -> dict[str, Any]:
    """Plan the one trip of the test: it needs the kit of S01 once."""
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    return restock(ctx, "T1")


def doc(ctx: Context, what: str, kind: str) -> str:
    """Give the name of a document."""
    return ctx.named(what, kind, kind)


@pytest.mark.parametrize(("what", "kind"), [("P05", "part"), ("ENG", "machine"),
                                            ("ENG-02", "point"), ("S01", "service")])
def test_a_thing_off_the_books_stops_no_answer(ctx: Context, what: str, kind: str) -> None:
    planned(ctx)
    write_document(ctx, kind, {"gone": True}, doc=doc(ctx, what, kind))
    assert find(ctx, "filter")["hits"] is not None
    assert restock(ctx, "T1")["lines"] is not None
    assert due(ctx)["services"] is not None
    assert summary(ctx)["vessel"]["mark"] == "TST"


def test_of_what_no_plan_can_count_nothing_is_called_enough(ctx: Context) -> None:
    planned(ctx)
    assert (summary(ctx)["plan_fault"], show(ctx, "P05")["state"]) == (None, "enough")
    with pytest.raises(InvalidInput, match="above 0"):
        write_document(ctx, "failure", {"part": doc(ctx, "P05", "part"), "figures": {"mtbf_h": -1}})
    one_age_too_many = {"weibull": {"beta": 2, "eta_h": 900, "ages_h": [0, 5]}, "units": 1}
    write_document(ctx, "failure", {"part": doc(ctx, "P05", "part"), "figures": one_age_too_many,
                                    "machine": doc(ctx, "ENG", "machine")})
    plan = planned(ctx)
    line = next(one for one in plan["lines"] if one["part"] == "P05")
    for said in (plan["remarks"], line["remarks"]):
        assert any(one.startswith("P05 on ENG, its failure figure") and one.endswith("left out")
                   for one in said)
    assert (line["state"], plan["no_figure"], plan["failures"]) == ("cannot-say", ["P05"], [])
    assert any("None of the failure figures" in one for one in plan["remarks"])
    assert show(ctx, "P05")["state"] is None, "nobody knows what is enough of it"
    assert summary(ctx)["plan_fault"] is None


def test_a_trip_leaves_on_a_whole_day(ctx: Context) -> None:
    with pytest.raises(InvalidInput, match="whole day"):
        write_document(ctx, "trip", {"name": "Soon", "departs_on": "2027-04"})


def test_what_is_missing_in_one_locker_is_taken_off_the_other(ctx: Context) -> None:
    took(ctx, "P05", "L02", 3)      # from the wrong locker: there were none
    line = next(one for one in planned(ctx)["lines"] if one["part"] == "P05")
    assert line["usable"] == 1


def test_a_box_in_a_shed_ashore_is_ashore(ctx: Context) -> None:
    write_document(ctx, "locker", {"no": "L09", "name": "Box", "parent": doc(ctx, "L03", "locker")})
    answer = put(ctx, "P06", "L09", 2)
    assert (answer["part"]["aboard"], answer["part"]["tags"]) == (0, ["ashore"])


def test_a_kit_takes_no_piece_twice(ctx: Context) -> None:
    service = doc(ctx, "S01", "service")
    write_document(ctx, "kit-line", {"service": service, "q": 1000,
                                     "part": doc(ctx, "P06", "part")})
    write_document(ctx, "stand-in", {"part": doc(ctx, "P05", "part"), "proof": "measured",
                                     "for_part": doc(ctx, "P06", "part")})
    took(ctx, "P05", "L01", 3)
    lines, missing = kit_lines(ctx.aboard(), service, "2027-03-15")
    assert (sum(one["q"] for one in lines), sum(q for _, q in missing)) == (1000, 1000)


@pytest.mark.parametrize(("at", "say"), [("2031-01-01", "still to come"),
                                         ("2019-12-31", "fitted later")])
def test_an_exchange_on_an_impossible_day_is_refused(ctx: Context, at: str, say: str) -> None:
    with pytest.raises(InvalidInput, match=say):
        exchange(ctx, "ENG-01", "P02", at=at)


def test_what_was_taken_off_the_books_can_be_written_again(ctx: Context) -> None:
    made = write_document(ctx, "part", {"no": "P90", "name": "Torch"})
    write_document(ctx, "part", {"gone": True}, doc=made["doc"])
    write_document(ctx, "part", {"no": "P90", "name": "Hand torch"})
    assert show(ctx, "P90")["name"] == "Hand torch"


def test_a_borrowers_place_comes_back_after_an_undo(ctx: Context) -> None:
    lent(ctx, "P05", "L01", "Ann", 1)
    undo(ctx)
    place = lent(ctx, "P05", "L01", "Ann", 1)["part"]["where"][-1]["locker"]
    assert show(ctx, place)["lent_to"] == "Ann"


def test_a_code_of_another_locker_is_refused_on_edit(ctx: Context) -> None:
    with pytest.raises(Conflict, match="NNH9"):
        write_document(ctx, "locker", {"code": "NNH9"}, doc=doc(ctx, "L02", "locker"))


def test_a_label_of_another_vessel_opens_no_locker(ctx: Context) -> None:
    answer = find(ctx, "HRE:LNNH9")
    assert (answer["hits"], answer["by"]) == ([], "nothing")
    assert "HRE" in answer["message"]
    assert find(ctx, "TST:LNNH9")["hits"][0]["no"] == "L01"


def test_two_specs_that_disagree_decide_nothing(ctx: Context) -> None:
    point, part = doc(ctx, "ENG-02", "point"), doc(ctx, "P05", "part")
    write_document(ctx, "requirement", {"subject": point, "attribute": "can_diameter",
                                        "claim": {"value": "80", "cmp": "tol", "tol": "1",
                                                  "severity": "stop"}})
    write_document(ctx, "spec", {"part": part, "attribute": "can_diameter",
                                 "claim": {"value": "80"}})
    assert fit(ctx, "ENG-02", "P05")["verdict"] == "fits"

    ctx.write([setting("spec/00000000-0000-4000-8000-000000000009", part=part,
                       attribute="can_diameter", claim={"value": "95"})])
    assert fit(ctx, "ENG-02", "P05")["verdict"] == "not-known-yet"


def test_a_note_may_begin_as_it_likes(ctx: Context) -> None:
    put(ctx, "P05", "L01", 1, note="undo of the mess below")
    assert undo(ctx)["text"] == "Undid: Put 1 of P05 into L01"


def test_a_bare_undo_never_takes_back_what_came_in_a_file(ctx: Context) -> None:
    took(ctx, "P05", "L01", 1)
    undo(ctx)
    with pytest.raises(NotFound, match="came in a file"):
        undo(ctx)
    assert show(ctx, "P05")["aboard"] == 4


def test_requests_at_once_get_numbers_of_their_own(ctx: Context) -> None:
    with ThreadPoolExecutor(8) as hands:
        made = list(hands.map(
            lambda i: write_document(ctx, "part", {"name": f"Thing {i}"})["no"], range(16)))
    assert len(set(made)) == 16
    names = {one.name for one in ctx.aboard().all("part")}
    assert {f"Thing {i}" for i in range(16)} <= names


def test_what_is_written_while_a_file_comes_in_has_a_number_of_its_own(ctx: Context) -> None:
    with ThreadPoolExecutor(1) as hand:
        def meanwhile(done: int, of: int) -> None:
            if not asked:
                asked.append(hand.submit(write_document, ctx, "part", {"name": "Thing"}))
                wait(asked, timeout=0.5)        # it comes as far as it can
        asked: list[Future[Any]] = []
        bring_sheet_in(ctx, b"Name,Place,Count\nGasket,Port shelf,2\n", told=meanwhile)
        mine = asked[0].result()["no"]
    numbers = [one.no for one in ctx.aboard().all("part")]
    assert len(set(numbers)) == len(numbers) == 8 and mine in numbers


def test_a_vessel_that_is_brought_in_twice_at_once_is_there_once(tmp_path: Path) -> None:
    store, files = open_store(tmp_path / "new.sqlite"), tmp_path / "files"
    files.mkdir()
    (files / "vessel.csv").write_text("mark;name\nTST;TEST HULL\n")
    (files / "parts.csv").write_text("no;name\nP01;Old pump\n")
    with ThreadPoolExecutor(1) as hand:
        def meanwhile() -> int:
            if not asked:
                asked.append(hand.submit(bring_in, store, files))
                wait(asked, timeout=0.5)
            return clock_ms()
        asked: list[Future[Any]] = []
        bring_in(store, files, now_ms=meanwhile)
        assert asked[0].result()["changes"] == 0
    with store.reading() as session:
        assert [mark for _, mark in vessels(session)] == ["TST"]
    store.close()


def test_a_trip_is_taken_back_with_its_hours(ctx: Context) -> None:
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    assert undo(ctx)["changes"] == 2
    assert ctx.aboard().all("trip") == []


def test_one_line_of_a_file_goes_back_alone(ctx: Context) -> None:
    lines = changes(ctx, 500)["changes"]
    counted = next(one for one in lines if one["text"].startswith("Counted 4 of P05"))
    assert undo(ctx, counted["id"])["changes"] == 1
    assert show(ctx, "P03")["aboard"] == 6


def test_more_hours_than_the_days_have_are_refused(ctx: Context) -> None:
    with pytest.raises(InvalidInput, match="24 hours"):
        new_trip(ctx, "Day out", "2027-04-01", "2027-04-02", run={"ENG": 30})


@pytest.mark.parametrize("value", ["1.920", "1,920"])
def test_a_mark_before_three_digits_is_asked_about(ctx: Context, value: str) -> None:
    with pytest.raises(InvalidInput, match="1920 or 1.920"):
        reading(ctx, "ENG", value)


def test_a_mistyped_store_is_not_made(tmp_path: Path) -> None:
    path = tmp_path / "spaers.sqlite"
    with pytest.raises(NotFound, match="no store"):
        open_context(read_settings({"SPARES_STORE": str(path)}))
    assert not path.exists()


def test_a_code_is_on_one_label(ctx: Context, tmp_path: Path) -> None:
    (tmp_path / "lockers.csv").write_text("no;name;code\nL77;Thief;NNH9\n", "utf-8")
    with pytest.raises(InvalidInput, match="another label"):
        bring_in(ctx.store, tmp_path / "lockers.csv")
    write_document(ctx, "part", {"no": "NNH9", "name": "Named like a label"})
    assert find(ctx, "NNH9")["hits"][0]["no"] == "L01"


def test_what_was_said_of_a_merged_part_holds_for_the_kept_one(ctx: Context) -> None:
    """The filter's own record was dropped: its link, kit line and keep level go on."""
    planned(ctx)
    same(ctx, "P06", "P05")
    kept = show(ctx, "P06")
    assert (kept["usable"], kept["need"], kept["state"]) == (4, 3, "enough")
    assert {one["proof"] for one in kept["fits"]} == {"makers-list", "hearsay"}
    assert show(ctx, "P05")["no"] == "P06" == find(ctx, "FH 5")["hits"][0]["no"]
    assert fit(ctx, "ENG-02", "P06")["verdict"] == "fits"
    assert [one["part"] for one in restock(ctx, "T1")["lines"] if one["minimum"]] == ["P06"]


def test_a_place_that_is_gone_is_said_to_be_gone(ctx: Context) -> None:
    exchange(ctx, "ENG-01", "P02")
    assert "ENG-03 is not there today" in fit(ctx, "ENG-03", "P03")["notes"][0]


def test_two_parts_come_apart_again_when_it_was_a_mistake(ctx: Context) -> None:
    put(ctx, "P06", "L02", 2)
    before = show(ctx, "P05"), show(ctx, "P06")
    change = same(ctx, "P05", "P06")["change"]
    undo(ctx, change)
    assert (show(ctx, "P05"), show(ctx, "P06")) == before
    with ctx.store.writing() as session:
        assert rebuild(session, ctx.vessel) == []
