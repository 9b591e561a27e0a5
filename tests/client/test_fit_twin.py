"""Is the phone's fit check the server's: the same data, units, judges, and the same answers?

Neither side gives the expected values here: the sourced cases do that, on both sides. These
tests find where the two would part, over requests that nobody thought of.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import tomllib
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from spares import units
from spares.actions.compute import compute
from spares.actions.fit_data import fit_data
from spares.domain.fit import load_sheets
from spares.domain.fit.judges import (
    answers_alone,
    answers_by_place,
    compares_amounts,
    judge_names,
    knows_what_fails,
)
from spares.domain.fit.sheets import Attribute
from spares.errors import InvalidInput
from spares.units import exact
from tests.client.fit_edges import edges, places_kept, places_now
from tests.client.fit_neighbours import neighbours, spelled
from tests.client.fit_requests import requests
from tests.conftest import LONG

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
COUNT, SEED = 2000, 20270315
EACH = 12       # neighbours of a sourced case
EVERY = 1 if LONG else 3        # of these the server is asked; a mutant of its rules is put to all

needs_node = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")


@pytest.fixture(scope="module")
def twin() -> dict[str, Any]:
    """What the phone answers to the random requests, and the lists that it works by."""
    return _asked_of_the_phone()


@cache
def asked() -> list[dict[str, Any]]:
    """Give what both are asked: random requests, spellings, sourced cases with their edges."""
    return requests(COUNT, SEED) + neighbours(EACH, SEED) + spelled() + edges()


@cache
def _asked_of_the_phone() -> dict[str, Any]:
    given = {"data": fit_data(), "requests": asked()}
    done = subprocess.run(["node", str(HERE / "fit_answers.js")], input=json.dumps(given),
                          capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def _answer(request: dict[str, Any]) -> dict[str, Any]:
    try:
        return json.loads(json.dumps(compute("fit", request)))
    except InvalidInput as err:
        return {"refused": [one["pointer"] for one in err.facts["errors"]]}


@needs_node
def test_phone_and_server_answer_random_requests_alike_to_the_letter(twin):
    seen: Counter[str] = Counter()
    for request, given in list(zip(asked(), twin["answers"], strict=True))[::EVERY]:
        wanted = _answer(request)
        seen[wanted.get("verdict", "refused")] += 1
        assert given == wanted, json.dumps(request)
    # the requests are worth asking: every verdict comes up, and not many are refused
    verdicts = ("fits", "fits-with-changes", "not-known-yet", "does-not-fit")
    assert min(seen[v] for v in verdicts) > 100
    assert seen["refused"] < seen.total() / 4


def test_edges_were_looked_for_in_every_case_with_a_number_and_in_no_other():
    kept, now = places_kept(), places_now()
    how = "find them anew: python -m tests.client.fit_edges --write"
    assert sorted(set(now) - set(kept)) == [], how
    assert sorted(set(kept) - set(now)) == [], how
    assert [name for name in now if not all(place in now[name] for place in kept[name])] == [], how


@needs_node
def test_phone_knows_the_units_of_the_server_with_the_same_factors(twin):
    def written(number):
        return f"{number.numerator}/{number.denominator}"
    ours = [[name, one.symbol, one.kind, written(one.factor), written(one.offset)]
            for name, one in units._EXACT.items()]
    assert sorted(twin["units"]) == sorted(ours)


@needs_node
def test_phone_has_the_judges_of_the_server(twin):
    lines = {name: Attribute("x", "x", judge=name) for name in judge_names()}
    ours = [[name, answers_alone(line), answers_by_place(line) and not answers_alone(line),
             compares_amounts(line), knows_what_fails(line)] for name, line in lines.items()]
    assert sorted(twin["judges"]) == sorted(ours)


def test_data_of_the_phone_holds_every_table_as_it_lies_in_its_file():
    files = {path.stem: json.loads(path.read_text(encoding="utf-8"))
             for path in (ROOT / "spares/standards/tables").glob("*.json")}
    given = json.loads(json.dumps(fit_data()["tables"]))
    assert set(given) == set(files)
    for name, table in files.items():
        assert given[name]["rows"] == table["rows"]
        assert [c["name"] for c in given[name]["columns"]] == [c["name"] for c in table["columns"]]
        assert given[name]["source"]["known_by"] == table["source"]["known_by"]


def test_data_of_the_phone_holds_every_line_of_every_kind_sheet():
    folder = ROOT / "spares/domain/fit"
    given = fit_data()
    for path in (folder / "kinds").glob("*.toml"):
        written = tomllib.loads(path.read_text(encoding="utf-8"))
        sheet = given["sheets"][written["kind"]]
        assert list(sheet["attributes"]) == list(written["attributes"])
        for code, line in written["attributes"].items():
            for name, value in line.items():
                shown = sheet["attributes"][code].get(name, type(value)())
                alike = exact(shown) == exact(value) if name.startswith("tol") else shown == value
                assert alike, f"{path.name} {code} {name}"
        assert len(sheet["implied"]) == len(written.get("implied", []))
    changes = tomllib.loads((folder / "changes.toml").read_text(encoding="utf-8"))
    assert given["changes"] == {code: {"part": False, **line} for code, line in changes.items()}


def test_sheets_hold_no_number_that_the_data_would_cut():
    for sheet in load_sheets().values():
        plain = sheet.as_dict()["attributes"]
        for code, line in sheet.attributes.items():
            for name in ("tol", "tol_wide", "tol_percent"):
                if (size := getattr(line, name)) is not None:
                    assert exact(plain[code][name]) == size, f"{sheet.kind} {code} {name}"
