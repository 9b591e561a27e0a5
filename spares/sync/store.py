"""What the exchange needs of a store: one vessel's log, its devices, its clock.

The database implements this; so does a small store in memory. All calls of one
answer happen in one transaction: either all of it is kept, or nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from spares.domain.movements import Entry
from spares.sync.change import Change, Envelope
from spares.sync.stamp import ServerClock

#: Epochs of the log, oldest first, each with its last row (None: still going on).
Epochs = Sequence[tuple[str, int | None]]
#: Grant of a device that is an office: a store that keeps the same log, with phones of its own.
OFFICE = "office"


@dataclass(frozen=True)
class Device:
    """A paired device; `was` are its earlier numbers, `roles_before` its earlier roles.

    `revoked` is "", "retired" (left the crew: what it brings is held) or "lost"
    (nothing is taken). `last` is the greatest number it said it made [1]. Where `holds`
    says why, all that it brings waits for the skipper.
    """

    dev: str
    role: str = "crew"
    grants: tuple[str, ...] = ()
    inst: str = ""
    revoked: str = ""
    revoked_ms: int = 0
    last: int = 0
    was: tuple[str, ...] = ()
    roles_before: tuple[str, ...] = ()
    holds: str = ""


@dataclass(frozen=True)
class Kept:
    """What became of a number of a device.

    `outcome` is ok (in the log), held, refused, dup (the id is kept under another
    number) or lost (the device no longer has it). `at` is the stamp first given.
    """

    id: str
    dev: str
    n: int
    outcome: str
    kind: str = ""
    sha: str = ""
    seq: int = 0
    at: str = ""
    g: int = 0
    pos: dict[str, int] = field(default_factory=dict)
    mac: str = ""
    code: str = ""
    say: str = ""


@dataclass(frozen=True)
class Held:
    """A change kept for the skipper to decide on, with the stamp it got on arrival."""

    change: Change
    dev: str
    at: str
    g: int
    why: str = ""


class Store(Protocol):
    """One vessel's log, its devices, its clock, inside one transaction."""

    vessel: str
    key: bytes

    @property
    def own_dev(self) -> str:
        """Give the device number of the server itself, a fresh one in each epoch.

        After a restore the server would else use its numbers again, and its
        changes from before and after would seem to have seen each other.
        """

    def clock(self) -> ServerClock:
        """Give the clock as last set."""

    def set_clock(self, clock: ServerClock) -> None:
        """Keep the clock."""

    def epochs(self) -> Epochs:
        """Give the epochs of this log, oldest first."""

    def begin_epoch(self) -> None:
        """End the present epoch at the last row and begin a new one with a fresh name."""

    def learn_epochs(self, found: Sequence[tuple[str, int]]) -> None:
        """Note that the rows up to each end [1] also stood so in an epoch of another store.

        What is known already of an epoch is never taken back.
        """

    def size(self) -> int:
        """Give the number of the last row [1]."""

    def head(self, seq: int) -> bytes | None:
        """Give the head of the chain after row *seq* (0: the first head), None if beyond."""

    def rows(self, after: int, most: int) -> list[tuple[int, Envelope]]:
        """Give up to *most* rows after *after*, in order."""

    def written_rows(self, after: int, most: int) -> list[tuple[int, str]]:
        """Give the same as they are written, which is their canonical JSON."""

    def append(self, envelope: Envelope) -> int:
        """Add one row, mark its number as used, follow it with the tables; gives its seq.

        A device that is not known (paired after the backup) becomes known, retired.
        """

    def kept(self, ident: str) -> Kept | None:
        """Find what became of a change: in the log, else held, else refused."""

    def kept_as(self, dev: str, n: int) -> Kept | None:
        """Find what a device's number was used for."""

    def restamps_of(self, ident: str) -> list[Envelope]:
        """Give the restamp rows that name a change."""

    def next_n(self, dev: str) -> int:
        """Give the smallest number of a device that is not used [1]."""

    def missing(self, dev: str, up_to: int) -> list[tuple[int, int]]:
        """Give the ranges of a device's numbers, up to *up_to*, that are not used."""

    def last_at(self, dev: str) -> str:
        """Give the greatest stamp of a device in the log or held, "" if none."""

    def stamps_around(self, dev: str, n: int) -> tuple[str, list[tuple[int, str]]]:
        """Give a device's greatest stamp below number *n*, "" if none, and those above it.

        Of what was accepted twice it is the smaller one, which holds.
        """

    def mark(self, kept: Kept) -> None:
        """Use up a number for what is not in the log: refused or dup."""

    def hold(self, held: Held) -> None:
        """Keep a change for the skipper; uses up its number."""

    def held(self, ident: str) -> Held | None:
        """Find a held change."""

    def held_of(self, *devs: str) -> list[str]:
        """Give the ids of changes that came under these numbers and are still held.

        Also of those that had come under another number before.
        """

    def unhold(self, ident: str) -> None:
        """Take a change out of those that are held."""

    def write_off(self, dev: str, first: int, last: int) -> None:
        """Mark a range of numbers as lost on the device; a number that comes after all is taken."""

    def renew(self, device: Device, why: str) -> Device:
        """Give a device a fresh number (never one used before); the old one joins `was`.

        Its token now stands for the new number, of which nothing is used yet.
        """

    def stand_in_for(self, dev: str) -> str:
        """Give a fresh number, with no token, for what cannot stand under *dev* any more."""

    def save_device(self, device: Device) -> None:
        """Keep what changed about a device."""

    def begins(self, doc: str, fields: dict[str, object]) -> bool:
        """Say whether nothing was ever set of a document, or just these values stand there."""

    def check(self, change: Change) -> None:
        """Refuse what the documents do not allow, such as another unit for a part.

        Raises:
            Refused: with `reason` immutable or bad_value.
        """


