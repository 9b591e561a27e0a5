"""A folder of a person's own kind sheets: what is good is used, what is faulty is named."""

from __future__ import annotations

from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.domain.fit import Claim, FitRequest, check_fit, load_sheets
from spares.domain.fit.judges import judge_names
from spares.domain.fit.own_sheets import read_folder
from spares.domain.fit.sheet_shape import CHANGE, IMPLIED, LINE
from spares.domain.fit.sheets import Attribute, ChangeWhen, Implied
from spares.errors import SparesError
from tests.domain.test_own_kind_sheets import GOOD


def _folder(tmp_path, **files):
    for name, text in files.items():
        (tmp_path / f"{name.replace('_', '-')}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def test_no_folder_and_a_folder_that_is_not_there_leave_the_programs_own(tmp_path):
    for folder in (None, tmp_path / "none", tmp_path):
        known = read_folder(folder)
        assert (set(known.sheets), known.own, known.faults) == (set(load_sheets()), {}, ())


def test_a_faulty_file_is_named_and_the_others_are_used(tmp_path):
    known = read_folder(_folder(tmp_path, pawl=GOOD, bad=GOOD.replace("tol = 0.2", "tol = -1")
                                .replace("winch-pawl", "drum")))
    assert known.own == {"winch-pawl": "pawl.toml"}
    fault, = known.faults
    assert (fault.file, fault.key, fault.kind) == ("bad.toml", "attributes/length", "drum")
    assert "negative" in fault.detail
    assert fault.text.startswith("bad.toml, attributes/length: ")


@pytest.mark.parametrize("said", ['kind = ""', "kind = 7", 'kind = ["pawl"]', ""])
def test_a_faulty_file_that_names_no_kind_goes_by_its_own_name(tmp_path, said):
    known = read_folder(_folder(tmp_path, old_pawl=GOOD.replace('kind = "winch-pawl"', said)))
    assert [fault.kind for fault in known.faults] == ["old-pawl"]


def test_a_file_that_cannot_be_read_at_all_is_told_as_a_whole(tmp_path):
    fault, = read_folder(_folder(tmp_path, pawl="[[[")).faults
    assert fault.text.startswith("pawl.toml, the file: ")


def test_a_persons_own_sheet_goes_before_the_programs(tmp_path):
    known = read_folder(_folder(tmp_path, impeller=GOOD.replace("winch-pawl", "impeller")))
    assert set(known.sheets["impeller"].attributes) == {"length", "colour"}


def test_two_files_of_one_kind_are_told_and_the_first_counts(tmp_path):
    known = read_folder(_folder(tmp_path, a=GOOD, b=GOOD.replace("0.2", "0.5")))
    assert known.own == {"winch-pawl": "a.toml"}
    assert [(one.file, one.key) for one in known.faults] == [("b.toml", "kind")]
    assert "a.toml" in known.faults[0].detail


@pytest.mark.parametrize(("old", "new", "key"), [
    ('kind = "winch-pawl"', 'kind = "Winch Pawl"', "kind"),
    ('kind = "winch-pawl"', "kind = 7", "kind"),
    ("[attributes.length]", "[attributes.Length]", "attributes/Length"),
    ('unit = "mm"', "unit = 5", "attributes/length/unit"),
    ("tol = 0.2", "tol = true", "attributes/length/tol"),
    ("tol = 0.2", "rubber = 1", "attributes/length/rubber"),
    ("tol = 0.2", "words = [1]", "attributes/length/words/0"),
    ("tol = 0.2", 'words = "a"', "attributes/length/words"),
    ("tol = 0.2", "changes = [3]", "attributes/length/changes/0"),
    ("tol = 0.2", 'aliases = {a = 1}', "attributes/length/aliases/a"),
    ("tol = 0.2", 'drawing = "portrait"', "attributes/length"),
    ("tol = 0.2", 'offered_as = "girth"', "attributes/length"),
    ("tol = 0.2", 'judge = "oracle"', "attributes/length/judge"),
    ("tol = 0.2", 'smell = "tar"', "attributes/length/smell"),
    ('body = "own measurements"', "body = 1", "source/body"),
    ('severity = "advisory"', '[[implied]]\nattr = "length"\nunstated = "shout"',
     "implied/0/unstated"),
    ('severity = "advisory"', '[[implied]]\nattr = "length"\nvalue_of = "weather"',
     "implied/0/value_of"),
    ('severity = "advisory"', 'severity = "advisory"\n[pictures]', "pictures")])
def test_a_fault_names_the_key(tmp_path, old, new, key):
    assert old in GOOD
    fault, = read_folder(_folder(tmp_path, pawl=GOOD.replace(old, new))).faults
    assert (fault.file, fault.key) == ("pawl.toml", key) and fault.detail


@pytest.mark.parametrize("raw", [b"\xff\xfe", b"kind = ", b"", b"kind = [[[", b"\x00"])
def test_a_file_that_is_no_sheet_at_all_is_a_fault_and_no_crash(tmp_path, raw):
    (tmp_path / "odd.toml").write_bytes(raw)
    fault, = read_folder(tmp_path).faults
    assert (fault.file, fault.kind) == ("odd.toml", "odd")


def test_every_key_of_a_line_has_its_sort_of_value():
    assert set(LINE) == {one.name for one in fields(Attribute)} - {"code", "position"}
    assert set(IMPLIED) == {one.name for one in fields(Implied)}
    assert set(CHANGE) == {one.name for one in fields(ChangeWhen)}


VALUES = st.recursive(st.one_of(st.integers(), st.booleans(), st.floats(allow_nan=False),
                                st.sampled_from(["mm", "tol", "mates", "stop", "pump", ""])),
                      lambda some: st.lists(some, max_size=2)
                      | st.dictionaries(st.sampled_from("ab"), some, max_size=2), max_leaves=3)
KEYS = ("label", "type", "unit", "cmp", "tol", "severity", "words", "changes", "advisory_when",
        "aliases", "judge", "drawing", "offered_as", "ranks", "rubber")


def _toml(value):
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k} = {_toml(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else repr(value).replace("inf", "0.0")


@given(st.dictionaries(st.sampled_from(KEYS), VALUES, max_size=4))
def test_whatever_stands_in_a_line_loading_never_stops(tmp_path_factory, line):
    folder = tmp_path_factory.mktemp("sheets")
    (folder / "x.toml").write_text(
        'kind = "x"\n[source]\nbody = "b"\nnumber = "-"\nknown_by = "read"\n[attributes.a]\n'
        + "\n".join(f"{key} = {_toml(value)}" for key, value in line.items()), encoding="utf-8")
    known = read_folder(folder)
    assert len(known.own) + len(known.faults) == 1


@pytest.mark.parametrize("judge", sorted(judge_names()))
def test_a_judge_named_in_a_sheet_of_one_line_answers_or_refuses_but_never_breaks(tmp_path, judge):
    """A person may name any judge for any line; what it misses it must say, not break on."""
    known = read_folder(_folder(tmp_path, one=GOOD.replace(
        "tol = 0.2", f'tol = 0.2\njudge = "{judge}"')))
    if known.faults:
        return
    for value in (18, "18 mm", "M10", "65 x 3", "cw", None, {"min": 1, "max": 2}, ["a", "b"]):
        for offers in ((), (Claim("length", value),)):
            try:
                answer = check_fit(FitRequest("winch-pawl", (Claim("length", value),), offers),
                                   known.sheets)
            except SparesError:
                continue
            assert answer.verdict
