"""Short walks of a person at work aboard: what is seen first, and what is recorded at the end."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from spares.actions.card import card
from spares.actions.changes import changes
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.done import done
from spares.actions.due import due
from spares.actions.exchange import exchange
from spares.actions.find import find
from spares.actions.fit import fit
from spares.actions.labels import code_lots, labels
from spares.actions.moved import moved
from spares.actions.papers.paper import paper
from spares.actions.reading import reading
from spares.actions.show import show
from spares.actions.took import took
from spares.actions.trip.restock import restock
from tests.paper import reading as pages


def places(thing: dict[str, Any]) -> dict[str, float]:
    """Give how many lie in which locker."""
    found: dict[str, float] = {}
    for one in thing["where"]:
        found[one["locker"]] = found.get(one["locker"], 0) + one["quantity"]
    return found


def printed(ctx: Context, no: str) -> str:
    return " ".join(pages.texts(paper(ctx, "card", service=no)))


def service(ctx: Context, no: str) -> dict[str, Any]:
    return next(one for one in due(ctx)["services"] if one["service"] == no)


def test_cooling_alarm_ends_with_the_impeller_taken_and_what_was_found(demo: Context) -> None:
    """Two half words; the job's card says what else it takes, before anything is opened."""
    first = find(demo, "imp har")["hits"][0]
    assert (first["no"], first["state"], places(first)) == ("P037", "enough", {"L03": 1, "L17": 1})
    assert [(fits["point"], fits["proof"]) for fits in first["fits"]] == [
        ("HBR-04", "makers-list")]
    job = card(demo, show(demo, "HBR-04")["services"][0])
    assert [(line["part"], line["take"][0]["locker"]) for line in job["kit"]] == [
        ("P037", "L03"), ("P038", "L04")]
    assert "sea-cock" in job["hazards"] and job["shut_off"]
    took(demo, "P037", "L17", machine="HBR")
    took(demo, "P038", "L04", machine="HBR")
    reading(demo, "HBR", "3107,2")
    done(demo, "S22", run="3107,2", kit=False, note="two vanes gone, both found in the strainer")
    assert places(show(demo, "P037")) == {"L03": 1}
    now = service(demo, "S22")
    assert (now["state"], now["last"]) == ("done", {"date": "2027-03-15", "hours": 3107.2})
    assert "two vanes gone" in changes(demo, 1)["changes"][0]["note"]


def test_part_that_still_runs_goes_away_as_used_and_new_ones_are_taken_first(ctx: Context) -> None:
    exchange(ctx, "ENG-02", "P05", from_locker="L01", old_to="L01", old_condition="used-good",
             why="planned", note="renewed after 250 h")
    lots = {one["condition"]: one["quantity"] for one in show(ctx, "P05")["where"]}
    assert lots == {"new": 3, "used-good": 1}
    assert changes(ctx, 1)["changes"][0]["note"] == "renewed after 250 h"
    took(ctx, "P05", "L01", 3)
    left, = show(ctx, "P05")["where"]
    assert (left["condition"], left["quantity"]) == ("used-good", 1)


def test_kit_is_laid_out_the_evening_before_with_what_is_missing_first(demo: Context) -> None:
    """Re-making the exhaust joint: twelve nuts are needed and ten lie aboard."""
    job = card(demo, "S08")
    assert job["missing"] == ["P017"]
    assert [line["take"][0]["locker"] for line in job["kit"]] == sorted(
        line["take"][0]["locker"] for line in job["kit"])
    text = printed(demo, "S08")
    assert text.index("Tall brass nut") < text.index("Exhaust manifold gasket")
    code_lots(demo)
    impeller = show(demo, "P037")
    assert impeller["where"][0]["code"] and labels(demo, "bags").startswith(b"%PDF")


