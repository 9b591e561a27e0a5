"""The shared cases of the stock fold, which the client runs as well."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from spares.actions.compute import compute

FILES = sorted((Path(__file__).parent / "stock").glob("*.json"))
CASES = [(f"{path.stem}: {case['name']}", case)
         for path in FILES for case in json.loads(path.read_text("utf-8"))["cases"]]


@pytest.mark.parametrize("case", [case for _, case in CASES], ids=[name for name, _ in CASES])
def test_stock_case_comes_out_as_worked_by_hand(case: dict[str, Any]) -> None:
    expect = sorted(case["expect"]["on_hand"], key=lambda r: (r["part"], r["locker"], r["lot"]))
    assert compute("stock", case["given"]) == {"on_hand": expect}


@pytest.mark.parametrize("case", [case for _, case in CASES], ids=[name for name, _ in CASES])
def test_stock_case_does_not_care_for_order_or_copies(case: dict[str, Any]) -> None:
    changes = case["given"]["changes"]
    assert (compute("stock", {"changes": changes[::-1] + changes[:2]})
            == compute("stock", case["given"]))


def test_stock_cases_have_names_of_their_own() -> None:
    assert len(CASES) > 60 and len({name for name, _ in CASES}) == len(CASES)
