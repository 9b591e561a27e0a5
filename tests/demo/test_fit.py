"""Does it fit aboard TANGLOPPE: verdicts worked out by hand, row by row at the coolant pump."""

from __future__ import annotations

import pytest

from spares.actions.compute import compute
from spares.actions.find import find
from spares.actions.fit import fit, fit_request
from spares.domain.aboard import name_of
from spares.domain.tree import stranded_by, stranded_parts, with_fitted
from tests.demo import expected

EXIT_CODES = {"fits": 0, "fits-with-changes": 3, "not-known-yet": 4, "does-not-fit": 5}


@pytest.mark.parametrize(("point", "part"), expected.VERDICTS)
def test_the_verdict_is_the_one_worked_out(demo, point, part):
    assert fit(demo, point, part)["verdict"] == expected.VERDICTS[point, part]


def test_the_other_pump_takes_exactly_three_changes(demo):
    answer = fit(demo, "ENG-04", "P008")
    assert sorted(change["attr"] for change in answer["changes"]) == sorted(expected.P008_CHANGES)
    changed = {row["attr"] for row in answer["rows"] if row["outcome"] == "change"}
    assert changed == set(expected.P008_CHANGES)


def test_the_other_pump_would_strand_the_seal_and_free_the_hose_tail(demo):
    answer = fit(demo, "ENG-04", "P008")
    assert {one["part"]: one["quantity"] for one in answer["would_strand"]} == (
        expected.P008_STRANDS)
    assert [one["part"] for one in answer["no_longer_needed"]] == ["P091"]


def test_what_an_exchange_strands_is_what_was_not_stranded_and_would_be(demo):
    """Held to the meaning of the word: the whole list before and after, at every point."""
    aboard = demo.aboard()
    before = {one.part for one in stranded_parts(aboard)}
    told = 0
    for point in (name_of("point", one) for one in aboard.all("point")):
        for part in ("part/none", *{one.part for one in aboard.links_to.get(point, [])}):
            after = {one.part for one in stranded_parts(with_fitted(aboard, point, part))}
            assert stranded_by(aboard, point, part) == sorted(after - before, key=aboard.label)
            told += len(after - before)
    assert told > 5


def test_the_inlet_needs_a_tail_that_is_not_aboard_and_the_outlet_one_that_nobody_recorded(demo):
    needs = {one["attr"]: one for one in fit(demo, "ENG-04", "P008")["needs"]}
    inlet, outlet = needs["inlet_port"], needs["outlet_port"]
    assert (inlet["part"], inlet["needed"], inlet["aboard"]) == ("P092", 1, 0)
    assert "P092" in inlet["text"] and "0 aboard" in inlet["text"]
    assert outlet["part"] is None
    assert "no part recorded" in outlet["text"]


def test_the_pulley_is_set_back_by_two_and_a_half_millimetres(demo):
    (row,) = (r for r in fit(demo, "ENG-04", "P008")["rows"] if r["attr"] == "pulley_line")
    assert "2.5" in row["reason"]


def test_the_own_pump_matches_in_every_row(demo):
    answer = fit(demo, "ENG-04", "P007")
    assert {row["outcome"] for row in answer["rows"]} == {"match"}
    assert len(answer["rows"]) >= 9
    assert answer["would_strand"] == [] and answer["changes"] == []


def test_the_found_pump_is_ruled_out_by_its_spigot_alone(demo):
    answer = fit(demo, "ENG-04", "P119")
    assert [row["attr"] for row in answer["rows"] if row["outcome"] == "stop"] == [
        "pilot_diameter"]
    aboard = demo.aboard()
    names = {one.no: f"{kind}/{one.id}" for kind in ("point", "part") for one in aboard.all(kind)}
    request = fit_request(demo, names["ENG-04"], names["P119"])
    request["requires"] = [r for r in request["requires"] if r["attr"] != "pilot_diameter"]
    without = compute("fit", request)
    assert without["verdict"] == expected.P119_WITHOUT_SPIGOT
    assert {"bolt_circle", "shaft_diameter", "rotation"} <= set(without["to_measure"])


def test_every_part_that_sits_somewhere_fits_there(demo):
    for machine in expected.MACHINE_CODES:
        for point in find(demo, machine)["hits"][0]["points"]:
            if point["fitted"] and point["kind"]:
                answer = fit(demo, point["no"], point["fitted"]["part"])
                assert answer["verdict"] == "fits", (point["no"], answer)


def test_a_seal_that_fits_may_still_be_out_of_date(demo):
    count = fit(demo, "GBX-02", "P021")["count"]
    assert (count["state"], count["usable"]) == ("none", 0)
    assert "out-of-date" in count["tags"]


def test_a_pump_that_fits_may_be_dropped_ashore_and_suspect(demo):
    answer = fit(demo, "SAN-01", "P054")
    assert any("dropped" in note for note in answer["notes"])
    (place,) = answer["count"]["where"]
    assert (place["locker"], place["aboard"], place["condition"]) == ("L25", False, "suspect")


@pytest.mark.parametrize(("point", "part"), expected.VERDICTS)
def test_the_command_line_ends_with_the_verdicts_code(spares, point, part):
    code, answer = spares("fit", point, part)
    verdict = expected.VERDICTS[point, part]
    assert (code, answer["verdict"]) == (EXIT_CODES[verdict], verdict)


def test_the_api_judges_alike(api, demo):
    status, answer = api("POST", "fit", json={"point": "ENG-04", "part": "P008"})
    assert status == 200
    assert answer == fit(demo, "ENG-04", "P008")
