"""The shared cases of changes, stamps and clocks, which the client may run as well."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from spares.errors import Refused
from spares.sync import stamp as clocks
from spares.sync.change import canonical, content_hash, parse_change

HERE = Path(__file__).parent


def cases(file: str) -> list[Any]:
    found = json.loads((HERE / file).read_text("utf-8"))["cases"]
    return [pytest.param(case, id=case["name"]) for case in found]


@pytest.mark.parametrize("case", cases("change/taken.json"))
def test_change_has_the_canonical_form_and_hash_of_its_case(case: dict[str, Any]) -> None:
    change = parse_change(case["given"])
    said = {name: case["given"][name] for name in
            ("id", "kind", "v", "t", "seen", "after", "body")}
    assert canonical(said).decode() == case["expect"]["canonical"]
    assert content_hash(change) == case["expect"]["sha256"]


@pytest.mark.parametrize("case", cases("change/refused.json"))
def test_change_is_refused_with_the_code_of_its_case(case: dict[str, Any]) -> None:
    with pytest.raises(Refused) as caught:
        parse_change(case["given"])
    assert caught.value.facts["reason"] == case["expect"]["reason"]


@pytest.mark.parametrize("case", cases("stamp/stamps.json"))
def test_stamp_and_grade_are_those_of_the_case(case: dict[str, Any]) -> None:
    given = case["given"]
    server, now, t, after = (given[k] for k in ("server_ms", "now_ms", "t_ms", "after"))
    low = clocks.floor_of(given["previous"], after, server)
    grade = clocks.grade(now, t, good=given["good"], known_doubtful=given["known_doubtful"],
                         after_beyond=clocks.is_beyond(after, server))
    assert {"at": clocks.stamp(server, now, t, low, given["dev"]), "g": grade} == case["expect"]


@pytest.mark.parametrize("case", cases("stamp/clocks.json"))
def test_drift_and_lost_time_are_those_of_the_case(case: dict[str, Any]) -> None:
    given = case["given"]
    drift = clocks.drift_ms(given["now_ms"], given["server_ms"], given["off_prev_ms"])
    lost = clocks.lost_time_ms(drift, restarted=given["restarted"], stepped=given["stepped"],
                               first=given["off_prev_ms"] is None, trusted=given["trusted"])
    good = clocks.clock_is_good(drift, lost_ms=lost, stepped=given["stepped"])
    assert {"drift_ms": drift, "lost_ms": lost, "good": good} == case["expect"]
