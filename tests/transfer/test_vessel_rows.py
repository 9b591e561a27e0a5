"""Rows become changes: what they name, in which order, and what a second time does."""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest

from spares.domain.identity import id_of, numbered_id, occurrence_id, ref
from spares.domain.tree import is_live, retired_on
from spares.errors import InvalidInput
from spares.sync.bodies import check_body
from spares.transfer.tables import read_tables
from spares.transfer.vessel_rows import vessel_drafts
from tests.transfer.vessels import OTHER, SEED, TGL, tables_of

VESSEL = "mark;name\nSKR;SKARREJOLLE\n"
LOCKERS = "no;name\nL1;Drawer\nL2;Shelf\n"
PARTS = "no;name\nP1;Filter\nP2;Seal\n"
MACHINES = "no;name;counter\nENG;Engine;own\n"
POINTS = "no;name;machine\nENG-01;filter;ENG\n"


@pytest.fixture(scope="module")
def tangloppe():
    return read_tables(SEED / "tangloppe")


def faults(**texts: str) -> dict[str, str]:
    with pytest.raises(InvalidInput) as caught:
        vessel_drafts(tables_of(**texts), TGL)
    return {e["pointer"]: e["detail"] for e in caught.value.facts["errors"]}


def test_the_demo_becomes_as_many_changes_as_it_has_rows(tangloppe):
    drafts = vessel_drafts(tangloppe, TGL)
    kinds = Counter(draft.kind for draft in drafts)
    # 113 rows of stock: 112 counts, one part that lies there uncounted.
    assert kinds == {"set": len(drafts) - 39 - 25 - 27 - 112, "exchange": 39, "reading": 25,
                     "service": 27, "counted": 112}
    docs = Counter(d.body["doc"].partition("/")[0] for d in drafts if d.kind == "set")
    for table, kind in (("parts", "part"), ("points", "point"), ("lockers", "locker"),
                        ("machines", "machine"), ("services", "service"), ("kits", "kit-line")):
        assert docs[kind] == len(tangloppe[table])
    assert docs["service-at"] == 1


@pytest.mark.parametrize("folder", ["tangloppe", "hestereje"])
def test_every_change_has_the_shape_that_the_door_asks_for(folder):
    for draft in vessel_drafts(read_tables(SEED / folder), TGL):
        check_body(draft.kind, {"base": {}, **draft.body} if draft.kind == "set" else draft.body)
        assert (draft.id is None) == (draft.kind == "set")


def test_ids_come_from_vessel_and_number_alone(tangloppe):
    one, two = (vessel_drafts(tangloppe, TGL) for _ in "ab")
    assert one == two
    other = vessel_drafts(tangloppe, OTHER)
    assert not {d.id for d in one if d.id} & {d.id for d in other}
    part = ref("part", numbered_id(TGL, "part", "P034"))
    assert any(d.body.get("doc") == part for d in one)


def test_a_second_time_changes_nothing(harbour, tangloppe):
    before = harbour.bring(tangloppe)
    after = harbour.bring(tangloppe, aboard=before)
    assert not any(outcome.was_new for outcome in harbour.outcomes)
    assert after == before


def test_fit_points_inside_a_part_come_and_go_with_it(harbour, tangloppe):
    aboard = harbour.bring(tangloppe)
    points = {point.no: point for point in aboard.all("point")}
    out = {no: retired_on(aboard, p) for no, p in points.items() if not is_live(aboard, p)}
    assert out == {"SAN-02": "2025-09-12", "SAN-03": "2025-09-12"}
    inner = ref("inner", numbered_id(TGL, "inner", "P036.1"))
    parent = ref("point", numbered_id(TGL, "point", "HBR-03"))
    assert points["HBR-04"].id == occurrence_id(parent, inner)
    assert (points["HBR-04"].parent, points["HBR-04"].template) == (parent, inner)


def test_a_changed_row_changes_only_its_field(harbour):
    before = harbour.bring(tables_of(vessel=VESSEL, lockers=LOCKERS, parts=PARTS))
    changed = tables_of(parts="no;name;lead_days\nP1;Filter;7\nP2;Seal;\n", lockers=LOCKERS)
    drafts = vessel_drafts(changed, TGL, aboard=before)
    assert [d.body["f"] for d in drafts] == [{"lead_days": 7}]


