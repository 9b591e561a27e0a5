"""What is said of a service, which the phone's own code says too."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from spares.actions.compute import compute

TOLD = json.loads((Path(__file__).parent / "due/told.json").read_text("utf-8"))


@pytest.mark.parametrize("case", TOLD["cases"], ids=lambda case: case["what"])
def test_a_service_is_told_as_the_phone_tells_it(case: dict[str, Any]) -> None:
    records = [{"task": "t", **case["done"]}] if "done" in case else []
    (found,) = compute("service", {
        "today": TOLD["today"], "machines": [{"id": "m"}], "records": records,
        "baseline_on": case.get("baseline_on"), "tasks": [{"id": "t", "machine": "m",
                                                           **case["service"]}],
        "readings": [{"machine": "m", **one} for one in case["readings"]]})["tasks"]
    assert {name: found[name] for name in case["told"]} == case["told"]
