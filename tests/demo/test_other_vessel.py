"""HESTEREJE carries spares for the same make of harbour set."""

from __future__ import annotations

from dataclasses import replace

from spares.actions.find import find
from spares.actions.show import lockers
from spares.db.find import vessels
from tests.demo import expected


def _hestereje(demo):
    with demo.store.reading() as session:
        (ident,) = (one for one, mark in vessels(session) if mark == "HRE")
    return replace(demo, vessel=ident)


def test_tangloppe_is_the_vessel_when_none_is_named(demo):
    assert demo.aboard().vessel.mark == "TGL"


def test_she_could_lend_what_fits_the_same_set(demo):
    hers = _hestereje(demo)
    found = {}
    for part in expected.LENDABLE_BY_HRE:
        (line,) = find(hers, part)["hits"]
        found[part] = sum(place["quantity"] for place in line["where"])
        assert [fit["machine"] for fit in line["fits"]] == ["HBR"]
        (ours,) = find(demo, part)["hits"]
        assert (ours["maker"], ours["number"]) == (line["maker"], line["number"])
        assert ours["id"] != line["id"]
    assert found == expected.LENDABLE_BY_HRE


def test_her_lockers_are_hers_alone(demo):
    assert {one["code"] for one in lockers(_hestereje(demo))["lockers"]} == {"LVYR", "C4RH"}
    assert find(demo, "LVYR")["hits"] == []