def test_an_emptied_cell_empties_the_field_and_a_missing_column_does_not(harbour):
    full = tables_of(vessel=VESSEL, parts="no;name;maker;lead_days\nP1;Filter;Fennholt;7\n",
                     lockers="no;name;aboard;climate\nL1;Rack;no;dry\n")
    before = harbour.bring(full)
    emptied = tables_of(parts="no;name;maker\nP1;Filter;\n", lockers="no;name;aboard\nL1;Rack;\n")
    fields = [d.body["f"] for d in vessel_drafts(emptied, TGL, aboard=before)]
    assert fields == [{"aboard": True}, {"maker": None}]


def test_things_that_the_vessel_has_keep_their_ids(harbour):
    before = harbour.bring(tables_of(vessel=VESSEL, lockers=LOCKERS, parts=PARTS))
    (count,) = vessel_drafts(tables_of(stock="part;locker;quantity\nP2;L2;3\n"), TGL,
                             aboard=before)
    assert before.get(count.body["part"]).no == "P2"
    assert before.get(count.body["locker"]).no == "L2"
    assert (count.kind, count.body["lot"], count.body["q"]) == ("counted", "", 3000)


def test_a_service_brought_alone_finds_the_machine_of_its_point(harbour):
    before = harbour.bring(tables_of(vessel=VESSEL, machines=MACHINES, points=POINTS))
    (draft,) = vessel_drafts(tables_of(services="no;what;point\nS1;change;ENG-01\n"), TGL,
                             aboard=before)
    assert before.get(draft.body["f"]["machine"]).no == "ENG"


def test_counts_in_a_changed_file_are_a_new_statement_of_all_its_rows():
    texts = {"lockers": LOCKERS, "parts": PARTS}
    head = "part;locker;quantity\n"
    first, again, changed = (
        [d.id for d in vessel_drafts(tables_of(**texts, stock=head + rows), TGL)
         if d.kind == "counted"]
        for rows in ("P1;L1;3\nP2;L1;1\n", "P2;L1;1\nP1;L1;3,0\n", "P1;L1;4\nP2;L1;1\n"))
    assert sorted(first) == sorted(again)
    assert not set(first) & set(changed)


def test_what_was_taken_back_comes_again_under_other_ids(tangloppe):
    first, second = (
        {d.id for d in vessel_drafts(tangloppe, TGL, again=n) if d.id} for n in (0, 1))
    assert len(first) == len(second)
    assert not first & second


def test_pieces_that_share_condition_and_date_are_one_lot(tangloppe):
    drafts = vessel_drafts(tangloppe, TGL)
    impeller = ref("part", numbered_id(TGL, "part", "P037"))
    lots = [d for d in drafts if d.kind == "set" and d.body["f"].get("part") == impeller
            and d.body["doc"].startswith("lot/")]
    lying = [d.body for d in drafts if d.kind == "counted" and d.body["part"] == impeller]
    assert [lot.body["f"]["expires"] for lot in lots] == ["2031-06-30"]
    assert [body["lot"] for body in lying] == [lots[0].body["doc"]] * 2


def test_an_uncounted_part_lies_in_its_locker_without_a_count(harbour, tangloppe):
    aboard = harbour.bring(tangloppe)
    name = ref("part", numbered_id(TGL, "part", "P108"))
    (lying,) = aboard.lying_of[name]
    assert aboard.label(lying.locker) == "L10"
    assert not lying.counted


def test_dates_move_with_day_zero_and_years_keep_their_distance(tangloppe):
    later = date(2031, 3, 15)       # four years with one 29 February: 1461 days
    drafts = vessel_drafts(tangloppe, TGL, day_zero=later)
    fitted = {id_of(d.body["point"]): d.body.get("date") for d in drafts if d.kind == "exchange"}

    def since(point: str) -> str | None:
        return fitted[numbered_id(TGL, "point", point)]
    assert since("ENG-01") == "2030-09-18"
    assert since("WIN-01") == "2027"                # was 2023
    assert since("GBX-02") is None
    trips = {d.body["f"]["no"]: d.body["f"] for d in drafts
             if d.kind == "set" and "departs_on" in d.body["f"]}
    assert (trips["T1"]["departs_on"], trips["T1"]["returns_on"]) == ("2031-05-03", "2031-07-05")
    (stop,) = trips["T2"]["stops"]
    assert (stop["arrives_on"], stop["leaves_on"]) == ("2031-08-12", "2031-08-13")
    (pump,) = (d.body["f"] for d in drafts if d.kind == "set" and d.body["f"].get("dropped_on"))
    assert pump["dropped_on"] == "2029"             # was 2025
    assert vessel_drafts(tangloppe, TGL, day_zero=date(2027, 3, 15)) == vessel_drafts(
        tangloppe, TGL)


