"""What holds of every fit check, whatever is asked and offered.

The requests are the sourced cases, disturbed: values taken away, tolerances widened, units
changed, rows shuffled, sides swapped.
"""

from __future__ import annotations

import copy
import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from spares.actions.compute import compute
from spares.domain.fit import (
    FitRequest,
    check,
    check_fit,
    load_sheets,
    named_changes,
    prepare_part,
    prepare_point,
)
from spares.domain.fit.compare import within
from spares.errors import InvalidInput
from spares.transfer.compute.fit import read_request
from tests.client.fit_requests import requests

FOLDER = Path(__file__).parents[1] / "vectors" / "fit"
CASES = [case["given"] for path in sorted(FOLDER.glob("*.json"))
         for case in json.loads(path.read_text(encoding="utf-8"))["cases"]]
RANK = {"fits": 3, "fits-with-changes": 2, "not-known-yet": 1, "does-not-fit": 0}
SHEETS = load_sheets()
LENGTHS = [(kind, line) for kind, sheet in SHEETS.items() for line in sheet.attributes.values()
           if line.type == "quantity" and line.unit == "mm" and not line.judge and not line.seat]
TOLERATED = [(k, a) for k, a in LENGTHS if a.cmp == "tol" and a.tol_wide is None]
MM = st.integers(1000, 200_000).map(lambda n: Fraction(n, 1000))

a_case = st.sampled_from(CASES)


def fit(request: dict[str, Any]) -> dict[str, Any]:
    return compute("fit", request)


def one_row(kind: str, asked: dict[str, Any], offered: dict[str, Any]) -> dict[str, Any]:
    return fit({"kind": kind, "requires": [asked], "offers": {asked["attr"]: offered}})


@given(a_case, st.data())
def test_verdict_never_improves_when_an_asked_value_is_removed_from_the_part(case, data):
    asked = [r["attr"] for r in case["requires"]]
    removable = [attr for attr in case["offers"] if attr in asked]
    assume(removable)
    less = copy.deepcopy(case)
    del less["offers"][data.draw(st.sampled_from(removable))]
    before, after = fit(case)["verdict"], fit(less)["verdict"]
    # what was ruled out by the removed value may become not known, never better than that
    assert RANK[after] <= max(RANK[before], RANK["not-known-yet"])


@given(a_case, st.data())
def test_requirement_without_value_never_gives_fits_where_it_decides(case, data):
    rows = {row["attr"]: row for row in fit(case)["rows"]}
    deciding = [n for n, r in enumerate(case["requires"]) if r["attr"] in rows
                and rows[r["attr"]]["severity"] != "advisory"]
    assume(deciding)
    gone = data.draw(st.sets(st.sampled_from(deciding), min_size=1))
    unknown = copy.deepcopy(case)
    for n in gone:
        unknown["requires"][n]["value"] = None
    assert RANK[fit(unknown)["verdict"]] <= RANK["not-known-yet"]


@given(a_case)
def test_nothing_offered_never_gives_fits_where_something_is_asked(case):
    bare = {**copy.deepcopy(case), "offers": {}, "links": []}
    assert RANK[fit(bare)["verdict"]] <= RANK["not-known-yet"]


@given(a_case)
def test_verdict_follows_the_precedence_of_its_rows(case):
    answer = fit(case)
    outcomes = {row["outcome"] for row in answer["rows"]}
    blocking = any(row["outcome"] == "unknown" and row["severity"] != "advisory"
                   for row in answer["rows"])
    if "stop" in outcomes:
        assert answer["verdict"] == "does-not-fit"
    elif blocking:
        assert answer["verdict"] == "not-known-yet"
    elif "change" in outcomes and answer["verdict"] != "not-known-yet":
        assert answer["verdict"] == "fits-with-changes"
    assert set(answer["to_measure"]) >= {
        row["attr"] for row in answer["rows"] if row["outcome"] == "unknown"
        and row["severity"] != "advisory"} - {"link", "kind"}


