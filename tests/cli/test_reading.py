"""Commands that answer something: text for people, the API's JSON, the exit codes."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib import import_module

import pytest
from flask.testing import FlaskClient

from spares.cli.main import GROUPS
from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of

# Command -> the address whose answer --json must print.
SAME = {
    ("find", "imp", "har"): "find?q=imp har", ("find", "EMJR"): "find?q=EMJR",
    ("find", "zzzz"): "find?q=zzzz", ("show", "P034"): "things/P034",
    ("show", "L17"): "things/L17", ("show", "HBR"): "things/HBR",
    ("show", "HBR-04"): "things/HBR-04", ("show", "S22"): "things/S22",
    ("show", "T1"): "things/T1", ("stranded",): "stranded", ("due",): "due",
    ("due", "--until", "2027-07-05"): "due?until=2027-07-05",
    ("restock", "T1"): "trips/T1/restock", ("restock", "T1", "--why", "P034"):
    "trips/T1/restock/P034", ("trip", "show"): "trips", ("trip", "show", "T1"): "trips/T1",
    ("changes", "--limit", "5"): "changes?limit=5", ("check",): "check",
}


# What costs a good part of a second to import, and no command that looks at a file needs.
SLOW = {"alembic", "flask", "marshmallow", "pydantic", "qrcode", "reportlab", "sqlalchemy",
        "sqlmodel", "email", "importlib.metadata", "logging", "platformdirs", "subprocess",
        "urllib.request"}
# What those do without that only look a thing up: what checks what is written, and its units.
FOR_WRITING = {"importlib.resources", "spares.domain.documents", "spares.domain.shapes",
               "spares.units"}
#: Data classes that a plan needs; each takes most of a millisecond, a named tuple a seventh of it.
MOST_DATA_CLASSES = 18


# Every command that looks at a file and answers, each in the ways that ask for something else.
LOOKING = [("find", "imp", "har"), ("show", "P034"), ("due",), ("restock", "T1"), ("stranded",),
           ("gauges",), ("walk-round",), ("counts",), ("batch", "LOT 4711"), ("changes",),
           ("loans",), ("vessels",), ("vessels", "--has", "P034"), ("vessels", "--out-of-date"),
           ("vessels", "--wanted"), ("card", "S22"), ("days", "T1"), ("fit", "HBR-04", "P037"),
           ("layup",), ("trails",), ("trip", "show"), ("trip", "show", "T1"), ("check",),
           ("export", "ics"), ("export", "json")]
#: Of those, what needs units, published tables or the fields of a trip as well.
BEYOND_LISTS = {"restock", "card", "check", "days", "export", "fit", "layup", "trails", "trip"}


@pytest.fixture(scope="module")
def api(demo_file):
    app = create_app(read_settings({"SPARES_STORE": str(demo_file),
                                    "SPARES_TODAY": "2027-03-15"}))
    yield app.test_client()
    store_of(app).close()


@pytest.mark.parametrize("words", LOOKING, ids=" ".join)
def test_what_only_looks_starts_without_what_is_slow(demo_file, words):
    came, err = imported_by(demo_file, *words)
    assert "spares.db.load" in came and err == ""
    assert not SLOW & set(came)
    if words[0] not in BEYOND_LISTS:
        assert not FOR_WRITING & set(came)
        assert int(came[-1]) <= MOST_DATA_CLASSES


@pytest.mark.parametrize("words", [
    ("paper", "lid", "--locker", "L17"), ("label", "lockers"), ("export", "csv"),
    ("export", "photos")], ids=" ".join)
def test_what_looks_and_writes_a_file_needs_no_tables_for_it(demo_file, words, tmp_path):
    came, _ = imported_by(demo_file, *words, "--out", str(tmp_path / "file"))
    assert (tmp_path / "file").exists()
    assert not {"sqlalchemy", "sqlmodel", "marshmallow", "flask"} & set(came)


def imported_by(demo_file, *words: str) -> tuple[list[str], str]:
    """Run a command; give all that it imported, how many data classes that is, and its errors."""
    told = subprocess.run(
        [sys.executable, "-c", "import dataclasses, sys; from spares.cli.main import main; "
         "main(sys.argv[1:]); print('came', *sys.modules, sum('__dataclass_fields__' in vars(one) "
         "for module in list(sys.modules.values()) for one in vars(module).values() "
         "if isinstance(one, type) and one.__module__ == module.__name__))", *words],
        capture_output=True, text=True, check=True,
        env={**os.environ, "SPARES_STORE": str(demo_file), "SPARES_TODAY": "2027-03-15"})
    return told.stdout.rpartition("came ")[2].split(), told.stderr


def test_each_command_is_found_in_its_file():
    for group, names in GROUPS.items():
        commands = import_module(f"spares.cli.{group}").COMMANDS
        assert names == tuple(command.name for command in commands)


@pytest.mark.parametrize("words", SAME, ids=" ".join)
def test_json_is_what_the_api_answers(run, demo, api: FlaskClient, words):
    ran = run(*words, "--json")
    assert ran.code in (0, 3, 4) and ran.err == ""
    assert ran.answer == api.get("/api/" + SAME[words]).get_json()


@pytest.mark.parametrize("words", [*SAME, ("find", "HBR"), ("fit", "ENG-04", "P008"),
                                   ("fit", "HBR-04", "P037")], ids=" ".join)
def test_text_for_people_keeps_to_eighty_columns(run, demo, words):
    ran = run(*words)
    assert ran.code in (0, 3, 4) and ran.err == ""
    assert ran.out.strip()
    assert [line for line in ran.out.splitlines() if len(line) > 80] == []
    assert "None\n" not in ran.out and "{" not in ran.out


def test_find_says_where_and_how_many(run, demo):
    out = run("find", "imp", "har").out
    for words in ("P037", "L03", "L17", "EMJR", "HBR-04", "maker's list", "until 2031-06-30"):
        assert words in out


@pytest.mark.parametrize(("words", "code"), [
    (("fit", "HBR-04", "P037"), 0), (("fit", "ENG-04", "P008"), 3),
    (("fit", "ENG-02", "P004"), 4), (("fit", "ENG-06", "P011"), 5), (("restock", "T1"), 3),
    (("restock", "T1", "--why", "P034"), 0), (("restock", "T1", "--why", "P014"), 3),
    (("due",), 0), (("stranded",), 0), (("find", "zzzz"), 0)])
def test_exit_codes_are_those_that_scripts_rely_on(run, demo, words, code):
    assert run(*words).code == code
    assert run(*words, "--json").code == code


def test_options_of_store_and_vessel_stand_before_or_after_the_verb(run, demo, monkeypatch):
    monkeypatch.setenv("SPARES_STORE", "/nowhere/at/all.sqlite")
    for words in (("--store", demo, "--vessel", "HRE", "find", "harbour"),
                  ("find", "harbour", "--vessel", "hre", "--store", demo)):
        assert "Stern box" in run(*words).out       # which the other vessel, the first one, has not
    assert run("--store", demo, "--vessel", "XYZ", "find", "harbour").code == 2


def test_verdicts_and_states_are_in_words(run, demo):
    assert "FITS WITH CHANGES" in run("fit", "ENG-04", "P008").out
    assert "History unknown" in run("due").out
    assert "Order by 2027-04-26" in run("restock", "T1").out


def test_due_names_only_what_comes_due_by_the_day(run, demo):
    everything = run("due", "--json").answer["services"]
    some = run("due", "--until", "2027-04-15", "--json").answer["services"]
    assert 0 < len(some) < len(everything)
    assert all(one["due_on"] is None or one["due_on"] <= "2027-04-15" for one in some)


def test_a_dropped_part_shows_its_chain_and_what_is_left(run, demo):
    ran = run("show", "P054")
    text = " ".join(ran.out.split())
    assert "chain: P054 Discharge pump, diaphragm type · dropped 2025 · taken over by P055" in text
    assert "0 aboard, 1 elsewhere · this one" in text and "chain: P055" in text
    assert "stands in for P001 Lube oil filter, spin-on (measured)" in run("show", "P002").out


def test_a_fit_point_shows_what_was_tried_and_failed(run, demo):
    assert "tried, does not fit: P011" in run("show", "ENG-06").out
    assert "10 mm too long" in run("show", "ENG-06").out


def test_what_is_stranded_bears_the_choice(run, demo):
    assert "give: boatyard in the fjord" in run("stranded").out
