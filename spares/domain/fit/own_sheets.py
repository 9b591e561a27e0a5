"""Load kind sheets, ours and a person's own, and check what they name."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from spares.domain.fit import sheets
from spares.domain.fit.judges import answers_by_place, judge_names
from spares.domain.fit.sheets import KindSheet
from spares.domain.fit.values import Place
from spares.errors import InvalidInput


def load_sheets(folder: Path | None = None) -> dict[str, KindSheet]:
    """Give every sheet by kind: ours, and those in a person's *folder*, which go first.

    Args:
        folder: Where a person keeps sheets of their own, or None [-].

    Returns:
        Sheets by kind [-].

    Raises:
        InvalidInput: a sheet cannot be read, or names a judge, a change or a line that is not.

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> load_sheets()["impeller"].attributes["bore"].unit
        'mm'
    """
    found = sheets.load_sheets(folder)
    known = judge_names()
    for kind in found.values():
        for line in kind.attributes.values():
            if (line.judge or line.type) not in known:
                raise _wrong(kind, f"{line.code}/judge", f"there is no judge {line.judge!r}; "
                             f"known are {', '.join(sorted(known))}")
        for line in kind.attributes.values():
            for when in (*line.advisory_when, *(change.when for change in line.changes)):
                _check_condition(kind, line.code, when)
        for rule in kind.implied:
            _check_condition(kind, f"implied/{rule.attr}", rule.when)
            line = kind.attributes[rule.attr]
            if rule.value is None and not rule.value_of and not answers_by_place(line):
                raise _wrong(kind, f"implied/{rule.attr}", "needs a value that the place asks")
    return found


def _check_condition(kind: KindSheet, where: str, when: Mapping[str, Any]) -> None:
    """Refuse a condition on what no place and no kind has."""
    names = {"place": set(Place.__dataclass_fields__), "asked": set(kind.attributes),
             "offered": set(kind.attributes)}
    for subject, wanted in when.items():
        if subject == "drive" and isinstance(wanted, str):
            continue
        if subject not in names or not isinstance(wanted, Mapping) or set(wanted) - names[subject]:
            raise _wrong(kind, where, f"a condition on {subject} {wanted!r} cannot be")


def _wrong(kind: KindSheet, line: str, what: str) -> InvalidInput:
    return InvalidInput(f"kind sheet {kind.kind}, {line}: {what}", sheet=kind.kind,
                        errors=[{"pointer": f"#/{line}", "detail": what}])
