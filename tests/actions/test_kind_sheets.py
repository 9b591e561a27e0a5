"""A person's own kind sheets: used by fit, by the phone's copy, by papers; a faulty one is told."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from spares.actions.check import check
from spares.actions.documents import write_document
from spares.actions.fit import fit
from spares.actions.fit_book import fit_book
from spares.actions.fit_data import fit_data, fit_data_bytes
from spares.actions.kind_sheets import kind_sheets, kinds
from spares.actions.papers.paper import paper
from spares.actions.show import show
from spares.errors import InvalidInput
from tests.domain.test_own_kind_sheets import GOOD
from tests.paper import reading


@pytest.fixture
def own(ctx, tmp_path):
    """The hull with a folder of her own sheets beside the store, and a winch that takes a pawl."""
    folder = tmp_path / "sheets"
    folder.mkdir()
    (folder / "winch-pawl.toml").write_text(GOOD, encoding="utf-8")
    at = replace(ctx, sheets_folder=folder)
    winch = at.named("WIN", "machine", "machine")
    write_document(at, "point", {"no": "WIN-01", "name": "pawl", "machine": winch,
                                 "kind": "winch-pawl"})
    write_document(at, "requirement", {"subject": at.named("WIN-01", "point", "point"),
                                       "attribute": "length",
                                       "claim": {"value": "18.0", "unit": "mm"}})
    write_document(at, "part", {"no": "P90", "name": "Pawl", "kind": "winch-pawl"})
    write_document(at, "spec", {"part": at.named("P90", "part", "part"), "attribute": "length",
                                "claim": {"value": "18.1", "unit": "mm"}})
    return at


def test_a_part_is_judged_by_a_persons_own_sheet(own):
    assert fit(own, "WIN-01", "P90")["verdict"] == "fits"         # 0.1 mm off, 0.2 mm allowed
    hand = fit(own, "WIN-01", offers={"length": "18.6 mm"})
    assert (hand["verdict"], hand["kind"]) == ("does-not-fit", "winch-pawl")
    assert fit(own, "WIN-01", offers={})["to_measure"] == ["length"]
    assert show(own, "WIN-01")["requires"][0]["label"] == "Length"
    assert "Length" in reading.texts(paper(own, "measuring", point="WIN-01"))[0]


def test_a_sheet_that_was_changed_counts_from_then_on(own):
    file = own.sheets_folder / "winch-pawl.toml"
    first = fit_data_bytes(kind_sheets(own.sheets_folder))
    file.write_text(GOOD.replace("tol = 0.2", "tol = 0.05  # tighter"), encoding="utf-8")
    assert fit(own, "WIN-01", "P90")["verdict"] == "does-not-fit"
    assert fit_data_bytes(kind_sheets(own.sheets_folder)) != first
    file.write_text(GOOD.replace('label = "Length"', 'label = "Length of the pawl"'),
                    encoding="utf-8")
    point, = [one for one in fit_book(own)["points"] if one["no"] == "WIN-01"]
    assert point["requires"][0]["label"] == "Length of the pawl"


def test_the_phones_copy_holds_it(own):
    given = json.loads(fit_data_bytes(kind_sheets(own.sheets_folder)))
    assert given["sheets"]["winch-pawl"]["attributes"]["length"]["tol"] == "0.2"
    assert given["faults"] == []
    assert "winch-pawl" not in fit_data()["sheets"]


def test_a_faulty_sheet_stops_nothing_and_is_told_everywhere(own):
    (own.sheets_folder / "winch-pawl.toml").write_text(GOOD.replace("tol = 0.2", "tol = -1"),
                                                       encoding="utf-8")
    assert fit(own, "ENG-02", "P05")["verdict"] == "fits"         # the rest works
    told, = check(own)["faults"]
    assert told["code"] == "kind-sheet"
    assert "winch-pawl.toml, attributes/length" in told["text"] and "negative" in told["text"]
    listed = kinds(own.sheets_folder)["faults"]
    assert [(one["file"], one["key"]) for one in listed] == [
        ("winch-pawl.toml", "attributes/length")]
    with pytest.raises(InvalidInput, match=r"winch-pawl\.toml, attributes/length"):
        fit(own, "WIN-01", "P90")
    assert show(own, "WIN-01")["requires"][0]["label"] == "Length"    # by its own words


def test_where_the_programs_own_judges_instead_of_a_faulty_one_it_is_noted(own):
    (own.sheets_folder / "filter.toml").write_text('kind = "filter"\nlabel = 3',
                                                   encoding="utf-8")
    answer = fit(own, "ENG-02", "P05")
    assert answer["verdict"] == "fits"
    assert any("filter.toml, label" in note for note in answer["notes"])
    assert not any("filter.toml" in note for note in fit(own, "ENG-01", "P01")["notes"])


def test_kinds_are_listed_with_the_file_of_a_persons_own(own):
    listed = {one["kind"]: one for one in kinds(own.sheets_folder)["kinds"]}
    assert listed["winch-pawl"] == {"kind": "winch-pawl", "label": "Pawl of a winch",
                                    "file": "winch-pawl.toml", "lines": 2}
    assert listed["impeller"]["file"] is None
    assert kinds(own.sheets_folder)["folder"] == str(own.sheets_folder)
