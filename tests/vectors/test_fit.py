"""The cases of the fit check, kept as JSON so that the phone's own fit check runs them too.

Each case: `given` is a request of the fit computation, `expect` the verdict, the outcome of the
rows that decide, the attributes that are advised about, the named changes, what to measure first,
and a text that a detail must hold. Expected values come from the source named beside them.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from spares.actions.compute import compute

FOLDER = Path(__file__).parent / "fit"
CASES = [(path.stem, case) for path in sorted(FOLDER.glob("*.json"))
         for case in json.loads(path.read_text(encoding="utf-8"))["cases"]]


@pytest.mark.parametrize(("kind", "case"), CASES, ids=[f"{k}: {c['name']}" for k, c in CASES])
def test_fit_case_answers_as_its_source_says(kind: str, case: dict[str, Any]):
    answer, expect = compute("fit", case["given"]), case["expect"]
    assert answer["verdict"] == expect["verdict"], answer["rows"]
    outcomes = {row["attr"]: row["outcome"] for row in answer["rows"]}
    wanted = expect.get("rows", {})
    assert {attr: outcomes.get(attr) for attr in wanted} == wanted
    advised = {a["attr"] for a in answer["advisories"]}
    assert set(expect.get("advisories", ())) <= advised
    if "changes" in expect:
        assert sorted(c["change"] for c in answer["changes"]) == sorted(expect["changes"])
    elif expect["verdict"] != "fits-with-changes":
        assert expect["verdict"] == "does-not-fit" or answer["changes"] == []
    if "to_measure" in expect:
        assert answer["to_measure"] == expect["to_measure"]
    if "detail" in expect:
        assert any(expect["detail"] in c["detail"] for c in answer["changes"])


def test_every_kind_has_cases_and_every_case_names_its_source():
    kinds = {kind for kind, _ in CASES}
    assert kinds == {"anode", "bearing", "clamp", "drive-belt", "fastener", "filter", "fluid",
                     "fuse", "gasket", "hose", "impeller", "o-ring", "pipe-thread", "pump",
                     "pump-seal", "thermostat"}
    assert all(case["source"].strip() for _, case in CASES)
