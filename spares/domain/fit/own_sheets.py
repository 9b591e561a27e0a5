"""Load kind sheets, ours and a person's own, and check what they name."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from spares.domain.fit import sheets
from spares.domain.fit.judges import answers_by_place, judge_names, knows_what_fails
from spares.domain.fit.sheet_shape import check_shape, wrong
from spares.domain.fit.sheets import Attribute, KindSheet
from spares.domain.fit.values import Place
from spares.domain.place_fields import DRIVERS
from spares.errors import InvalidInput

#: What a judge looks at besides: names that its own line may have, and lines that must be there.
_LINES_OF_JUDGE: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "bolt_circle": (("bolt_circle", "hole_spacing"), ()),
    "fuse_colour": ((), ("form",)), "span": ((), ("range",))}


@dataclass(frozen=True)
class SheetFault:
    """What is wrong with a person's own sheet: file, key, and the kind it was meant for."""

    file: str
    key: str
    detail: str
    kind: str

    @property
    def text(self) -> str:
        """The fault in one line."""
        return f"{self.file}, {self.key or 'the file'}: {self.detail}"


@dataclass(frozen=True, eq=False)
class KindSheets:
    """Every sheet by kind; `own` gives the file of each that is a person's own."""

    sheets: Mapping[str, KindSheet]
    own: Mapping[str, str]
    faults: tuple[SheetFault, ...]


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
    for kind in found.values():
        check_names(kind)
    return found


def read_folder(folder: Path | None) -> KindSheets:
    """Give our sheets and those of a person's *folder*; a faulty file is left out and named.

    Args:
        folder: Where a person keeps sheets of their own; None, or a folder that is not
            there, has none [-].

    Returns:
        The sheets that can be used, which of them are a person's own, and what is wrong [-].

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> read_folder(None).faults
        ()
    """
    found, own, faults = dict(load_sheets()), {}, []
    for path in sorted(folder.glob("*.toml")) if folder is not None else ():
        try:
            kind = _read_own(path)
            if kind.kind in own:
                raise wrong(path.name, "kind", f"{kind.kind} stands in {own[kind.kind]} too")
        except InvalidInput as err:
            faults.append(_fault(path, err))
            continue
        found[kind.kind], own[kind.kind] = kind, path.name
    return KindSheets(found, own, tuple(faults))


def _fault(path: Path, err: InvalidInput) -> SheetFault:
    first = err.facts["errors"][0]
    return SheetFault(path.name, first["pointer"].removeprefix("#").strip("/"), first["detail"],
                      _kind_of(path))


def _read_own(path: Path) -> KindSheet:
    try:
        text = path.read_text(encoding="utf-8")
        given = tomllib.loads(text)
    except (OSError, UnicodeDecodeError) as err:
        raise wrong(path.name, "", f"cannot be read: {err}") from err
    except tomllib.TOMLDecodeError as err:
        raise wrong(path.name, "", f"is not TOML: {err}") from err
    check_shape(given, path.name)
    try:
        kind = sheets.read_sheet(text, path.name)
    except InvalidInput as err:
        first = err.facts["errors"][0]
        key = first["pointer"].removeprefix("#").strip("/")
        key = f"attributes/{key}" if key in given.get("attributes", {}) else key
        raise wrong(path.name, key, first["detail"]) from err
    check_names(kind)
    return kind


def _kind_of(path: Path) -> str:
    """Tell which kind a faulty file was meant for, by what it says, else by its name."""
    try:
        said = tomllib.loads(path.read_text(encoding="utf-8")).get("kind")
    except (OSError, ValueError):
        said = None
    return said if isinstance(said, str) and said else path.stem


def check_names(kind: KindSheet) -> None:
    """Refuse a sheet that names a judge, a change or a line that is not.

    Raises:
        InvalidInput: `errors` names the key.
    """
    known = judge_names()
    for line in kind.attributes.values():
        if (line.judge or line.type) not in known:
            raise _wrong(kind, f"attributes/{line.code}/judge", f"there is no judge "
                         f"{line.judge!r}; known are {', '.join(sorted(known))}")
        _check_lines(kind, line)
        for when in (*line.advisory_when, *(change.when for change in line.changes)):
            _check_condition(kind, f"attributes/{line.code}", when)
    for n, rule in enumerate(kind.implied):
        _check_condition(kind, f"implied/{n}", rule.when)
        line = kind.attributes[rule.attr]
        if rule.value is None and not rule.value_of and not answers_by_place(line):
            raise _wrong(kind, f"implied/{n}", "needs a value that the place asks")
        if rule.unstated == "may-fail" and not knows_what_fails(line):
            raise _wrong(kind, f"implied/{n}/unstated", "no judge of this line knows what may fail")
        if rule.always and rule.severity == "advisory":
            raise _wrong(kind, f"implied/{n}/always", "what always holds is no advice")
        if rule.value_of not in ("", *Place.__dataclass_fields__):
            raise _wrong(kind, f"implied/{n}/value_of", f"no place has a {rule.value_of}")


def _check_lines(kind: KindSheet, line: Attribute) -> None:
    """Refuse a judge whose question this sheet does not put."""
    called, needed = _LINES_OF_JUDGE.get(line.judge or line.type, ((), ()))
    where, judge = f"attributes/{line.code}/judge", line.judge or line.type
    if called and line.code not in called:
        raise _wrong(kind, where, f"{judge} judges a line called {' or '.join(called)} only")
    for one in needed:
        if one not in kind.attributes:
            raise _wrong(kind, where, f"{judge} needs a line called {one} in the same sheet")


def _check_condition(kind: KindSheet, where: str, when: Mapping[str, Any]) -> None:
    """Refuse a condition on what no place and no kind has."""
    names = {"place": set(Place.__dataclass_fields__), "asked": set(kind.attributes),
             "offered": set(kind.attributes)}
    for subject, wanted in when.items():
        if subject == "drive" and all(one in DRIVERS for one in (
                wanted if isinstance(wanted, list) else [wanted])):
            continue
        if subject not in names or not isinstance(wanted, Mapping) or set(wanted) - names[subject]:
            raise _wrong(kind, where, f"a condition on {subject} {wanted!r} cannot be")


def _wrong(kind: KindSheet, line: str, what: str) -> InvalidInput:
    return InvalidInput(f"kind sheet {kind.kind}, {line}: {what}", sheet=kind.kind,
                        errors=[{"pointer": f"#/{line}", "detail": what}])