@given(a_case)
def test_every_change_is_one_of_the_named_ones(case):
    names = {change.name for change in named_changes().values()}
    answer = fit(case)
    assert {c["change"] for c in answer["changes"]} <= names
    assert all(row.get("change") in names for row in answer["rows"] if row["outcome"] == "change")


@given(a_case, st.randoms(use_true_random=False))
def test_order_of_the_requirements_does_not_matter(case, random):
    shuffled = copy.deepcopy(case)
    random.shuffle(shuffled["requires"])
    one, other = fit(case), fit(shuffled)
    assert one["verdict"] == other["verdict"]
    assert set(one["to_measure"]) == set(other["to_measure"])


@given(a_case, st.data())
def test_a_stop_outranks_everything_else(case, data):
    stopped = copy.deepcopy(case)
    stopped["links"] = [{"role": "takes", "proof": "tried-no"},
                        {"role": "takes", "proof": "makers-list"}]
    assert fit(stopped)["verdict"] == "does-not-fit"


@given(a_case, st.sampled_from(["makers-list", "measured", "fitted-before", "hearsay"]))
def test_a_link_lifts_no_row_that_is_asked(case, proof):
    assume(any(row["severity"] != "advisory" for row in fit({**case, "links": []})["rows"]))
    assume("links" not in case)
    linked = {**case, "links": [{"role": "takes", "proof": proof}]}
    assert fit(linked)["verdict"] == fit(case)["verdict"]


@given(st.sampled_from(TOLERATED), MM, MM, st.integers(0, 2000), st.integers(0, 2000),
       st.integers(0, 500))
def test_looser_tolerance_never_turns_a_match_into_a_mismatch(line, wanted, have, tol, more, u):
    kind, attribute = line
    outcomes = []
    for size in (tol, tol + more):
        asked = {"attr": attribute.code, "value": float(wanted), "tol": size / 1000}
        answer = one_row(kind, asked, {"value": float(have), "u": u / 1000})
        outcomes.append(answer["rows"][0]["outcome"])
    order = ["match", "unknown", "advisory", "change", "stop"]
    assert order.index(outcomes[1]) <= order.index(outcomes[0])


@given(st.sampled_from(TOLERATED), MM, MM)
def test_swapping_both_sides_gives_the_same_outcome(line, wanted, have):
    kind, attribute = line
    assume(not any(change.side for change in attribute.changes))
    one = one_row(kind, {"attr": attribute.code, "value": float(wanted)},
                  {"value": float(have)})
    other = one_row(kind, {"attr": attribute.code, "value": float(have)},
                    {"value": float(wanted)})
    assert one["rows"][0]["outcome"] == other["rows"][0]["outcome"]
    assert one["verdict"] == other["verdict"]


@given(st.sampled_from(LENGTHS), st.integers(1, 4000), st.integers(1, 4000),
       st.integers(0, 200), st.integers(0, 40))
def test_inch_and_millimetre_agree(line, wanted, have, tol, u):
    kind, attribute = line
    verdicts = []
    for unit, size in (("in", lambda n: f"{n}/1000"), ("mm", lambda n: f"{n * 254}/10000")):
        asked = {"attr": attribute.code, "value": size(wanted), "unit": unit}
        if attribute.cmp == "tol":
            asked["tol"] = size(tol)
        offered = {"value": size(have), "unit": unit, "u": size(u)}
        answer = one_row(kind, asked, offered)
        verdicts.append((answer["verdict"], answer["rows"][0]["outcome"]))
    assert verdicts[0] == verdicts[1]


@given(st.sampled_from(TOLERATED), MM, st.integers(0, 2000), st.sampled_from([-1, 1]))
def test_number_converted_to_inches_elsewhere_keeps_the_verdict_at_the_very_limit(
        line, wanted, tol, side):
    kind, attribute = line
    have = wanted + side * Fraction(tol, 1000)
    assume(have > 0)
    outcomes = []
    for unit, size in (("mm", 1.0), ("in", 25.4)):
        asked = {"attr": attribute.code, "value": float(wanted) / size, "tol": tol / 1000 / size,
                 "unit": unit}
        answer = one_row(kind, asked, {"value": float(have) / size, "unit": unit})
        outcomes.append(answer["rows"][0]["outcome"])
    assert outcomes == ["match", "match"]


