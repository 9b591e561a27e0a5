"""Where a published value is from, and how we know it.

`known_by` is `read` (someone read the page named), `package` (a value in a public package) or
`memory` (nobody looked it up). What rests on memory is said wherever it decides something.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from spares.errors import UnknownTable

KNOWN_BY = ("read", "package", "memory", "rule")
_FIELDS = ("body", "number", "edition", "where", "known_by", "package", "version", "file",
           "read_on", "note")


@dataclass(frozen=True)
class Source:
    """One source: the body and number of a standard, where in it, and how we know."""

    body: str
    number: str
    known_by: str
    edition: str = ""
    where: str = ""
    package: str = ""
    version: str = ""
    file: str = ""
    read_on: str = ""
    note: str = ""

    def text(self) -> str:
        """Give the source in one line for a person."""
        name = " ".join(filter(None, [self.body, self.number, self.edition]))
        name = f"{name}, {self.where}" if self.where else name
        if self.known_by == "memory":
            return f"{name} (from memory, not looked up)"
        if self.known_by == "package":
            return f"{name} (as in {self.package} {self.version})".replace(" )", ")")
        return name


def read_source(given: Any, owner: str) -> Source:
    """Make a Source of a table's `source` object.

    Raises:
        UnknownTable: *given* is no object, lacks a field that is needed, or has one too many.
    """
    if not isinstance(given, Mapping):
        raise UnknownTable(f"{owner} does not say where its values are from", table=owner)
    strange = sorted(set(given) - set(_FIELDS))
    if strange:
        raise UnknownTable(f"{owner}: the source has an unknown field {strange[0]!r}", table=owner)
    for name in ("body", "number", "known_by"):
        if not str(given.get(name, "")).strip():
            raise UnknownTable(f"{owner}: the source does not give its {name}", table=owner)
    if given["known_by"] not in KNOWN_BY:
        raise UnknownTable(f"{owner}: known_by is one of {', '.join(KNOWN_BY)}", table=owner)
    if given["known_by"] == "package" and not given.get("package"):
        raise UnknownTable(f"{owner}: known by a package that is not named", table=owner)
    return Source(**{name: str(value) for name, value in given.items()})
