"""Tables load with their source; one that does not say where it is from is refused."""

from __future__ import annotations

import copy

import pytest

from spares.errors import UnknownTable
from spares.standards import read_table, table, table_ids

GOOD = {"id": "t", "title": "T", "columns": [{"name": "d_mm", "unit": "mm"}], "rows": [[1], [2]],
        "source": {"body": "ISO", "number": "1", "known_by": "read"}}


@pytest.mark.parametrize("table_id", table_ids())
def test_every_table_loads_and_says_where_it_is_from(table_id):
    found = table(table_id)
    assert found.id == table_id and found.rows and found.source.text()
    assert found.as_dict()["source"]["known_by"] in ("read", "package", "memory")
    assert read_table(found.as_dict(), table_id) == found


def test_table_of_its_own_shape_is_read():
    assert read_table(GOOD, "t").find(d_mm=2) == {"d_mm": 2}


@pytest.mark.parametrize("wrong", [
    {"source": None}, {"source": {}}, {"source": {"body": "ISO", "number": "1"}},
    {"source": {"body": "ISO", "number": "1", "known_by": "guess"}},
    {"source": {"body": "", "number": "1", "known_by": "read"}},
    {"source": {"body": "ISO", "number": "1", "known_by": "package"}},
    {"source": {"body": "ISO", "number": "1", "known_by": "read", "url": "x"}},
    {"columns": []}, {"columns": [{"name": "d_mm"}]}, {"rows": []}, {"rows": [[1, 2]]}])
def test_table_without_source_or_with_ragged_rows_is_refused(wrong):
    with pytest.raises(UnknownTable):
        read_table({**copy.deepcopy(GOOD), **wrong}, "t")


def test_unknown_table_is_named():
    with pytest.raises(UnknownTable) as caught:
        table("../secrets")
    assert "orings_as568" in caught.value.facts["known"]


def test_remembered_table_says_so():
    assert table("elastomers").remembered
    assert "from memory" in table("elastomers").source.text()
    assert "from memory" not in table("clearance_holes").source.text()
