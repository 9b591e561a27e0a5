"""Which parts have to be read beside a part, so that what is said of it can name them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from spares.db.asking import first_column, is_in, listed
from spares.domain.identity import id_of, ref

if TYPE_CHECKING:
    from spares.db.asking import Reader

LONGEST_CHAIN = 50      # links; a ring of parts that take each other over ends here


def named_beside(reader: Reader, vessel: str, parts: Iterable[str]) -> set[str]:
    """Give the parts that stand in for some of *parts*, or took them over."""
    parts = list(parts)
    stand_ins = first_column(reader, "SELECT part FROM stand_in WHERE vessel = :vessel "
                             f"AND for_part {is_in(reader, 'parts')}",
                             vessel=vessel, parts=listed(parts))
    return {one for one in (*stand_ins, *_successors(reader, vessel, parts)) if one}


def around(reader: Reader, vessel: str, name: str) -> set[str]:
    """Give the whole chain that a part is in, and the parts that it stands in for."""
    found, new = {name}, {name}
    for _ in range(LONGEST_CHAIN):
        before = first_column(reader, "SELECT id FROM part WHERE vessel = :vessel "
                              f"AND taken_over_by {is_in(reader, 'parts')}",
                              vessel=vessel, parts=listed(new))
        new = ({ref("part", one) for one in before}
               | set(_successors(reader, vessel, new))) - found
        if not new:
            break
        found |= new
    served = first_column(reader, "SELECT for_part FROM stand_in WHERE vessel = :vessel "
                          "AND part = :name", vessel=vessel, name=name)
    return found | {one for one in served if one}


def _successors(reader: Reader, vessel: str, parts: Iterable[str]) -> list[str]:
    return [one for one in first_column(
        reader, "SELECT taken_over_by FROM part WHERE vessel = :vessel "
        f"AND id {is_in(reader, 'ids')}", vessel=vessel, ids=listed(map(id_of, parts))) if one]
