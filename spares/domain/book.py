"""The entries made ready for counting.

One entry for each id, with the stamp that holds; those that were undone are out;
parts that were found to be the same stand under one name; answered doubts are at
hand. What remains is a list of events for each cell.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from spares.domain.movements import CellKey, Entry, are_concurrent, came_after, deltas, effects, saw

NOWHERE = float("inf")
#: Kinds that say something of cells, of parts or of other changes, and move nothing.
RARE = {"counted", "same", "settle", "void"}


class Event(NamedTuple):
    """One entry's effect on one cell [thousandths]; `part` as its author named it."""

    entry: Entry
    part: str
    delta: int | None
    count: int | None


@dataclass(slots=True)
class Pile:
    """What touches one cell: what has to be weighed, and the sum of the rest [thousandths].

    The rest are movements that knew of the newest count, `base`, or of which it knew: they are
    in doubt against nothing, and add up if they came after it. Everything is weighed of a cell
    whose counts may contradict each other, and of a merged part.
    """

    events: list[Event]
    added: int = 0
    base: Entry | None = None
    is_weighed_whole: bool = False


@dataclass(frozen=True)
class Book:
    """Piles by cell, answers by (movement, count), and who said what is the same."""

    cells: dict[CellKey, Pile]
    settled: dict[tuple[str, str], str]
    sames: tuple[Entry, ...]

    def names_known_to(self, entry: Entry, part: str) -> set[str]:
        """Give the names that an author knew to mean *part*."""
        groups = group_parts(same for same in self.sames if saw(entry, same))
        return groups.get(part, {part})


def open_book(entries: Iterable[Entry]) -> Book:
    """Make entries ready for counting.

    Args:
        entries: In any order, copies allowed [-].

    Returns:
        The events of each cell, unsorted [thousandths].

    Raises:
        KeyError: if a body lacks what its kind carries (it was not checked).

    Source:
        Counting rule of this project.

    Example:
        >>> open_book([]).cells
        {}
    """
    live = one_per_id(entries)
    rare = [entry for entry in live if entry.kind in RARE]
    undone = {entry.body["of"] for entry in rare if entry.kind == "void"}
    live, rare = without(undone, live), without(undone, rare)
    sames = tuple(entry for entry in rare if entry.kind == "same")
    settles = sorted((e for e in rare if e.kind == "settle"), key=lambda e: e.at)
    settled = {(e.body["of"], e.body["count"]): e.body["side"] for e in settles}
    kept = kept_names(sames)
    cells = _counts(rare, kept)
    answered = {of for of, _ in settled}
    for entry in live:
        for key, delta in deltas(entry):
            part = key[0]
            if part in kept:
                key = (kept[part], *key[1:])
            if (pile := cells.get(key)) is None:
                pile = cells[key] = Pile([], is_weighed_whole=part in kept)
            base = pile.base
            if (pile.is_weighed_whole or entry.id in answered
                    or base is not None and are_concurrent(base, entry)):
                pile.events.append(Event(entry, part, delta, None))
            elif base is None or came_after(entry, base):
                pile.added += delta
    return Book(cells, settled, sames)


def _counts(rare: list[Entry], kept: dict[str, str]) -> dict[CellKey, Pile]:
    """Begin the piles of the cells that were counted."""
    cells: dict[CellKey, Pile] = {}
    for entry in rare:
        for part, locker, lot, _, count in effects(entry):
            key = (kept.get(part, part), locker, lot)
            if (pile := cells.get(key)) is None:
                pile = cells[key] = Pile([], is_weighed_whole=part in kept)
            pile.events.append(Event(entry, part, None, count))
    for pile in cells.values():
        pile.base = base = max((event.entry for event in pile.events), key=lambda one: one.at)
        pile.is_weighed_whole |= any(are_concurrent(event.entry, base) for event in pile.events
                                     if event.entry is not base)
    return cells