@given(st.fractions(-100, 100), st.fractions(0, 50), st.fractions(0, 50), st.fractions(-1, 1))
def test_what_the_guard_band_decides_is_true_wherever_inside_the_reading(gap, tol, u, where):
    true_gap = gap + where * u
    inside = within(gap, tol, u)
    if inside is True:
        assert abs(true_gap) <= tol
    if inside is False and u:
        assert abs(true_gap) >= tol or abs(where) == 1 or abs(gap) - u >= tol


@pytest.mark.parametrize("kind", sorted(SHEETS))
def test_every_attribute_of_a_kind_without_offer_is_not_known(kind):
    """Each attribute alone, asked with a value that it can have and not offered."""
    for attribute in SHEETS[kind].attributes.values():
        asked = {"attr": attribute.code, "value": _some_value(attribute)}
        answer = fit({"kind": kind, "requires": [asked], "offers": {}})
        best = ("fits-with-changes" if attribute.code == "shaft_groove"     # about the shaft alone
                else "not-known-yet")
        assert RANK[answer["verdict"]] <= RANK[best], attribute.code


def _some_value(attribute: Any) -> Any:
    if attribute.words:
        return attribute.words[0]
    return {"quantity": 10, "flag": True, "thread": "M10x1.25", "day": "2024-01",
            "rotation": {"value": "cw", "seen_from": "shaft-end"},
            "length": {"value": 1000, "system": "datum"}, "flow": 50,
            "span": {"min": 20, "max": 32},
            "rank": "8.8", "any": "10", "code": "no code", "material": "bronze"}.get(
                attribute.type, "as it was")


@pytest.mark.parametrize("seed", range(4))
def test_what_is_decided_is_what_the_rows_tell(seed):
    """The verdict is decided before the rows are put into words: the two may never part."""
    for request in requests(250, seed):
        try:
            answer = fit(request)
        except InvalidInput:
            continue
        outcomes = {row["outcome"] for row in answer["rows"]}
        open_rows = [row for row in answer["rows"]
                     if row["outcome"] == "unknown" and row["severity"] != "advisory"]
        verdict = ("does-not-fit" if "stop" in outcomes else "not-known-yet" if open_rows
                   else "fits-with-changes" if "change" in outcomes else "fits")
        # what only the place asks, or nobody, decides nothing
        asked = {asked["attr"] for asked in request["requires"]}
        told = any(row["severity"] != "advisory" or row["outcome"] != "unknown"
                   for row in answer["rows"] if row["attr"] in asked)
        assert answer["verdict"] in ((verdict,) if told and request["requires"] else (
            verdict, "not-known-yet")), request


def test_a_part_read_once_is_judged_as_one_read_anew():
    """Parts and points that are kept and held against many others give each pair's own answer."""
    point = {"kind": "impeller", "place": {"medium": "sea-water"}, "requires": [
        {"attr": "bore", "value": 16}, {"attr": "outside_diameter", "value": 65, "tol": 0.5},
        {"attr": "material", "value": ["CR", "NBR"]}]}
    parts = [{"bore": bore, "outside_diameter": {"value": od, "u": 0.05}, "material": material}
             for bore in (16, 15.875, "none") for od in (64.5, 64.9, 66) for material in
             ("CR", "EPDM", None)]
    read = [read_request({**point, "offers": offers}) for offers in parts]
    sheet = SHEETS["impeller"]
    kept = prepare_point(sheet, read[0].requires, read[0].place)
    prepared = [prepare_part(sheet, one.offers) for one in read]
    for _ in range(2):
        for part, one in zip(prepared, read, strict=True):
            assert check(kept, part).as_dict() == check_fit(
                FitRequest("impeller", one.requires, one.offers, one.place)).as_dict()
