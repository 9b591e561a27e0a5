"""All that is known of one vessel at one moment, as plain values.

`Aboard` holds her documents by kind and id, what lies where, and what was read,
done and fitted. The computations take it (or a piece of it) and nothing else.
References inside are names of documents (`part/<id>`).
"""

from __future__ import annotations

from collections import namedtuple
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple

from spares.domain.document_kinds import DOCUMENTS
from spares.domain.identity import id_of, ref

#: One named tuple a kind (thousands are made at once), with the fields of its documents
#: (None: not known).
RECORDS: dict[str, Any] = {
    kind: namedtuple(kind.title().replace("-", ""), ("id", "vessel", "gone", *names),
                     defaults=(None,) * len(names))
    for kind, names in DOCUMENTS.items()}

Record = Any


class Lying(NamedTuple):
    """Pieces of one part in one locker and lot [thousandths of its unit]."""

    part: str
    locker: str
    lot: str
    quantity: int
    low: int
    high: int
    doubts: tuple[str, ...] = ()
    rivals: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()
    counted: bool = True

    @property
    def is_listed(self) -> bool:
        """Whether lists have it: pieces lie here or may, or nobody knows; doubts are asked so."""
        return bool(self.quantity or not self.counted or self.doubts or self.rivals)


class MeterReading(NamedTuple):
    """An hour meter as read [min]; `doubt` says why it is used nowhere."""

    change: str
    machine: str
    date: str
    minutes: int | None
    because: str
    doubt: str
    at: str


class Done(NamedTuple):
    """One carrying-out of a service; date cut to what is known, meter [min]."""

    change: str
    service: str
    machine: str
    date: str
    minutes: int | None
    proof: str
    by: str
    note: str
    at: str
    failed: tuple[str, ...] = ()    # parts that had failed


class Fitted(NamedTuple):
    """A part put on a fit point on a day ("" not known); part "" is nothing.

    `why` says why what sat there before came out: failed, worn, planned, other.
    """

    change: str
    point: str
    part: str
    date: str
    at: str
    why: str = ""


@dataclass(frozen=True)
class Aboard:
    """One vessel. Lookups take names of documents and give None for what is not there."""

    vessel: Record
    docs: dict[str, dict[str, Record]]
    lying: tuple[Lying, ...] = ()
    readings: tuple[MeterReading, ...] = ()
    done: tuple[Done, ...] = ()
    fitted: tuple[Fitted, ...] = ()
    kept_parts: dict[str, str] = field(default_factory=dict)
    #: Of trails and their places: by document and field all values that still stand, where
    #: devices that were apart wrote different ones.
    rivals: dict[str, dict[str, tuple[Any, ...]]] = field(default_factory=dict)
    worked_out: dict[str, Any] = field(default_factory=dict, compare=False, repr=False)

    def get(self, name: str | None) -> Record | None:
        """Give the record of the document called *name*, None if it is not there."""
        if not name:
            return None
        kind, _, ident = name.partition("/")    # asked for each line of a list
        return self.docs.get(kind, {}).get(ident)

    def all(self, kind: str) -> list[Record]:
        """Give the records of a kind that are not gone, in the order of their numbers."""
        return [one for one in self.docs.get(kind, {}).values() if not one.gone]

    def label(self, name: str | None) -> str:
        """Give the number people use for the document called *name*."""
        record = self.get(name)
        if record is None:
            return "something not recorded"
        return getattr(record, "no", None) or id_of(name or "")

    @property
    def size(self) -> int:
        """How many records she has, documents and whatever lies, was read, done or fitted."""
        return sum(map(len, (*self.docs.values(), self.lying, self.readings, self.done,
                             self.fitted)))

    def by(self, kind: str, field: str) -> dict[str, list[Record]]:
        """Give the records of a kind by what a field of theirs names; sorted once for each."""
        known: dict[str, list[Record]] | None = self.worked_out.get(f"{kind} by {field}")
        if known is None:
            known = self.worked_out[f"{kind} by {field}"] = _by(self.all(kind), field)
        return known

    @cached_property
    def parts(self) -> tuple[Record, ...]:
        """The parts that are not gone, in the order of their numbers: looked through often."""
        return tuple(self.all("part"))

    @cached_property
    def links_of(self) -> dict[str, list[Record]]:
        """Links by the name of their part."""
        return _by(self.all("link"), "part")

    @cached_property
    def links_to(self) -> dict[str, list[Record]]:
        """Links by the name of what they lead to."""
        return _by(self.all("link"), "to")

    @cached_property
    def specs_of(self) -> dict[str, list[Record]]:
        """Specs by the name of their part."""
        return _by(self.all("spec"), "part")

    @cached_property
    def numbers_of(self) -> dict[str, list[Record]]:
        """Cross numbers by the name of their part."""
        return _by(self.all("number"), "part")

    @cached_property
    def requirements_of(self) -> dict[str, list[Record]]:
        """Requirements by the name of the fit point or inner point."""
        return _by(self.all("requirement"), "subject")

    @cached_property
    def lying_of(self) -> dict[str, list[Lying]]:
        """What lies where, by the name of the part."""
        return _by(self.lying, "part")

    @cached_property
    def lying_in(self) -> dict[str, list[Lying]]:
        """What lies where, by the name of the locker."""
        return _by(self.lying, "locker")

    @cached_property
    def fitted_at(self) -> dict[str, list[Fitted]]:
        """What was fitted, oldest first, by the name of the point."""
        found = _by(self.fitted, "point")
        return {point: sorted(some, key=lambda one: (one.date, one.at))
                for point, some in found.items()}

    @cached_property
    def kits_of(self) -> dict[str, list[Record]]:
        """Kit lines by the name of their service."""
        return _by(self.all("kit-line"), "service")

    @cached_property
    def done_of(self) -> dict[str, list[Done]]:
        """Carryings-out by the name of their service."""
        return _by(self.done, "service")

    @cached_property
    def readings_of(self) -> dict[str, list[MeterReading]]:
        """What was read, by the name of the machine."""
        return _by(self.readings, "machine")

    @cached_property
    def points_of(self) -> dict[str, list[Record]]:
        """Fit points by the name of their machine."""
        return _by(self.all("point"), "machine")

    @cached_property
    def points_in(self) -> dict[str, list[Record]]:
        """Fit points of a part model by the name of the fit point that the part sits at."""
        return _by(self.all("point"), "parent")

    @cached_property
    def points_like(self) -> dict[str, list[Record]]:
        """Fit points by the name of the inner point that they are made after."""
        return _by(self.all("point"), "template")

    @cached_property
    def stand_ins_for(self) -> dict[str, list[Record]]:
        """Stand-ins by the name of the part that they may replace."""
        return _by(self.all("stand-in"), "for_part")

    @cached_property
    def services_at(self) -> dict[str, list[Record]]:
        """Services by the name of each fit point that they are done at."""
        found = _by([one for one in self.all("service") if one.point], "point")
        for more in self.all("service-at"):
            if (service := self.get(more.service)) is not None and not service.gone:
                found.setdefault(more.point, []).append(service)
        return found


def name_of(kind: str, record: Record) -> str:
    """Give the document's name of a record.

    Example:
        >>> name_of("part", RECORDS["part"]("x", "v", False))
        'part/x'
    """
    return ref(kind, record.id)


def _by(records: Any, attribute: str) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for record in records:
        value = getattr(record, attribute)
        if value in found:
            found[value].append(record)
        elif value:
            found[value] = [record]
    return found
