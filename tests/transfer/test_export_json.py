"""A vessel handed over as one JSON object is the same vessel elsewhere."""

from __future__ import annotations

import json
from types import SimpleNamespace

import pytest

from spares.errors import InvalidInput
from spares.transfer.export_json import json_drafts, vessel_json
from spares.transfer.news import news
from spares.transfer.tables import read_tables
from tests.transfer.vessels import SEED, TGL, Harbour


def test_what_was_handed_over_is_the_same_vessel(harbour, tmp_path):
    given = vessel_json(harbour.bring(read_tables(SEED / "tangloppe")))
    (tmp_path / "ashore").mkdir()
    ashore = Harbour(tmp_path / "ashore")
    vessel, drafts = json_drafts(json.loads(json.dumps(given)))
    assert vessel == TGL
    taken = vessel_json(ashore.submit(drafts))
    assert {k: v for k, v in taken.items() if isinstance(v, dict)} == {
        k: v for k, v in given.items() if isinstance(v, dict)}
    for what in ("fitted", "readings", "done", "lying"):
        assert sorted(map(str, taken[what])) == sorted(map(str, given[what])), what
    again = ashore.submit(list(news(json_drafts(given)[1], ashore.aboard())))
    assert not any(outcome.was_new for outcome in ashore.outcomes)
    assert vessel_json(again) == taken
    ashore.store.close()


def test_no_fraction_stands_in_it(harbour):
    text = json.dumps(vessel_json(harbour.bring(read_tables(SEED / "tangloppe"))))

    def refuse(number: str) -> None:
        raise AssertionError(f"{number} is a fraction")
    json.loads(text, parse_float=refuse)


@pytest.mark.parametrize(("content", "pointer"), [
    ([], "#/format"), ({}, "#/format"), ({"format": "spares-vessel"}, "#/version"),
    ({"format": "spares-vessel", "version": 2}, "#/version"),
    ({"format": "spares-vessel", "version": 1, "documents": {}}, "#/vessel"),
    ({"format": "spares-vessel", "version": 1, "vessel": "", "documents": {}}, "#/vessel"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL, "documents": {"part": []}},
     "#/documents/part"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL, "documents": {"boot": {}}},
     "#/documents/boot"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL, "documents": {"part": {"x": 1}}},
     "#/documents/part/x"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL, "documents": {}, "done": {}},
     "#/done"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL, "documents": {},
      "done": [{"when": "2027"}]}, "#/done/0"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL,
      "documents": {"vessel": {TGL: {"mark": 5}}}}, f"#/documents/vessel/{TGL}/mark"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL,
      "documents": {"locker": {"x": {"code": ["EMJR"]}}}}, "#/documents/locker/x/code"),
    ({"format": "spares-vessel", "version": 1, "vessel": TGL, "documents": {},
      "readings": [{"machine": ["machine/x"]}]}, "#/readings/0")])
def test_another_object_is_refused_where_it_differs(content, pointer):
    with pytest.raises(InvalidInput) as caught:
        json_drafts(content)
    assert caught.value.facts["errors"][0]["pointer"] == pointer


def test_what_lacks_or_is_odd_in_a_file_comes_as_far_as_the_door_which_refuses_it():
    _, drafts = json_drafts({
        "format": "spares-vessel", "version": 1, "vessel": TGL, "readings": [{}], "fitted": [{}],
        "documents": {"part": {"x": {"doc": "part/y"}}}, "lying": [{"quantity": "5"}]})
    nothing_aboard = SimpleNamespace(lying=(), fitted=(), readings=(), done=(),
                                     get=lambda name: None)
    assert [one.kind for one in news(drafts, nothing_aboard)] == [
        "set", "exchange", "reading", "counted"]
