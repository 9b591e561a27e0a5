"""How many are there: the fold of all recorded movements and counts.

A pure function of the set of entries: their order, their batches and copies of
one entry make no difference. The newest count of a cell holds, later movements
add to it, earlier ones are contained in it. Where two people wrote without
knowing of each other and the clocks cannot tell which came first, the quantity
has a range and the movement stands under `doubts`, for someone to be asked:
was it already gone when it was counted?

    entries -> one per id, undone ones out, merged parts under one name  (book.py)
            -> per cell: base count, movements on top, doubts, rival counts  (here)
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from spares.domain.book import NOWHERE, Book, Event, Pile, open_book
from spares.domain.movements import CellKey, Effect, Entry, are_concurrent, came_after, effects

__all__ = ["Cell", "CellKey", "DOUBT_MS", "Effect", "Entry", "count_asked_about", "effects", "fold"]

#: Stamps of two devices closer than this cannot say which came first [ms].
DOUBT_MS = 15 * 60_000


@dataclass(frozen=True)
class Cell:
    """What a cell holds [thousandths], and what is doubtful about it (ids of changes)."""

    quantity: int
    low: int
    high: int
    doubts: tuple[str, ...] = ()
    rivals: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()


def fold(entries: Iterable[Entry]) -> dict[CellKey, Cell]:
    """Work out every cell from scratch.

    Args:
        entries: All entries, in any order, copies allowed [-].

    Returns:
        Cell by (part, locker, lot), quantities [thousandths]; only cells that
        some change which was not undone has touched. Merged parts stand under
        the name that was kept.

    Raises:
        KeyError: if a body lacks what its kind carries (it was not checked).

    Source:
        Counting rule of this project.

    Example:
        >>> body = {"part": "P", "locker": "K", "lot": "", "q": 4000}
        >>> put = Entry("p", "A", 1, "put", "000000000001.0000.A", 0, None, {"e": 1}, body)
        >>> fold([put, put])[("P", "K", "")].quantity
        4000
    """
    book = open_book(entries)
    return {key: _cell(book, pile) for key, pile in book.cells.items()}


def count_asked_about(entries: Iterable[Entry], key: CellKey, change: str) -> str | None:
    """Name the count against which a movement of a cell is in doubt.

    Args:
        entries: At least: every entry with an effect on the cell, under any of
            the names merged into its part; every `same`; every `void`, `settle`
            and `restamp` that names one of these [-].
        key: Part (as kept), locker, lot [-].
        change: Id of the movement [-].

    Returns:
        Id of the count, None if the movement is not in doubt [-].

    Raises:
        KeyError: as `fold`.

    Source:
        Counting rule of this project.

    Example:
        >>> count_asked_about([], ("P", "K", ""), "m") is None
        True
    """
    book = open_book(entries)
    of_cell = book.cells.get(key)
    for events in _parted(book, of_cell.events if of_cell else []):
        base = _base(events)
        if base is not None and change in _range(book, events, base)[3]:
            return base.entry.id
    return None


def _cell(book: Book, pile: Pile) -> Cell:
    found = [_weighed(book, events) for events in _parted(book, pile.events)]
    quantity = pile.added + sum(cell.quantity for cell in found)
    return Cell(
        quantity, pile.added + sum(cell.low for cell in found),
        pile.added + sum(cell.high for cell in found),
        _each_once(name for cell in found for name in cell.doubts),
        _each_once(name for cell in found for name in cell.rivals),
        ("negative",) if quantity < 0 else ())


def _weighed(book: Book, events: list[Event]) -> Cell:
    base = _base(events)
    quantity, low, high, doubts = _range(book, events, base)
    if base is None:
        return Cell(quantity, low, high)
    rivals = sorted((event for event in events if event.count is not None
                     and _is_rival(book, events, event, base)), key=_by_stamp)
    for rival in rivals:
        if _order_unknown(rival, base):
            _, rival_low, rival_high, _ = _range(book, events, rival)
            low, high = min(low, rival_low), max(high, rival_high)
    return Cell(quantity, low, high, tuple(doubts), tuple(rival.entry.id for rival in rivals))


def _parted(book: Book, events: list[Event]) -> list[list[Event]]:
    """Part the events of a merged part into piles that were counted apart.

    A count made before anybody said that two parts are the same is about the
    pieces recorded under its own name; it must not swallow the others.
    """
    names = {event.part for event in events} if book.sames else set()
    if len(names) <= 1:
        return [events]
    joined: dict[str, set[str]] = {name: {name} for name in names}
    for event in events:
        if event.count is not None:
            together = {name for covered in book.names_known_to(event.entry, event.part)
                        for name in joined.get(covered, ())}
            for name in together:
                joined[name] = together
    piles: dict[str, list[Event]] = {}
    for event in events:
        piles.setdefault(min(joined[event.part]), []).append(event)
    return [piles[name] for name in sorted(piles)]


def _range(book: Book, events: list[Event], base: Event | None,
           ) -> tuple[int, int, int, list[str]]:
    """Give quantity, low, high and doubts as they are if *base* was the last count."""
    if base is None:
        quantity = sum(delta for _, _, delta, _ in events if delta is not None)
        return quantity, quantity, quantity, []
    quantity, less, more = base.count or 0, 0, 0
    doubtful: list[Event] = []
    dev, pos = base.entry.dev, base.entry.pos
    for event in events:
        entry, _, delta, _ = event
        if delta is None:
            continue
        on_top = _on_top(book, event, base)
        quantity += delta if on_top else 0
        # Nearly every author had seen the count: asked here, as `saw` would.
        seen = entry.seen
        if entry.dev == dev or seen is not None and pos.get(seen["epoch"], NOWHERE) <= seen["seq"]:
            continue
        if _order_unknown(event, base) and (entry.id, base.entry.id) not in book.settled:
            doubtful.append(event)
            shift = -delta if on_top else delta
            less, more = less + min(shift, 0), more + max(shift, 0)
    doubts = [event.entry.id for event in sorted(doubtful, key=_by_stamp)]
    return quantity, quantity + less, quantity + more, doubts


def _is_rival(book: Book, events: list[Event], other: Event, base: Event) -> bool:
    if other is base or not are_concurrent(other.entry, base.entry):
        return False
    between = _sum(events, lambda e: _on_top(book, e, other) and not _on_top(book, e, base))
    return other.count + between != base.count


def _order_unknown(one: Event, other: Event) -> bool:
    if not are_concurrent(one.entry, other.entry):
        return False
    apart_ms = abs(_time_ms(one.entry.at) - _time_ms(other.entry.at))
    return apart_ms <= DOUBT_MS or one.entry.g == 1 or other.entry.g == 1


def _on_top(book: Book, event: Event, base: Event) -> bool:
    """Say whether a movement comes on top of a count, or is contained in it."""
    settled = book.settled
    side = settled.get((event.entry.id, base.entry.id)) if settled else None
    return came_after(event.entry, base.entry) if side is None else side == "after"


def _base(events: list[Event]) -> Event | None:
    counts = [event for event in events if event.count is not None]
    return max(counts, key=_by_stamp, default=None)


def _each_once(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))


def _sum(events: list[Event], chosen: Callable[[Event], bool]) -> int:
    return sum(event.delta for event in events if event.delta is not None and chosen(event))


def _by_stamp(event: Event) -> str:
    return event.entry.at


def _time_ms(at: str) -> int:
    return int(at.partition(".")[0], 16)
