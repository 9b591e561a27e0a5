"""One meaning by three ways: action, command line, API, aboard TANGLOPPE."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from spares.actions.bring_in import bring_in, load_demo
from spares.actions.exchange import exchange
from spares.actions.find import find
from spares.actions.fit import fit
from spares.actions.stranded import stranded
from spares.actions.undo import undo
from spares.cli.main import main
from spares.errors import Conflict
from spares.transfer.tables import read_tables
from tests.demo import expected

SEED = Path(__file__).parents[2] / "seed"


@pytest.mark.parametrize("asked", ["EMJR", "imp har", "P034", "KR 10-034", "HBR-04", "HBR"])
def test_finding_answers_alike_by_all_three(demo, spares, api, asked):
    by_action = find(demo, asked)
    assert spares("find", asked) == (0, by_action)
    assert api("GET", "find", query_string={"q": asked}) == (200, by_action)


def test_stranded_answers_alike_by_all_three(demo, spares, api):
    by_action = stranded(demo)
    assert {line["part"] for line in by_action["stranded"]} == expected.STRANDED.keys()
    assert spares("stranded") == (0, by_action)
    assert api("GET", "stranded") == (200, by_action)


def test_taking_by_command_shows_in_the_locker_and_undo_brings_it_back(spares):
    def there() -> tuple[int, str]:
        line = spares("find", "P034")[1]["hits"][0]
        return line["where"][0]["quantity"], line["state"]
    assert there() == (2, "enough")
    code, told = spares("took", "P034", "L17")
    assert (code, told["text"]) == (0, "Took 1 of P034 from L17")
    assert there() == (1, "low")
    assert spares("undo")[0] == 0
    assert there() == (2, "enough")


def test_taking_by_the_api_twice_with_one_id_takes_once(api):
    body = {"part": "P034", "locker": "EMJR", "change_id": "3f1c1b0e-5a55-4c0e-9b7e-0a4d5e2f7a10"}
    answers = [api("POST", "do/took", json=body) for _ in range(2)]
    assert all(status in (200, 201) for status, _ in answers)
    assert [answer["was_new"] for _, answer in answers] == [True, False]
    _, found = api("GET", "find", query_string={"q": "P034"})
    assert found["hits"][0]["where"][0]["quantity"] == 1


def test_fitting_the_other_pump_strands_the_seal_as_foretold(own_demo):
    foretold = {one["part"] for one in fit(own_demo, "ENG-04", "P008")["would_strand"]}
    before = {line["part"] for line in stranded(own_demo)["stranded"]}
    exchange(own_demo, "ENG-04", "P008")
    after = {line["part"] for line in stranded(own_demo)["stranded"]}
    assert after - before == foretold == {"P009"}
    undo(own_demo)
    assert {line["part"] for line in stranded(own_demo)["stranded"]} == before


def test_fitting_the_old_pump_again_brings_its_fit_points_back(own_demo):
    exchange(own_demo, "SAN-01", "P054")
    assert stranded(own_demo)["stranded"] == []     # of P055's own spare there is none aboard
    (diaphragm,) = find(own_demo, "P056")["hits"]
    assert [(f["point"], f["live"]) for f in diaphragm["fits"]] == [("SAN-02", True)]


def test_bringing_the_demo_in_again_changes_nothing(own_demo):
    before = own_demo.aboard()
    told = bring_in(own_demo.store, SEED / "tangloppe")
    assert told["changes"] == 0
    assert own_demo.aboard() == before


def test_what_is_exported_comes_in_as_the_same_vessel(demo_surroundings, tmp_path):
    file = tmp_path / "tgl.zip"
    assert main(["export", "csv", "--out", str(file)]) == 0
    tables = read_tables(file)
    assert {name: len(tables[name]) for name in expected.COUNTS} == expected.COUNTS
    told = read_tables(SEED / "tangloppe")
    assert {name: len(rows) for name, rows in tables.items()} == {
        name: len(rows) for name, rows in told.items()}


def test_loading_the_demo_twice_leaves_the_two_vessels_as_they_are(own_demo):
    told = load_demo(own_demo.store)
    assert [(one["vessel"], one["changes"]) for one in told] == [
        (mark, 0) for mark in expected.MARKS]


def test_loading_the_demo_over_itself_on_another_day_is_refused(own_demo):
    before = own_demo.aboard()
    with pytest.raises(Conflict):
        load_demo(own_demo.store, day_zero=date(2028, 1, 1))
    assert own_demo.aboard() == before
