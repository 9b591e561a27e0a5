"""Joint sheets: written like any document, shown with the job and on its paper."""

from __future__ import annotations

import json

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.export import export_csv, export_json
from spares.actions.joints import joint, joints
from spares.actions.papers.paper import paper
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.errors import NotFound
from tests.paper import reading

PIECES = "gasket, dry\n8 x split washer M10\n8 x P05, stainless\nhousing of aluminium"


@pytest.fixture
def sheet(ctx):
    """A joint at the filter's place, with eight bolts in a ring."""
    return write_document(ctx, "joint", {
        "name": "Filter head", "point": ctx.named("ENG-02", "point", "point"), "pieces": PIECES,
        "fasteners": 8, "pattern": "cross"})["no"]


def test_a_joint_sheet_says_pieces_order_passes_and_what_to_mind(ctx, sheet):
    found = joint(ctx, sheet)
    assert (found["joint"], found["point"]) == ("J1", "ENG-02")
    assert [(one["count"], one["part"], one["name"], one["words"]) for one in found["pieces"]] == [
        (None, None, None, "gasket, dry"), (8, None, None, "split washer M10"),
        (8, "P05", "Filter", "stainless"), (None, None, None, "housing of aluminium")]
    assert found["order"] == [1, 5, 3, 7, 2, 6, 4, 8]   # ASME PCC-1 as quoted second-hand
    assert found["passes"] == [30, 70, 100]
    assert [one["mark"] for one in found["warnings"]] == [
        "split washer", "stainless in aluminium", "gasket"]
    assert [one["mark"] for one in found["cautions"]] == ["torque, locking", ""]


def test_the_makers_figure_goes_before_an_estimate_and_an_estimate_before_nothing(ctx, sheet):
    doc = f"joint/{joint(ctx, sheet)['id']}"
    assert joint(ctx, sheet)["torque"]["kind"] == "not-known"
    write_document(ctx, "joint", {"thread": "M8", "strength": "8.8"}, doc=doc)
    torque = joint(ctx, sheet)["torque"]
    # T = K d F, F = 0.75 of the proof load of 36.6 mm2 x 580 MPa, K from 0.18 to 0.27, by hand
    assert (torque["kind"], torque["low_nm"], torque["high_nm"]) == ("estimate", 22.9, 34.4)
    assert any("the maker's figure goes first" in one for one in torque["remarks"])
    write_document(ctx, "joint", {"surface": "aluminium"}, doc=doc)
    assert joint(ctx, sheet)["torque"]["low_nm"] is None
    write_document(ctx, "joint", {"torque": "24 N·m, oiled", "page": "4-12"}, doc=doc)
    torque = joint(ctx, sheet)["torque"]
    assert (torque["kind"], torque["text"], torque["page"]) == ("book", "24 N·m, oiled", "4-12")


def test_what_cannot_be_laid_out_is_said_and_the_rest_is_shown(ctx, sheet):
    doc = f"joint/{joint(ctx, sheet)['id']}"
    write_document(ctx, "joint", {"pattern": "middle-out", "rows": 3, "thread": "M99",
                                  "strength": "8.8", "passes": 40}, doc=doc)
    found = joint(ctx, sheet)
    assert found["order"] == []
    assert found["order_fault"] == "rows: 8 fasteners do not make 3 rows of as many"
    assert found["torque"]["kind"] == "not-known" and found["torque"]["remarks"]
    assert found["passes"] == [30, 70, 100] and len(found["pieces"]) == 4
    with pytest.raises(NotFound):
        joint(ctx, "J9")


def test_a_joint_sheet_stands_on_the_job_card_and_its_paper(ctx, sheet):
    assert [one["joint"] for one in card(ctx, "S01")["joints"]] == ["J1"]
    text = " ".join(reading.texts(paper(ctx, "card", service="S01"))).replace("\n", " ")
    for words in ("Joint sheet J1: Filter head", "8 x P05 Filter, stainless",
                  "1 – 5 – 3 – 7 – 2 – 6 – 4 – 8", "no proof of locking",
                  "Values only from the maker's book", "numbered clockwise, 1 at the top"):
        assert words in text, words


@pytest.mark.parametrize("form", ["csv", "json"])
def test_joint_sheets_go_out_and_come_back(ctx, sheet, tmp_path, form):
    file = tmp_path / ("all.zip" if form == "csv" else "all.json")
    file.write_bytes(export_csv(ctx) if form == "csv" else json.dumps(export_json(ctx)).encode())
    store = open_store(tmp_path / "other.sqlite")
    bring_in(store, file)
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    there, = joints(Context(store, vessel, ctx.today))["joints"]
    assert there | {"id": 0} == joint(ctx, sheet) | {"id": 0}
    store.close()
