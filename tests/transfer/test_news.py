"""Only what is new is said."""

from __future__ import annotations

from spares.domain.draft import Draft, setting
from spares.domain.identity import numbered_id, ref
from spares.transfer.news import news
from tests.transfer.vessels import TGL, tables_of

PART = ref("part", numbered_id(TGL, "part", "P1"))


def test_what_stands_so_already_is_left_out(harbour):
    aboard = harbour.bring(tables_of(vessel="mark;name\nSKR;x\n", parts="no;name\nP1;Filter\n"))
    took = Draft("took", {"part": PART})
    said = [setting(PART, name="Filter"), took, setting(PART, name="Filter", maker="Fennholt"),
            setting(ref("part", TGL), name="Other")]
    assert list(news(said, aboard)) == [took, setting(PART, maker="Fennholt"),
                                        setting(ref("part", TGL), name="Other")]


def test_what_was_thrown_out_comes_back_when_it_is_named_again(harbour):
    tables = tables_of(vessel="mark;name\nSKR;x\n", parts="no;name\nP1;Filter\n")
    harbour.bring(tables)
    aboard = harbour.submit([setting(PART, gone=True)])
    after = harbour.bring(tables, aboard=aboard)
    assert not after.get(PART).gone