def one_per_id(entries: Iterable[Entry]) -> list[Entry]:
    """Keep one entry for each id, with the stamp that holds.

    A change can have been accepted on both sides of a restore; its smaller stamp
    holds (with that stamp's grade), and it stands at both places of the log.

    Args:
        entries: In any order, copies allowed [-].

    Returns:
        One entry for each id, in no particular order [-].

    Raises:
        KeyError: if a restamp says not what it is of.

    Source:
        Counting rule of this project.

    Example:
        >>> late = Entry("a", "A", 1, "took", "2", 0, None, {"e": 9}, {})
        >>> [e.at for e in one_per_id([late, replace(late, at="1", pos={"d": 7})])]
        ['1']
    """
    found: dict[str, Entry] = {}
    restamps = []
    for entry in entries:
        if entry.kind == "restamp":
            restamps.append(entry)
        if (twin := found.setdefault(entry.id, entry)) is not entry:
            found[entry.id] = _joined(entry, twin)
    for restamp in sorted(restamps, key=_by_stamp_given):
        named = found.get(restamp.body["of"])
        if named is not None:
            found[named.id] = _restamped(named, restamp)
    return list(found.values())


def without(undone: set[str], entries: list[Entry]) -> list[Entry]:
    """Leave out what was undone. An undoing cannot itself be undone.

    Args:
        undone: Ids of the changes that some `void` names [-].
        entries: One for each id [-].

    Returns:
        Those that stand [-].

    Raises:
        Nothing.

    Source:
        Counting rule of this project.

    Example:
        >>> without({"a"}, [Entry("a", "A", 1, "took", "1", 0, None, {}, {})])
        []
    """
    return [entry for entry in entries if entry.id not in undone] if undone else entries


def kept_names(sames: Iterable[Entry]) -> dict[str, str]:
    """Map each merged part to the name that its group goes by.

    Args:
        sames: Entries of kind `same` [-].

    Returns:
        Part to kept part: the `keep` of the group's latest `same` [-].

    Raises:
        KeyError: if a `same` lacks keep or drop.

    Source:
        Counting rule of this project.

    Example:
        >>> same = Entry("s", "A", 1, "same", "1", 0, None, {}, {"keep": "P1", "drop": "P2"})
        >>> kept_names([same])["P2"]
        'P1'
    """
    in_order = sorted(sames, key=lambda entry: entry.at)
    groups = group_parts(in_order)
    kept: dict[str, str] = {}
    for same in in_order:
        for part in groups[same.body["keep"]]:
            kept[part] = same.body["keep"]
    return kept


def group_parts(sames: Iterable[Entry]) -> dict[str, set[str]]:
    """Map each merged part to its whole group.

    Args:
        sames: Entries of kind `same` [-].

    Returns:
        Part to the set of all parts connected with it, itself included [-].

    Raises:
        KeyError: if a `same` lacks keep or drop.

    Source:
        Counting rule of this project.

    Example:
        >>> group_parts([])
        {}
    """
    groups: dict[str, set[str]] = {}
    for same in sames:
        keep, drop = same.body["keep"], same.body["drop"]
        together = groups.get(keep, {keep}) | groups.get(drop, {drop})
        for part in together:
            groups[part] = together
    return groups


def _by_stamp_given(restamp: Entry) -> tuple[str, int]:
    return restamp.body["at"], restamp.body.get("g", 0)


def _joined(one: Entry, other: Entry) -> Entry:
    first = min(one, other, key=lambda entry: (entry.at, entry.dev, entry.n, entry.g))
    return replace(first, pos=_both_places(one, other))


def _restamped(entry: Entry, restamp: Entry) -> Entry:
    places = _both_places(entry, replace(restamp, pos=restamp.body.get("pos", {})))
    at = restamp.body["at"]
    if at >= entry.at:
        return replace(entry, pos=places)
    return replace(entry, at=at, g=restamp.body.get("g", entry.g), pos=places)


def _both_places(one: Entry, other: Entry) -> dict[str, int]:
    # Two places in one epoch: the later one claims less to have been seen.
    return {epoch: max(one.pos.get(epoch, 0), other.pos.get(epoch, 0))
            for epoch in {**one.pos, **other.pos}}
