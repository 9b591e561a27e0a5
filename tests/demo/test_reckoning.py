"""The files and the answers written down by hand agree, reckoned without the program."""

from __future__ import annotations

from pathlib import Path

import pytest

from spares.transfer.tables import read_tables
from tests.demo import expected, reckoning


@pytest.fixture(scope="module")
def tables():
    return read_tables(Path(__file__).parents[2] / "seed" / "tangloppe")


def test_services_fall_as_often_as_written_down(tables):
    uses, before, unknown = reckoning.uses(tables)
    assert uses == expected.USES
    assert sorted(before) == expected.DUE_BEFORE_LEAVING
    assert sorted(unknown) == expected.HISTORY_UNKNOWN


def test_needs_and_usable_pieces_are_as_written_down(tables):
    needs, usable = reckoning.needs(tables), reckoning.usable(tables)
    enough = {part: (need, usable[part]) for part, need in needs.items() if usable[part] >= need}
    assert enough == expected.ENOUGH
    short = {part: (need, usable[part], need - usable[part], reckoning.order_by(tables, part))
             for part, need in needs.items() if usable[part] < need}
    assert short == expected.SHORT
