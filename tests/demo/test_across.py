"""Lists across the demo's two vessels; what is expected was read in their files by eye."""

from __future__ import annotations

from dataclasses import replace

import pytest

from spares.actions import context
from spares.actions.across import out_of_date, wanted, who_has
from spares.actions.documents import write_document
from spares.actions.ordering import want
from spares.actions.trip.write import edit_trip
from spares.cli.across import _put_parts
from spares.cli.main import main
from spares.db.find import vessels
from spares.errors import InvalidInput
from tests.demo import expected


def hestereje(demo):
    with demo.store.reading() as session:
        (ident,) = (one for one, mark in vessels(session) if mark == "HRE")
    return replace(demo, vessel=ident)


@pytest.mark.parametrize("part", list(expected.LENDABLE_BY_HRE))
def test_a_neighbour_has_the_same_makers_number_and_says_what_she_can_spare(demo, part):
    answer = who_has(demo, part)
    assert [one["vessel"] for one in answer["vessels"]] == ["TGL", "HRE"]
    (hers,) = answer["vessels"][1]["parts"]
    assert hers["usable"] == hers["can_spare"] == expected.LENDABLE_BY_HRE[part]
    assert sum(place["quantity"] for place in hers["where"]) == expected.LENDABLE_BY_HRE[part]
    assert answer["numbers"][0] == {"maker": hers["maker"], "number": hers["number"]}
    assert who_has(demo, hers["number"])["vessels"] == answer["vessels"]


def test_where_her_trip_cannot_be_planned_nobody_knows_what_she_can_spare(own_demo, capsys):
    """Written down so far: when she leaves."""
    trip = write_document(hestereje(own_demo), "trip", {"name": "Anholt",
                                                        "departs_on": "2027-04-01"})
    for part, usable in expected.LENDABLE_BY_HRE.items():
        (hers,) = who_has(own_demo, part)["vessels"][1]["parts"]
        assert (hers["usable"], hers["can_spare"]) == (usable, None)
    _put_parts(who_has(own_demo, "P035"))
    told = " ".join(capsys.readouterr().out.split())
    assert "3 usable, nobody knows how many she needs" in told
    edit_trip(hestereje(own_demo), trip["no"], returns_on="2027-04-02")
    assert who_has(own_demo, "P035")["vessels"][1]["parts"][0]["can_spare"] is not None


def test_of_many_vessels_only_some_are_kept_as_read(own_demo, monkeypatch):
    """Two hundred vessels would not fit in memory; who was not kept is read again."""
    def kept():
        return {key.split()[-1] for key in own_demo.store.memory if not key.startswith("turn at")}
    told = who_has(own_demo, "P034")
    assert kept() == {own_demo.vessel, hestereje(own_demo).vessel}
    monkeypatch.setattr(context, "MOST_KEPT", 0)
    own_demo.store.memory.clear()
    assert who_has(own_demo, "P034") == told and len(told["vessels"]) == 2
    assert kept() == {hestereje(own_demo).vessel}
    own_demo.aboard()
    assert kept() == {own_demo.vessel}


def test_an_own_number_means_the_part_of_the_vessel_that_is_meant(demo):
    """P001 is TANGLOPPE's alone: HESTEREJE has nothing under it, and nothing of that maker's."""
    assert [one["vessel"] for one in who_has(demo, "P001")["vessels"]] == ["TGL"]
    assert who_has(hestereje(demo), "P001")["vessels"] == []


def test_what_is_out_of_date_is_told_by_vessel(demo):
    answer = out_of_date(demo)
    (one,) = answer["vessels"]
    assert one["vessel"] == "TGL"
    assert [(lot["no"], lot["where"]["locker"], lot["where"]["expires"])
            for lot in one["lots"]] == [("P021", "L03", "2026-05-31"),
                                        ("P100", "L04", "2026-10-31"),
                                        ("P117", "L24", "2027-02-28")]


def test_the_day_of_the_date_itself_is_still_good(demo):
    def parts(until):
        return {lot["no"] for one in out_of_date(demo, until)["vessels"] for lot in one["lots"]}
    assert "P039" not in parts("2030-02-28") and "P039" in parts("2030-03-01")
    with pytest.raises(InvalidInput):
        out_of_date(demo, "tomorrow")


def test_what_several_want_is_one_line_of_one_order(own_demo):
    """By hand: 5 of 10.00 each, and one of 9.80, which is the price in her file."""
    demo = own_demo
    price = {"amount": "10.00", "currency": "EUR"}
    before = {line["number"]: line for one in wanted(demo)["sellers"] for line in one["lines"]}
    assert "KR 10-034" not in before
    want(demo, "P034", 2, seller="Chandler", price=price)
    want(hestereje(demo), "P034", 3, seller="Chandler", price=price)
    want(hestereje(demo), "P035", 1, seller="Chandler")
    (seller,) = (one for one in wanted(demo)["sellers"] if one["seller"] == "Chandler")
    told = {line["number"]: (line["quantity"], [each["vessel"] for each in line["orders"]])
            for line in seller["lines"]}
    assert told == {"KR 10-034": (5, ["TGL", "HRE"]), "KR 10-035": (1, ["HRE"])}
    assert seller["costs"] == [{"amount": "59.80", "currency": "EUR"}]


def test_what_is_not_one_article_is_not_added_up(own_demo):
    """Two things of one maker whose number is a dash; a hose by the metre, and in rolls."""
    hers = hestereje(own_demo)
    for ctx, quantity, name, number, unit in (
            (own_demo, 2, "Bolt", "-", "pcs"), (own_demo, 5, "Washer", "-", "pcs"),
            (own_demo, 12, "Hose", "FH 19", "m"), (hers, 1, "Hose, a roll", "FH 19", "pcs"),
            (hers, 3, "Hose", "FH-19", "m")):
        no = write_document(ctx, "part", {"name": name, "maker": "Fennholt", "number": number,
                                          "unit": unit})["no"]
        want(ctx, no, quantity, seller="Chandler")
    (seller,) = (one for one in wanted(own_demo)["sellers"] if one["seller"] == "Chandler")
    assert sorted((line["name"], line["quantity"]) for line in seller["lines"]) == [
        ("Bolt", 2), ("Hose", 15), ("Hose, a roll", 1), ("Washer", 5)]


def test_a_device_that_has_no_role_anywhere_is_told_nothing(demo):
    phone = replace(demo, device="a0000001")
    assert who_has(phone, "P034")["vessels"] == out_of_date(phone)["vessels"] == []
    assert wanted(phone)["sellers"] == []


def test_the_command_and_the_server_tell_the_same(spares, demo):
    assert [one["mark"] for one in spares("vessels")[1]["vessels"]] == ["TGL", "HRE"]
    for words, answer in ((("--has", "P034"), who_has(demo, "P034")),
                          (("--out-of-date", "--until", "2030-03-01"),
                           out_of_date(demo, "2030-03-01")), (("--wanted",), wanted(demo))):
        assert spares("vessels", *words) == (0, answer)
    assert spares("vessels", "--has", "P034", "--wanted")[0] == 2


@pytest.mark.parametrize(("words", "told"), [
    (("--has", "P034"), ["HRE  HESTEREJE", "can spare 1"]),
    (("--out-of-date",), ["TGL  TANGLOPPE", "2026-05-31  1  P021"]),
    (("--wanted",), ["Nothing is wanted."]), ((), ["HRE  HESTEREJE"])])
def test_the_lists_can_be_read(demo_surroundings, capsys, words, told):
    assert main(["vessels", *words]) == 0
    text = capsys.readouterr().out
    assert [one for one in told if one not in text] == []