def test_ids_of_what_happened_do_not_move_with_the_dates(tangloppe):
    # a record that is told from others by its day alone is another on another day
    rows = {name: some for name, some in tangloppe.items()
            if name not in ("gauge_readings", "test_runs")}
    here, later = ({d.id for d in vessel_drafts(rows, TGL, day_zero=date(year, 3, 15))}
                   for year in (2027, 2030))
    lots = [{d.body["doc"] for d in vessel_drafts(rows, TGL, day_zero=date(year, 3, 15))
             if d.kind == "set"} for year in (2027, 2030)]
    assert lots[0] == lots[1]
    assert here == later


@pytest.mark.parametrize(("texts", "pointer", "says"), [
    ({"stock": "part;locker;quantity\nP9;L1;1\n", "lockers": LOCKERS}, "#/stock.csv/2/part",
     "there is no part 'P9'"),
    ({"stock": "part;locker;quantity\nP1;L1;1\nP1;L1;2\n", "lockers": LOCKERS, "parts": PARTS},
     "#/stock.csv/3", "row 2"),
    ({"parts": "no;name\nP1;a\nP1;b\n"}, "#/parts.csv/3", "row 2"),
    ({"parts": "no;name;made\nP1;a;perhaps\n"}, "#/parts.csv/2/made", "one of made, dropped"),
    ({"parts": "no;name;price\nP1;a;3\n"}, "#/parts.csv/2/currency", "currency"),
    ({"parts": "no;name;price;currency\nP1;a;3;euro\n"}, "#/parts.csv/2/price", "EUR"),
    ({"lockers": "no;name;code\nL1;a;EMRJ\n"}, "#/lockers.csv/2/code", "check character"),
    ({"lockers": "no;name;code\nL1;a;EMJR\nL2;b;EMJR\n"}, "#/lockers.csv/3/code",
     "lockers.csv, row 2"),
    ({"points": "no;name;machine;parent\nENG-01;filter;ENG;\nENG-02;x;ENG;ENG-01\n",
      "machines": MACHINES}, "#/points.csv/3/as_part", "must stand with parent"),
    ({"machines": "no;name;hazards\nENG;Engine;hot, sharp\n"}, "#/machines.csv/2/hazards",
     "no such hazard: sharp"),
    ({"services": "no;what;machine;point\nS1;a;GBX;ENG-01\n",
      "machines": MACHINES + "GBX;Gearbox;none\n", "points": POINTS},
     "#/services.csv/2/machine", "not on this machine"),
    ({"services": "no;what\nS1;a\n"}, "#/services.csv/2/machine", "is needed"),
    ({"links": "part;to\nP1;ENG\n", "parts": "no;name\nP1;a\nENG;b\n", "machines": MACHINES},
     "#/links.csv/2/to", "write machine/ENG or part/ENG"),
    ({"done": "service\nS1\n", "services": "no;what;machine\nS1;a;ENG\n", "machines": MACHINES},
     "#/done.csv/2/date", "a date or the hours"),
    ({"stock": "part;locker;quantity;batch;reserved\nP1;L1;1;b;1\nP1;L2;1;b;2\n",
      "lockers": LOCKERS, "parts": PARTS}, "#/stock.csv/3/reserved", "row 2"),
    ({"vessel": "mark;name\nA;a\nB;b\n"}, "#/vessel.csv/3", "one vessel")])
def test_a_fault_names_file_row_and_column(texts, pointer, says):
    found = faults(**texts)
    assert says in found[pointer]
    assert len(found) == 1


def test_a_kind_before_the_number_settles_which_thing_is_meant():
    texts = {"parts": "no;name\nP1;a\nENG;b\n", "machines": MACHINES,
             "links": "part;to\nP1;machine/ENG\n"}
    (link,) = (d.body["f"] for d in vessel_drafts(tables_of(**texts), TGL)
               if d.body.get("doc", "").startswith("link/"))
    assert link["to"] == ref("machine", numbered_id(TGL, "machine", "ENG"))
    assert link["role"] == "takes"


def test_a_point_that_lies_inside_itself_is_refused():
    points = ("no;name;machine;parent;as_part;template\n"
              "A;a;ENG;B;P1;P1.1\nB;b;ENG;A;P1;P1.1\n")
    found = faults(points=points, machines=MACHINES, parts=PARTS,
                   inner_points="no;part;name\nP1.1;P1;x\n")
    assert any("inside itself" in detail for detail in found.values())
