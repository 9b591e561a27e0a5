"""How far back a cell need not be read: the cut-off behind which it was counted.

All that lies before a cell's cut-off was known to everybody who counted the cell after it, and is
stamped before their counts. So it comes on top of none of these counts, is in doubt against none
and contradicts none: the fold of what lies behind the cut-off gives the cell. A cell that is
counted now and then is thereby counted as fast in its tenth year as in its first.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

from spares.domain.movements import Entry, saw


class CutOff(NamedTuple):
    """What a cell's rows before it are known by.

    `seq` is the last of them in the log [1], `at` their greatest stamp, `made` the greatest
    number of each device among them [1].
    """

    seq: int
    at: str
    made: Mapping[str, int]


class Row(NamedTuple):
    """An entry that touches the cell, with the stamp that holds, and its row in the log [1]."""

    seq: int
    entry: Entry


def cut_off(rows: Sequence[Row], counts: Collection[str], answers: Iterable[tuple[str, str]],
            epochs: Sequence[tuple[str, int | None]], before: CutOff | None = None,
            displaced: Collection[str] = ()) -> CutOff | None:
    """Find the cut-off of a cell of an unmerged part: as far back as its newest count reaches.

    Args:
        rows: All that touch the cell, undone ones too; with *before* those behind it.
        counts: Ids of the counts that were not undone [-].
        answers: (movement, count) of each doubt about one of *rows* that was answered [-].
        epochs: Of this log, oldest first, each with its last row [1] (None: still going on).
        before: The cut-off so far, which lies before every count in *rows* [-].
        displaced: Ids of those that a restamp puts further on than their row in any epoch [-].

    Returns:
        The cut-off; None if somebody who counted had not seen all that the newest count covers,
        or nothing lies before it: then the cell is read whole.

    Raises:
        KeyError: as `saw`.

    Source:
        Counting rule of this project.

    Example:
        >>> put = Entry("p", "A", 1, "put", "1", 0, None, {"e": 1}, {})
        >>> count = Entry("c", "B", 1, "counted", "2", 0, {"epoch": "e", "seq": 1}, {"e": 2}, {})
        >>> cut_off([Row(1, put), Row(2, count)], {"c"}, [], [("e", None)])
        CutOff(seq=1, at='1', made={'A': 1})
    """
    standing = [row for row in rows if row.entry.id in counts]
    base = max(standing, key=lambda row: row.entry.at, default=None)
    if base is None:
        return None
    reach = _reach(base.entry, epochs)
    if base.seq <= reach or before is not None and reach < before.seq:
        return None
    covered = [row for row in rows if row.seq <= reach]
    if not covered:
        return before
    found = _around(covered, before or CutOff(0, "", {}))
    later = [row.entry for row in standing if row.seq > reach]
    ids = {row.entry.id for row in covered}
    holds = (all(found.at < count.at for count in later)
             and not ids & set(displaced)
             and not any(of in ids and count not in ids for of, count in answers)
             and all(saw(count, row.entry) for count in _who_counted(later) for row in covered))
    return found if holds else None


def is_behind(count: Entry, cut: CutOff, epochs: Sequence[tuple[str, int | None]]) -> bool:
    """Say whether the author of a new count had seen the log up to a cut-off.

    Args:
        count: A count that is new in the log [-].
        cut: The cut-off of its cell [-].
        epochs: Of this log, as for `cut_off`; an office knows those of the vessel's own, too.

    Returns:
        True if the cut-off may stay where it is [-].

    Raises:
        KeyError: if `seen` lacks its epoch or seq.

    Source:
        Counting rule of this project.

    Example:
        >>> count = Entry("c", "B", 1, "counted", "2", 0, {"epoch": "e", "seq": 7}, {"e": 9}, {})
        >>> [is_behind(count, CutOff(seq, "1", {}), [("e", None)]) for seq in (7, 8)]
        [True, False]
    """
    return (_reach(count, epochs) >= cut.seq and count.at > cut.at
            and count.n > cut.made.get(count.dev, 0))


def _around(covered: Sequence[Row], before: CutOff) -> CutOff:
    """Move a cut-off behind these rows."""
    made = dict(before.made)
    for _, entry in covered:
        made[entry.dev] = max(entry.n, made.get(entry.dev, 0))
    return CutOff(max(row.seq for row in covered),
                  max(before.at, *(row.entry.at for row in covered)), made)


def _reach(count: Entry, epochs: Sequence[tuple[str, int | None]]) -> int:
    """Give the last row of this log that the author of a count had."""
    if count.seen is None:
        return 0
    ends = dict(epochs)
    seq, end = count.seen["seq"], ends.get(count.seen["epoch"], 0)
    return seq if end is None else min(seq, end)


def _who_counted(counts: Iterable[Entry]) -> list[Entry]:
    """Keep of counts by one device that had seen the same the one that it made first."""
    firsts: dict[tuple[str, str, int], Entry] = {}
    for count in counts:
        seen = count.seen or {"epoch": "", "seq": 0}
        key = count.dev, seen["epoch"], seen["seq"]
        if key not in firsts or count.n < firsts[key].n:
            firsts[key] = count
    return list(firsts.values())