def test_oil_change_in_harbour_says_how_much_goes_in_and_where_waste_goes(demo: Context) -> None:
    oil = next(line for line in card(demo, "S01")["kit"] if line["part"] == "P066")
    before = places(show(demo, "P066"))
    assert (oil["name"], oil["needed"], oil["take"][0]["locker"]) == (
        "Engine oil SAE 30, 20 L", 1, "L06")
    done(demo, "S01", note="18 L drained, landed at the harbour's waste oil station")
    assert before["L06"] - places(show(demo, "P066"))["L06"] == 1
    line = changes(demo, 1)["changes"][0]
    assert (line["kind"], line["text"]) == ("service", "S01 done on 2027-03-15")
    assert "waste oil station" in line["note"]


def test_spare_under_the_floor_plate_is_named_before_sailing_and_moved(demo: Context) -> None:
    def unreachable() -> set[str]:
        return {one["part"] for one in restock(demo, "T1")["not_reachable"]}

    pump, = show(demo, "P007")["where"]
    assert (pump["locker"], pump["reachable"]) == ("L05", False)
    assert "P007" in unreachable()
    moved(demo, "P007", "L05", "L03")
    pump, = show(demo, "P007")["where"]
    assert (pump["locker"], pump["reachable"]) == ("L03", True)
    assert "P007" not in unreachable()


def test_fuse_in_the_night_is_found_by_its_rating_and_taken(demo: Context) -> None:
    fuse = find(demo, "fuse 10")["hits"][0]
    assert (fuse["name"], places(fuse)) == ("Blade fuse 10 A", {"L15": 15})
    took(demo, fuse["no"], "L15")
    assert places(show(demo, fuse["no"])) == {"L15": 14}


def test_yard_works_from_the_card_and_its_own_parts_leave_the_lockers_alone(demo: Context) -> None:
    text = printed(demo, "S14")
    for words in ("renew winch hose", "Caution", "licensed trade", "Signed:"):
        assert words.casefold() in text.casefold()
    before = show(demo, "P026")["where"], show(demo, "P027")["where"]
    done(demo, "S14", at="2027-03-10", kit=False, by="yard", proof="yard",
         note="hose of the yard, ours stays aboard; invoice 114")
    assert (show(demo, "P026")["where"], show(demo, "P027")["where"]) == before
    assert service(demo, "S14")["last"]["date"] == "2027-03-10"
    with_yard = changes(demo, 1)["changes"][0]
    assert "invoice 114" in with_yard["note"]


def test_filter_without_a_number_is_judged_by_what_was_measured(ctx: Context) -> None:
    """Two threads that look alike: 3/4-16 UNF is 19.05 mm over the crests, M20 x 1.5 is 20 mm.

    Sizes as in ASME B1.1 and ISO 261, known from memory here.
    """
    for attribute, claim in (
            ("thread", {"value": "3/4-16 UNF"}),
            ("gasket_outside_diameter", {"value": "72", "unit": "mm", "cmp": "tol", "tol": "1"})):
        write_document(ctx, "requirement", {"subject": ctx.named("ENG-02", "point", "point"),
                                            "attribute": attribute, "claim": claim})
    asked = fit(ctx, "ENG-02", None, {})
    assert asked["verdict"] == "not-known-yet" and set(asked["to_measure"]) == {
        "thread", "gasket_outside_diameter"}
    wrong = fit(ctx, "ENG-02", None, {"thread": "M20x1.5", "gasket_outside_diameter": "72 mm"})
    assert wrong["verdict"] == "does-not-fit"
    right = {"thread": "3/4-16 UNF", "gasket_outside_diameter": "72,3 mm"}
    assert fit(ctx, "ENG-02", None, right)["verdict"] == "fits"
    ident = str(uuid4())
    fit(ctx, "ENG-02", "P06", right, keep=True, change_id=ident)
    assert changes(ctx, 1)["changes"][0]["kind"] == "fit-check"
    # Asked again because no answer came: what is recorded of the place meanwhile makes it no other.
    write_document(ctx, "requirement", {"subject": ctx.named("ENG-02", "point", "point"),
                                        "attribute": "gasket_inside_diameter",
                                        "claim": {"value": "62", "unit": "mm"}})
    before = changes(ctx, 1)["changes"]
    fit(ctx, "ENG-02", "P06", right, keep=True, change_id=ident)
    assert changes(ctx, 1)["changes"] == before
