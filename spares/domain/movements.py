"""What each recorded change does to the cells of the stock.

A cell is (part, locker, lot); the plain lot is "". An entry is a change with the
stamp and position that the log gave it. A movement adds to or takes from a cell
(delta), a count sets it. Quantities are whole thousandths of the part's unit, so
that sums do not depend on their order.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

#: One piece [thousandths].
PIECE = 1000

CellKey = tuple[str, str, str]
#: Kinds that touch one cell, and whether they add to it.
_ONE_WAY = {"put": 1, "took": -1, "landed": -1}


@dataclass(frozen=True)
class Entry:
    """A change as the log holds it.

    `n` is the device's own counter [1]; `at` its stamp, compared as text; `g` 1
    if the stamp's time is doubtful [1]; `seen` what its author had of the log,
    {"epoch": text, "seq": whole} or None; `pos` its own places in the log,
    {epoch: seq} [1].
    """

    id: str
    dev: str
    n: int
    kind: str
    at: str
    g: int
    seen: Mapping[str, Any] | None
    pos: Mapping[str, int]
    body: Mapping[str, Any]


class Effect(NamedTuple):
    """What one entry does to one cell: a delta or a count [thousandths], never both."""

    part: str
    locker: str
    lot: str
    delta: int | None
    count: int | None


def effects(entry: Entry) -> list[Effect]:
    """List what a change does to cells, before parts are merged and changes undone.

    Args:
        entry: Any change; kinds that touch no stock give an empty list [-].

    Returns:
        Effects [thousandths], one per cell, in the order of the body; deltas on
        one cell are added up and left out if they cancel.

    Raises:
        KeyError: if a body lacks what its kind carries (it was not checked).

    Source:
        Counting rule of this project.

    Example:
        >>> body = {"part": "P", "from": "K", "to": "L", "lot": "", "q": 3000}
        >>> moved = Entry("m", "A", 1, "moved", "", 0, None, {}, body)
        >>> [(e.locker, e.delta) for e in effects(moved)]
        [('K', -3000), ('L', 3000)]
    """
    if entry.kind == "counted":
        body = entry.body
        return [Effect(body["part"], body["locker"], body.get("lot", ""), None, body["q"])]
    return [Effect(*key, delta, None) for key, delta in deltas(entry)]


def deltas(entry: Entry) -> list[tuple[CellKey, int]]:
    """List what a movement adds to cells: as `effects`, without counts.

    Args:
        entry: Any change; what is no movement gives an empty list [-].

    Returns:
        (cell, what it adds [thousandths]), one per cell.

    Raises:
        KeyError: if a body lacks what its kind carries (it was not checked).

    Source:
        Counting rule of this project.

    Example:
        >>> body = {"part": "P", "locker": "K", "lot": "", "q": 3000}
        >>> deltas(Entry("m", "A", 1, "took", "", 0, None, {}, body))
        [(('P', 'K', ''), -3000)]
    """
    if (sign := _ONE_WAY.get(entry.kind)) is not None:
        body = entry.body
        q = body["q"]
        return [((body["part"], body["locker"], body.get("lot", "")), sign * q)] if q else []
    added: dict[CellKey, int] = {}
    for key, delta in _deltas(entry):
        added[key] = added.get(key, 0) + delta
    return [(key, delta) for key, delta in added.items() if delta]


def saw(later: Entry, earlier: Entry) -> bool:
    """Say whether the author of one change had seen another when making it.

    Exact without a clock: a device knows its own changes, and all else reaches
    it through one log, of which it says how far it had it.

    Args:
        later: The change whose author is asked about [-].
        earlier: The change that may have been seen [-].

    Returns:
        True if it was seen [-].

    Raises:
        KeyError: if `seen` lacks its epoch or seq.

    Source:
        Counting rule of this project.

    Example:
        >>> a = Entry("a", "A", 1, "took", "", 0, None, {"e": 5}, {})
        >>> b = Entry("b", "B", 1, "took", "", 0, {"epoch": "e", "seq": 5}, {"e": 6}, {})
        >>> saw(b, a), saw(a, b)
        (True, False)
    """
    if later.dev == earlier.dev:
        return earlier.n < later.n
    if later.seen is None:
        return False
    place = earlier.pos.get(later.seen["epoch"])
    return place is not None and place <= later.seen["seq"]


def are_concurrent(one: Entry, other: Entry) -> bool:
    """Say whether two changes were made without knowing of each other.

    Args:
        one: A change [-].
        other: Another change [-].

    Returns:
        True if neither author had seen the other's change [-].

    Raises:
        KeyError: as `saw`.

    Source:
        Counting rule of this project.

    Example:
        >>> a = Entry("a", "A", 1, "took", "", 0, None, {"e": 1}, {})
        >>> b = Entry("b", "B", 1, "took", "", 0, {"epoch": "e", "seq": 0}, {"e": 2}, {})
        >>> are_concurrent(a, b)
        True
    """
    return not saw(one, other) and not saw(other, one)


def came_after(movement: Entry, count: Entry) -> bool:
    """Say whether a movement comes on top of a count by the stamps, or is contained in it.

    Args:
        movement: A change that adds to a cell or takes from it [-].
        count: A count of that cell [-].

    Returns:
        True if it comes on top; someone who was asked may have said otherwise [-].

    Raises:
        Nothing.

    Source:
        Counting rule of this project.

    Example:
        >>> count = Entry("c", "A", 1, "counted", "1", 0, None, {}, {})
        >>> came_after(Entry("t", "B", 1, "took", "2", 0, None, {}, {}), count)
        True
    """
    return movement.at > count.at


def _deltas(entry: Entry) -> list[tuple[CellKey, int]]:
    body, kind = entry.body, entry.kind
    if kind == "moved":
        part, lot = body["part"], body.get("lot", "")
        return [((part, body["from"], lot), -body["q"]),
                ((part, body["to"], body.get("to_lot", lot)), body["q"])]
    if kind == "service":
        return [(_cell(line), -line["q"]) for line in body["lines"]]
    if kind == "convert":
        return ([(_cell(line), -line["q"]) for line in body["out"]]
                + [(_cell(line), line["q"]) for line in body["in"]])
    if kind == "exchange":
        return _exchanged(body)
    return []


def _exchanged(body: Mapping[str, Any]) -> list[tuple[CellKey, int]]:
    found, q = [], body.get("q", PIECE)
    if body.get("from") and body["part"]:
        found.append(((body["part"], body["from"], body.get("lot", "")), -q))
    if body.get("old_to", "landed") != "landed" and body.get("old_part"):
        found.append(((body["old_part"], body["old_to"], body.get("old_lot", "")), q))
    return found


def _cell(line: Mapping[str, Any]) -> CellKey:
    return line["part"], line["locker"], line.get("lot", "")
