"""Each line of each kind sheet, at the very edge of its tolerance and by its other names."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from spares.actions.compute import compute
from spares.domain.fit import load_sheets

HERE = Path(__file__).parent
TOLD = tomllib.loads((HERE / "fit_lines.toml").read_text(encoding="utf-8"))
MORE = tomllib.loads((HERE / "fit_words.toml").read_text(encoding="utf-8"))
# usual uncertainty of a reading, common practice
READ_TO_MM = {"caliper": "0.05", "depth-rod": "0.05", "rule": "0.5", "tape": "1"}
COMPARED_BY_OTHERS = {      # lines with a judge of their own that asks for more than an amount
    ("anode", "pencil_length"), ("drive-belt", "rib_count"), ("fastener", "engagement"),
    ("fuse", "rating_a"), ("o-ring", "temperature_c"), ("pump", "bolt_hole"),
    ("pump-seal", "shaft_groove"), ("pump", "max_speed_rpm"), ("pump", "max_flow"),
    ("pump-seal", "max_speed_m_s")}


class Line(NamedTuple):
    """One line as it is told: where, of what type, and how compared."""

    kind: str
    attr: str
    type: str
    unit: str
    how: str
    tol: str
    severity: str
    tool: str
    marks: tuple[str, ...]


def _line(kind: str, attr: str, told: str) -> Line:
    what, how, severity, tool, *marks = told.split(", ")
    type_, _, unit = what.partition(" ")
    how, _, tol = how.partition(" ")
    return Line(kind, attr, type_, unit, "tol" if how == "within" else how, tol, severity, tool,
                tuple(marks))


LINES = [_line(kind, attr, told) for kind, lines in TOLD.items() for attr, told in lines.items()]
AMOUNTS = [line for line in LINES if line.type == "quantity" and "seat" not in line.marks
           and (line.kind, line.attr) not in COMPARED_BY_OTHERS]
IDS = {"ids": lambda line: f"{line.kind} {line.attr}"}


def row_of(line: Line, asked: Any, offered: Any, **more: Any) -> dict[str, Any]:
    request = {"kind": line.kind, "requires": [{"attr": line.attr, "value": asked}],
               "offers": {line.attr: offered}, **more}
    return next(r for r in compute("fit", request)["rows"] if r["attr"] == line.attr)


@pytest.mark.parametrize("line", LINES, **IDS)
def test_line_is_measured_compared_and_weighed_as_told(line: Line):
    sheet = load_sheets()[line.kind]
    found = sheet.attributes[line.attr]
    assert (found.unit, found.tool, found.severity) == (line.unit, line.tool, line.severity)
    assert (found.type, found.cmp) == (line.type, line.how)
    marks = {"rubber": found.rubber, "seat": found.seat, "any": found.offered_any}
    assert {name for name, there in marks.items() if there} == set(line.marks)


def test_every_line_of_every_kind_is_told():
    assert {(line.kind, line.attr) for line in LINES} == {
        (kind, attr) for kind, sheet in load_sheets().items() for attr in sheet.attributes}


def _edges(line: Line) -> tuple[list[Fraction], list[Fraction]]:
    """Give amounts that just fit a nominal of 40, and amounts that just do not."""
    forty, step = Fraction(40), Fraction("0.01")
    if line.how == "at-least":
        return [forty, forty + 5], [forty - step]
    if line.how == "at-most":
        return [forty, forty - 5], [forty + step]
    if line.how == "equal":
        return [forty], [forty - step, forty + step]
    if line.tol.endswith("%"):      # of the smaller of the two
        share = Fraction(line.tol.removesuffix("%")) / 100
        return [forty * (1 + share), forty / (1 + share)], [
            forty * (1 + share) + step, forty / (1 + share) - step]
    narrow, _, wide = line.tol.partition(" to ")
    inside, outside = Fraction(narrow), Fraction(wide or narrow)
    return [forty + inside, forty - inside], [forty + outside + inside / 20,
                                              forty - outside - inside / 20]


@pytest.mark.parametrize("line", AMOUNTS, **IDS)
def test_amount_fits_up_to_its_tolerance_and_not_beyond(line: Line):
    asked = f"40 {line.unit}" if line.unit != "1" else 40
    inside, outside = _edges(line)
    for amount in inside:
        assert row_of(line, asked, float(amount))["outcome"] == "match", amount
    for amount in outside:
        row = row_of(line, asked, float(amount))
        change = "change" if line.severity == "change" or row.get("change") else "stop"
        wanted = {"advisory": ("advisory",), "stop": ("stop", change), "change": (change, "stop")}
        assert row["outcome"] in wanted[line.severity], amount
        assert row["severity"] == line.severity


@pytest.mark.parametrize("line", [a for a in AMOUNTS if a.how == "tol" and " to " in a.tol], **IDS)
def test_between_two_tolerances_nobody_can_tell(line: Line):
    narrow, wide = map(Fraction, line.tol.split(" to "))
    for amount in (narrow + narrow / 10, wide - narrow / 10):
        assert row_of(line, 40, float(40 + amount))["outcome"] == "unknown"


@pytest.mark.parametrize("line", [a for a in AMOUNTS if a.unit == "mm"], **IDS)
def test_what_was_measured_is_as_good_as_its_tool(line: Line):
    def read_to(how: str) -> str:
        row = row_of(line, 40, {"value": 40, "origin": {"how": how}})
        return row["offered"].partition(" ± ")[2]
    assert read_to("measured") == READ_TO_MM.get(line.tool, "")
    assert read_to("measured-used") == ("1" if "rubber" in line.marks else read_to("measured"))


@pytest.mark.parametrize(("kind", "attr"), [
    (kind, attr) for kind, told in MORE["words"].items() for attr in told])
def test_words_to_choose_from_are_those_told(kind: str, attr: str):
    assert list(load_sheets()[kind].attributes[attr].words) == MORE["words"][kind][attr]


@pytest.mark.parametrize(("kind", "attr", "said", "meant"), [
    (k, a, said, meant) for k, lines in MORE["names"].items() for a, names in lines.items()
    for said, meant in names.items()])
def test_another_name_means_the_same(kind: str, attr: str, said: str, meant: str):
    for asked, offered in ((said, meant), (meant, said)):
        request = {"kind": kind, "requires": [{"attr": attr, "value": asked}],
                   "offers": {attr: offered}}
        row = next(r for r in compute("fit", request)["rows"] if r["attr"] == attr)
        assert row["outcome"] == "match", (asked, offered)


@pytest.mark.parametrize(("asked", "offered", "outcome"), [
    ("W1", "W2", "match"), ("W2", "W3", "match"), ("W3", "W4", "match"), ("W4", "W5", "match"),
    ("W2", "W1", "stop"), ("W3", "W2", "stop"), ("W4", "W3", "stop"), ("W5", "W4", "stop")])
def test_clamp_grades_have_their_order(asked: str, offered: str, outcome: str):
    """W1 is plated all over, W5 the stainless that bears sea water (from memory)."""
    request = {"kind": "clamp", "requires": [{"attr": "grade", "value": asked}],
               "offers": {"grade": offered}}
    assert compute("fit", request)["rows"][0]["outcome"] == outcome


@pytest.mark.parametrize("rule", MORE["place"], ids=lambda r: f"{r['kind']} {r['attr']}")
def test_place_asks_for_what_it_needs_and_is_silent_elsewhere(rule: dict[str, Any]):
    """`unstated` is what the row says when the part is silent: unknown, advisory or nothing."""
    def row(**more: Any) -> dict[str, Any] | None:
        request = {"kind": rule["kind"], "requires": rule.get("requires", []),
                   "offers": rule.get("offers", {}), **more}
        return next((r for r in compute("fit", request)["rows"] if r["attr"] == rule["attr"]), None)
    there = row(place=rule["place"])
    said = None if there is None else (there["outcome"], there["severity"])
    assert said == {"unknown": ("unknown", "stop"), "advise": ("unknown", "advisory"),
                    "silent": None}[rule["unstated"]]
    assert row() is None or rule.get("also_elsewhere")
    if rule.get("only_if_asked"):
        assert row(place=rule["place"], requires=[]) is None
    if "good" in rule and not rule.get("also_elsewhere"):
        assert row(offers={**rule.get("offers", {}), rule["attr"]: rule["good"]}) is None
    for other in rule.get("not_in", ()):
        assert row(place=other) is None, other
    if "good" in rule:
        offers = rule.get("offers", {})
        for given, outcome in ((rule["good"], "match"), (rule.get("bad"), rule.get("worst"))):
            if given is not None:
                found = row(place=rule["place"], offers={**offers, rule["attr"]: given})
                assert found is not None and found["outcome"] == outcome, given


def test_lines_of_the_place_say_which_line_of_the_part_answers_them():
    told = {"anode": {"passage_depth": "pencil_length"}, "clamp": {"on_diameter": "range"},
            "drive-belt": {"groove_depth": "section", "grooves": "rib_count"},
            "fastener": {"stack": "length", "hole_diameter": "thread"},
            "hose": {"spigot": "bore"}, "pump-seal": {"seat_depth": "width"},
            "o-ring": dict.fromkeys(("gland_depth_min", "gland_depth_max", "min_squeeze"),
                                    "section")}
    assert {kind: said for kind, sheet in load_sheets().items() if (said := {
        attr: line.offered_as for attr, line in sheet.attributes.items()
        if line.offered_as})} == told


def _when(when: dict[str, Any]) -> str:
    """Tell a condition in one line, as fit_rules.toml writes it."""
    told = []
    for subject, wanted in when.items():
        fields = {"": wanted} if subject == "drive" else wanted
        for name, one in fields.items():
            values = one if isinstance(one, list) else [one]
            words = "/".join("yes" if v is True else str(v) for v in values)
            told.append(" ".join(filter(None, [subject, name, words])))
    return ", ".join(told) or "always there"


def test_rules_of_the_place_are_those_told_a_second_time():
    told = tomllib.loads((HERE / "fit_rules.toml").read_text(encoding="utf-8"))
    found: dict[str, list[str]] = {}
    for kind, sheet in load_sheets().items():
        for rule in sheet.implied:
            value = rule.value if isinstance(rule.value, list) else [rule.value]
            asked = ("by its judge" if value == [None] and not rule.value_of
                     else f"{rule.cmp} its {rule.value_of}" if rule.value_of
                     else f"{rule.cmp} {'/'.join('yes' if v is True else v for v in value)}")
            found.setdefault(kind, []).append("; ".join(filter(None, [
                rule.attr, _when(dict(rule.when)), asked, rule.unstated,
                rule.severity or "as its line", "always" if rule.always else ""])))
    assert found == {kind: one["rules"] for kind, one in told.items()}
