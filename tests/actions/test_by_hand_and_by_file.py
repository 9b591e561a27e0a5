"""What a person writes by hand and what a file says of the same thing is one record."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.show import show


def name(ctx: Context, kind: str, no: str) -> str:
    return f"{kind}/{show(ctx, no)['id']}"


@pytest.mark.parametrize(("kind", "fields", "table"), [
    ("spec", {"attribute": "height", "claim": {
        "value": "12.7", "unit": "mm", "origin": {"how": "measured", "when": "2027-03-01"}}},
     ("specs.csv", "part;attribute;value;unit;how;when\nP05;height;12.7;mm;measured;2027-03-01\n")),
    ("link", {"role": "takes", "proof": "hearsay"},
     ("links.csv", "part;to;role;proof\nP05;ENG-01;takes;hearsay\n")),
    ("keep", {"q": 2000}, ("keep.csv", "part;quantity\nP05;2\n")),
])
def test_a_record_made_by_hand_is_the_one_of_the_file(
        ctx: Context, tmp_path: Path, kind: str, fields: dict[str, Any],
        table: tuple[str, str]) -> None:
    whole = {"part": name(ctx, "part", "P05"), **fields}
    if kind == "link":
        whole["to"] = name(ctx, "point", "ENG-01")
    by_hand = write_document(ctx, kind, whole)["doc"]
    (tmp_path / table[0]).write_text(table[1])
    answer = bring_in(ctx.store, tmp_path / table[0], vessel="TST")
    assert answer["changes"] == 0, "the file says nothing new"
    assert by_hand in {f"{kind}/{one.id}" for one in ctx.aboard().all(kind)}


def test_two_origins_of_one_value_stand_side_by_side(ctx: Context) -> None:
    docs = {write_document(ctx, "spec", {"part": name(ctx, "part", "P05"), "attribute": "height",
                                         "claim": {"value": value, "unit": "mm",
                                                   "origin": {"how": how}}})["doc"]
            for value, how in (("12.7", "measured"), ("12.5", "maker"))}
    assert len(docs) == 2
