"""Does a phone without the server answer at the demo's fit points as the server does?"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from spares.actions.fit import fit
from spares.actions.fit_book import fit_book
from spares.actions.fit_data import fit_data
from spares.errors import InvalidInput
from tests.demo import expected

ROOT = Path(__file__).parents[2]
pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")
ALIKE = ("verdict", "rows", "to_measure", "changes", "advisories", "would_strand",
         "no_longer_needed", "needs", "notes", "cautions")


def _asks(book: dict[str, Any]) -> list[dict[str, str]]:
    """Every part that is tied to a point, and every part of the point's kind."""
    return [{"point": point["no"], "part": part} for point in book["points"]
            for part in dict.fromkeys([*_tied(point), *(
                part["no"] for part in book["parts"] if part["kind"] == point["kind"])])]


def _tied(point: dict[str, Any]) -> list[str]:
    return [tie["part"] for tie in point["candidates"]]


@pytest.fixture(scope="module")
def judged(demo) -> dict[tuple[str, str], tuple[dict[str, Any], dict[str, Any]]]:
    """What the phone says and what the server says, by fit point and part."""
    book = json.loads(json.dumps(fit_book(demo)))
    asks = _asks(book)
    done = subprocess.run(
        ["node", str(ROOT / "tests/client/fit_answers.js")], text=True, capture_output=True,
        timeout=60, check=False, input=json.dumps({"data": fit_data(), "copy": book, "asks": asks}))
    assert done.returncode == 0, done.stderr
    answers = json.loads(done.stdout)["judged"]
    return {(ask["point"], ask["part"]): (answer, _server(demo, ask))
            for ask, answer in zip(asks, answers, strict=True)}


def _server(demo: Any, ask: dict[str, str]) -> dict[str, Any]:
    try:
        return json.loads(json.dumps(fit(demo, ask["point"], ask["part"])))
    except InvalidInput as err:
        return {"refused": [one["pointer"] for one in err.facts["errors"]]}


def test_phone_says_to_the_letter_what_the_server_says(demo, judged):
    tied = {(point["no"], part) for point in fit_book(demo)["points"] for part in _tied(point)}
    assert len(judged) > len(tied) >= 50
    for ask, (phone, server) in judged.items():
        # of a part that nothing ties to the point, the phone does not know what it would strand
        names = ALIKE if ask in tied else ("verdict", "rows", "changes", "advisories", "refused")
        assert {name: phone.get(name) for name in names} == {
            name: server.get(name) for name in names}, ask


def test_phone_gives_the_verdicts_that_were_worked_out_by_hand(judged):
    known = {ask: phone["verdict"] for ask, (phone, _) in judged.items() if "verdict" in phone}
    asked = {ask: verdict for ask, verdict in expected.VERDICTS.items() if ask in known}
    assert len(asked) >= 7
    assert {ask: known[ask] for ask in asked} == asked


def test_phone_names_the_part_that_the_other_pump_needs_and_what_it_would_strand(judged):
    phone, _ = judged["ENG-04", "P008"]
    assert sorted(one["attr"] for one in phone["changes"]) == sorted(expected.P008_CHANGES)
    needs = {one["attr"]: (one["part"], one["aboard"]) for one in phone["needs"]}
    assert needs["inlet_port"] == ("P092", 0)
    assert {one["part"]: one["quantity"] for one in phone["would_strand"]} == expected.P008_STRANDS
    assert phone["as_of"] == expected.DAY_ZERO
