"""A cell that a movement only adds to, without its whole history.

A movement whose author had seen every count of a cell comes on top of all of them: it is in
doubt against none and lies between no two of them. The cell then moves by it as a whole, range
included, and back where it is undone. Counts before the cell's cut-off (`cut_off.py`) need not be
looked at. Whatever else touches a cell has it folded (`stock.py`).
"""

from __future__ import annotations

from collections.abc import Iterable

from spares.domain.movements import Entry, came_after, saw
from spares.domain.stock import Cell


def comes_on_top(movement: Entry, counts: Iterable[Entry]) -> bool:
    """Say whether a movement only adds to a cell with these counts.

    Args:
        movement: An entry with a delta on the cell, of which no other says more than that it
            is undone now [-].
        counts: Every count of the cell behind its cut-off, undone ones too [-].

    Returns:
        True if its author had seen all of them [-].

    Raises:
        KeyError: as `saw`.

    Source:
        Counting rule of this project.

    Example:
        >>> count = Entry("c", "A", 1, "counted", "1", 0, None, {"e": 1}, {})
        >>> took = Entry("t", "B", 1, "took", "2", 0, {"epoch": "e", "seq": 1}, {"e": 2}, {})
        >>> comes_on_top(took, [count]), comes_on_top(took, [])
        (True, True)
    """
    return all(saw(movement, count) and came_after(movement, count) for count in counts)


def shifted(cell: Cell, delta: int) -> Cell:
    """Give a cell after a movement that only adds to it.

    Args:
        cell: As it was [thousandths].
        delta: What the movement adds [thousandths].

    Returns:
        The cell that `fold` gives from all entries [thousandths].

    Raises:
        Nothing.

    Source:
        Counting rule of this project.

    Example:
        >>> shifted(Cell(1000, 0, 1000, ("d",)), -2000)
        Cell(quantity=-1000, low=-2000, high=-1000, doubts=('d',), rivals=(), flags=('negative',))
    """
    quantity = cell.quantity + delta
    return Cell(quantity, cell.low + delta, cell.high + delta, cell.doubts, cell.rivals,
                ("negative",) if quantity < 0 else ())
