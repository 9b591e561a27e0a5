"""Chains of numbers: who took over from whom, how many are left, what was tried and failed."""

from __future__ import annotations

from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.fit import fit
from spares.actions.lines import part_line
from spares.actions.show import show


def _part(ctx: Context, no: str, **fields: object) -> str:
    write_document(ctx, "part", {"no": no, "name": f"Part {no}", **fields})
    return ctx.named(no, "part", "part")


def _chain(ctx: Context, no: str) -> list[str]:
    return [link["part"] for link in show(ctx, no)["chain"]]


def test_a_chain_is_the_same_from_each_of_its_parts_the_oldest_first(ctx):
    newest = _part(ctx, "N3")
    middle = _part(ctx, "N2", made="dropped", dropped_on="2024", taken_over_by=newest)
    _part(ctx, "N1", made="dropped", dropped_on="2019-05", taken_over_by=middle)
    assert _chain(ctx, "N1") == _chain(ctx, "N2") == _chain(ctx, "N3") == ["N1", "N2", "N3"]
    first, second, third = show(ctx, "N2")["chain"]
    assert (first["dropped_on"], first["taken_over_by"]) == ("2019-05", "N2")
    assert (second["made"], third["made"], third["taken_over_by"]) == ("dropped", None, None)
    assert show(ctx, "P05")["chain"] == []


def test_a_part_that_took_over_from_two_names_both(ctx):
    new = _part(ctx, "N9")
    for old in ("N8", "N7"):
        _part(ctx, old, taken_over_by=new)
    assert _chain(ctx, "N9") == ["N7", "N8", "N9"]
    assert _chain(ctx, "N8") == ["N8", "N9"]


def test_parts_that_take_each_other_over_end_where_they_began(ctx):
    one = _part(ctx, "N1")
    other = _part(ctx, "N2", taken_over_by=one)
    write_document(ctx, "part", {"taken_over_by": other}, doc=one)
    assert sorted(_chain(ctx, "N1")) == sorted(_chain(ctx, "N2")) == ["N1", "N2"]


def test_the_last_stock_of_a_dropped_part_is_told_aboard_and_elsewhere(ctx):
    """Stock of the hull: P04 twice in the shed ashore, P03 six aboard."""
    new = ctx.named("P03", "part", "part")
    old = ctx.named("P04", "part", "part")
    write_document(ctx, "part", {"made": "dropped", "taken_over_by": new}, doc=old)
    left = {link["part"]: (link["aboard"], link["elsewhere"]) for link in show(ctx, "P04")["chain"]}
    assert left == {"P04": (0, 2), "P03": (6, 0)}


def test_a_stand_in_is_named_with_its_proof_and_count_on_both_pages(ctx):
    mine, other = (ctx.named(no, "part", "part") for no in ("P05", "P06"))
    write_document(ctx, "stand-in", {"part": mine, "for_part": other, "proof": "measured"})
    stand_in, = show(ctx, "P06")["stand_ins"]
    assert (stand_in["part"], stand_in["name"], stand_in["proof"], stand_in["usable"]) == (
        "P05", "Filter", "measured", 4)
    served, = show(ctx, "P05")["stands_in_for"]
    assert (served["part"], served["name"], served["proof"]) == (
        "P06", "Filter of another make", "measured")


def test_what_took_over_is_called_by_its_number_on_a_part_read_alone(ctx):
    new = _part(ctx, "N2")
    old = _part(ctx, "N1", taken_over_by=new)
    assert part_line(ctx.aboard([old]), old, {}, "2027-03-15")["taken_over_by"] == "N2"


def test_a_trial_that_failed_stands_at_the_fit_point_with_its_note(ctx):
    write_document(ctx, "link", {
        "part": ctx.named("P03", "part", "part"), "to": ctx.named("ENG-02", "p", "point"),
        "role": "takes", "proof": "tried-no", "note": "10 mm too long"})
    tried, = show(ctx, "ENG-02")["tried"]
    assert tried == {"part": "P03", "name": "Impeller for old pump", "note": "10 mm too long"}
    assert fit(ctx, "ENG-02", "P03")["verdict"] == "does-not-fit"
    assert "P03" not in [one["no"] for one in show(ctx, "ENG-02")["spares"]]


def test_a_list_that_a_measurement_contradicts_is_said(ctx):
    """P02 fits ENG-01 by the maker's list; here its bolt circle is recorded 3 mm off."""
    point, part = ctx.named("ENG-01", "p", "point"), ctx.named("P02", "p", "part")
    write_document(ctx, "requirement", {"subject": point, "attribute": "bolt_circle", "claim": {
        "value": "92.0", "unit": "mm", "tol": "0.3"}})
    write_document(ctx, "spec", {"part": part, "attribute": "bolt_circle", "claim": {
        "value": "95.0", "unit": "mm", "origin": {"how": "measured"}}})
    answer = fit(ctx, "ENG-01", "P02")
    assert answer["verdict"] == "does-not-fit"
    said, = [one["advisory"] for one in answer["advisories"] if one["attr"] == "link"]
    assert "makers-list" in said and "Bolt circle" in said