def places(sealed: dict[str, int], seq: int, epochs: Epochs) -> dict[str, int]:
    """Give all places of a row: those under its seal, and its own in each epoch it is in.

    A restore keeps the beginning of the log, so a row stands at the same place
    in every epoch that began after it.

    Example:
        >>> places({"e1": 43}, 41, [("e1", 40), ("e2", 60), ("e3", None)])
        {'e1': 43, 'e2': 41, 'e3': 41}
    """
    return {**sealed, **{epoch: seq for epoch, end in epochs if end is None or seq <= end}}


def more_epochs(known: Epochs, found: Iterable[tuple[str, int]]) -> list[tuple[str, int | None]]:
    """Add to the epochs of a log those in which its beginning stood too; the present stays last.

    Example:
        >>> more_epochs([("e1", 40), ("e2", None)], [("o1", 30), ("e1", 20), ("e2", 9)])
        [('e1', 40), ('o1', 30), ('e2', None)]
    """
    *past, present = known
    ends: dict[str, int | None] = dict(past)
    for epoch, end in found:
        if epoch != present[0] and end > (ends.get(epoch) or 0):
            ends[epoch] = end
    return [*ends.items(), present]


def still_lost(first: int, last: int, used: Iterable[int]) -> list[tuple[int, int]]:
    """Give what is left of a range of lost numbers beside those that came after all.

    Example:
        >>> still_lost(2, 9, [4, 5, 9])
        [(2, 3), (6, 8)]
    """
    found, n = [], first
    for one in sorted(used):
        if n < one:
            found.append((n, one - 1))
        n = one + 1
    return [*found, (n, last)] if n <= last else found


def entry_of(envelope: Envelope, seq: int | None, epochs: Epochs) -> Entry:
    """Take of a row of the log what the folds need; *seq* None: it has no row here yet."""
    pos = envelope.pos if seq is None else places(envelope.pos, seq, epochs)
    return Entry(envelope.id, envelope.dev, envelope.n, envelope.kind, envelope.at, envelope.g,
                 envelope.seen, pos, envelope.body)


def entries_of(rows: Iterable[tuple[int, Envelope]], epochs: Epochs) -> list[Entry]:
    """Take of rows of the log what the folds need."""
    return [entry_of(envelope, seq, epochs) for seq, envelope in rows]
