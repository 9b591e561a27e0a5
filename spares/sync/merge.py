"""Documents that several people edit without seeing each other.

Every version of every field is kept. A version names those that it stands on
(`base`); versions that nobody stands on are the heads. Shown is the head with the
greatest stamp; two heads with different values are a conflict, and both stay
visible until somebody writes a version that stands on all of them.

This is the multi-value register of the literature on replicated data types,
shown as its last writer.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from spares.domain.book import one_per_id
from spares.domain.movements import Entry, saw
from spares.sync.change import Change, canonical
from spares.sync.checks import refuse

#: Fields that stay as they were first set, by kind of document.
IMMUTABLE = {"part": ("unit",)}


@dataclass(frozen=True)
class Version:
    """What one change wrote into one field; `base` names the changes it stands on."""

    change: str
    value: Any
    base: tuple[str, ...]
    at: str


@dataclass(frozen=True)
class Document:
    """A document as shown: values, heads that disagree by field, whether it is gone.

    `edited_while_gone` names the changes of other fields that the one who
    deleted it had not seen: they do not revive it, but both should hear of it.
    """

    values: dict[str, Any]
    conflicts: dict[str, tuple[Version, ...]] = field(default_factory=dict)
    gone: bool = False
    edited_while_gone: tuple[str, ...] = ()


def merge(*sets: Iterable[Version]) -> tuple[Version, ...]:
    """Unite versions of one field: one for each change, the smaller stamp holds."""
    found: dict[str, Version] = {}
    for version in (version for versions in sets for version in versions):
        twin = found.get(version.change)
        found[version.change] = version if twin is None else min(twin, version, key=_by_stamp)
    return tuple(sorted(found.values(), key=lambda version: (version.at, version.change)))


def heads(versions: Iterable[Version]) -> tuple[Version, ...]:
    """Give the versions that no other stands on, in the order of their stamps."""
    versions = tuple(versions)
    replaced = {name for version in versions for name in version.base if name != version.change}
    return tuple(sorted((v for v in versions if v.change not in replaced), key=_by_stamp))


def shown(versions: Iterable[Version]) -> Version | None:
    """Give the version to show: the head with the greatest stamp."""
    return max(heads(versions), key=_by_stamp, default=None)


def conflict(versions: Iterable[Version]) -> tuple[Version, ...]:
    """Give the heads if they disagree, else nothing."""
    found = heads(versions)
    return found if len({canonical(version.value) for version in found}) > 1 else ()


def base_for_next(versions: Iterable[Version]) -> list[str]:
    """Name what the next version must stand on to settle the field: all heads."""
    return sorted(version.change for version in heads(versions))


def versions_of(entries: Iterable[Entry], doc: str) -> dict[str, tuple[Version, ...]]:
    """Collect the versions of each field of one document from entries of any kind."""
    found: dict[str, list[Version]] = {}
    for entry in _settings(entries, doc):
        for name, value in entry.body["f"].items():
            base = tuple(entry.body["base"].get(name, ()))
            found.setdefault(name, []).append(Version(entry.id, value, base, entry.at))
    return {name: merge(versions) for name, versions in found.items()}


def read_document(entries: Iterable[Entry], doc: str) -> Document | None:
    """Read one document from entries of any kind; None if nothing was written to it.

    Copies of entries and their order make no difference.
    """
    entries = _settings(entries, doc)
    fields = versions_of(entries, doc)
    if not fields:
        return None
    values = {name: version.value for name, versions in fields.items()
              if (version := shown(versions)) is not None}
    conflicts = {name: found for name, versions in fields.items() if (found := conflict(versions))}
    gone = values.pop("gone", False) is True
    return Document(values, conflicts, gone, _edited_while_gone(entries) if gone else ())


def check_immutable(change: Change, values: Mapping[str, Any]) -> None:
    """Refuse another unit for a part that has one: all its quantities are counted in it.

    *values* are those shown of the document before the change. Another unit is
    another part, and a `convert` between the two.

    Raises:
        Refused: `reason` immutable.
    """
    if change.kind != "set":
        return
    for name in IMMUTABLE.get(change.body["doc"].partition("/")[0], ()):
        known = values.get(name)
        if known not in (None, "") and change.body["f"].get(name, known) != known:
            raise refuse("immutable", f"#/body/f/{name}",
                         f"cannot be changed from {known!r}: pieces are counted in it")


def _settings(entries: Iterable[Entry], doc: str) -> list[Entry]:
    return [entry for entry in one_per_id(entries)
            if entry.kind == "set" and entry.body["doc"] == doc]


def _edited_while_gone(entries: list[Entry]) -> tuple[str, ...]:
    deletion = max((e for e in entries if e.body["f"].get("gone") is True),
                   key=lambda entry: entry.at)
    return tuple(entry.id for entry in sorted(entries, key=lambda e: e.at)
                 if set(entry.body["f"]) - {"gone"} and entry is not deletion
                 and not saw(deletion, entry))


def _by_stamp(version: Version) -> str:
    return version.at
