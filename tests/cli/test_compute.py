"""`spares compute`: JSON in, JSON out, one problem object for every error."""

from __future__ import annotations

import io
import json
import sys

import pytest

from tests.cli.conftest import is_error, is_json_error
from tests.domain.test_own_kind_sheets import GOOD as OWN


def test_an_unknown_computation_lists_those_there_are(run, tmp_path):
    file = tmp_path / "request.json"
    file.write_text("{}")
    problem = is_json_error(run("compute", "miracle", file))
    assert problem["type"] == "/problems/not-found"
    assert "fit" in problem["known"]


@pytest.mark.parametrize(("data", "words"), [
    (b"", "JSON"), (b"{", "JSON"), (b'{"a": NaN}', "NaN"), (b'{"a": 1, "a": 1}', "twice"),
    (b"\xff", "UTF-8"), (b"\xef\xbb\xbf{}", "byte order mark"), (b'{"a": 1e999}', "large"),
    (b"[" * 100_000, "deep"), (b"{}}", "JSON"), (b'{"a": "\\u0000"}', "NUL"),
    (b'{"a": "\\udc00"}', "surrogate"), (b'{"a": 123456789012345678901234567890}', "large"),
    (b"x" * 10_000_000, "JSON")], ids=range(13))
def test_a_file_that_is_no_strict_json_is_refused(run, tmp_path, data, words):
    file = tmp_path / "request.json"
    file.write_bytes(data)
    problem = is_json_error(run("compute", "stock", file))
    assert problem["type"] == "/problems/malformed"
    assert words in problem["detail"]


@pytest.mark.parametrize("name", ["missing.json", ".", "a\0b", "x" * 5000])
def test_a_file_that_cannot_be_read_is_named(run, tmp_path, monkeypatch, name):
    monkeypatch.chdir(tmp_path)
    is_json_error(run("compute", "stock", name), field="#/file")


def test_standard_input_is_read_for_a_dash(run, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"[]")))
    assert "object" in is_json_error(run("compute", "stock", "-"))["detail"]


def test_missing_words_are_an_error_of_the_same_form(run):
    is_json_error(run("compute"), field="#/name")
    is_json_error(run("compute", "fit"), field="#/file")


def test_an_unknown_command_or_option_is_an_error(run):
    is_error(run("miracle"), "miracle")
    is_error(run("serve", "--miracle"), "miracle")
    is_error(run("serve", "--port", "65536"), "port")


def test_a_persons_own_kind_sheet_is_listed_and_counts_in_a_computation(run, demo, tmp_path,
                                                                        monkeypatch):
    folder = tmp_path / "my sheets"
    folder.mkdir()
    (folder / "pawl.toml").write_text(OWN, encoding="utf-8")
    (folder / "bad.toml").write_text(OWN.replace("tol = 0.2", "tol = -1"), encoding="utf-8")
    monkeypatch.setenv("SPARES_SHEETS", str(folder))
    listed = run("kinds")
    assert listed.code == 0
    assert "winch-pawl" in listed.out and "pawl.toml" in listed.out
    assert "Not used: bad.toml, attributes/length: a tolerance is not negative" in listed.out
    asked = tmp_path / "asked.json"
    asked.write_text(json.dumps({"kind": "winch-pawl", "offers": {"length": "18.6 mm"},
                                 "requires": [{"attr": "length", "value": "18 mm"}]}))
    assert run("compute", "fit", asked).answer["verdict"] == "does-not-fit"
    checked = run("check", "--json")
    assert [one["code"] for one in checked.answer["faults"] if one["code"] == "kind-sheet"] == [
        "kind-sheet"]


def test_a_kind_whose_only_sheet_is_faulty_is_refused_with_the_reason(run, tmp_path, monkeypatch):
    (tmp_path / "pawl.toml").write_text(OWN.replace("tol = 0.2", "tol = -1"), encoding="utf-8")
    monkeypatch.setenv("SPARES_SHEETS", str(tmp_path))
    asked = tmp_path / "asked.json"
    asked.write_text(json.dumps({"kind": "winch-pawl", "offers": {}, "requires": []}))
    told = is_json_error(run("compute", "fit", asked), field="#/kind")
    assert "pawl.toml, attributes/length: a tolerance is not negative" in told["detail"]
    asked.write_text(json.dumps({"kind": "winch", "offers": {}, "requires": []}))
    told = is_json_error(run("compute", "fit", asked), field="#/kind")
    assert "pawl.toml" not in told["detail"]


def test_kinds_are_listed_where_there_is_no_store_yet(run, tmp_path, monkeypatch):
    monkeypatch.setenv("SPARES_STORE", str(tmp_path / "none.sqlite"))
    listed = run("kinds")
    assert listed.code == 0 and "impeller" in listed.out
    assert not (tmp_path / "none.sqlite").exists()
