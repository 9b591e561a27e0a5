"""The page on the import format names what there is, and nothing else."""

from __future__ import annotations

import re
from pathlib import Path

from spares.transfer.columns import TABLES

PAGE = Path(__file__).parents[2] / "spares" / "transfer" / "FORMAT.md"


def test_the_page_names_every_table_and_column_and_which_are_needed():
    told = {}
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        found = re.fullmatch(r"\| (\w+) \| (.*) \|", line)
        if found and found[1] != "Table":
            told[found[1]] = found[2].split()
    assert told == {
        name: [f"**{c.name}**" if c.needed else c.name for c in table.columns]
        for name, table in TABLES.items()}
