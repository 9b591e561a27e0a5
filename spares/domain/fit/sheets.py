"""Kind sheets: what is asked of each kind of part, as data (kinds/*.toml).

A sheet names the attributes of its kind with unit, comparator, tolerance, severity, how each is
measured and why it matters. Nothing about a kind is decided elsewhere but by the judges that its
sheet names. People may add sheets of their own; all are checked when loaded.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from spares.domain.fit.values import COMPARATORS, SEVERITIES
from spares.errors import InvalidInput, SparesError
from spares.source import Source, read_source
from spares.units import exact, format_number, unit_named

TYPES = {
    "quantity": ("tol", "equal", "at-least", "at-most", "range", "one-of"),
    "word": ("equal", "one-of", "mates"), "material": ("one-of", "equal"),
    "flag": ("equal", "at-least", "one-of"), "thread": ("mates", "equal", "one-of"),
    "rank": ("at-least", "at-most", "equal", "one-of"), "day": ("at-least", "at-most", "equal"),
    "rotation": ("equal", "one-of"), "code": ("equal", "one-of"), "span": ("equal", "range"),
    "length": ("tol", "equal", "at-least", "at-most", "range", "one-of"),
    "flow": ("at-least", "at-most", "tol", "equal", "range"), "any": COMPARATORS,
}
TOOLS = {   # usual uncertainty of a reading [mm]; common practice, no source
    "micrometer": "0.01", "caliper": "0.05", "depth-rod": "0.05", "rule": "0.5", "tape": "1.0",
    "gauge": "0", "count": "0", "eye": "0", "label": "0", "scale": "0",
}
USED_RUBBER_MM = Fraction(1)
DRAWINGS = (    # how to measure it, drawn: the phone's drawings/<name>.svg, on paper too
    "belt-section", "bolt-circle", "impeller", "lip-seal", "o-ring-groove", "pulley-line",
    "pump-chamber", "shaft-end", "spigot", "thread",
)


@dataclass(frozen=True)
class Change:
    """A named change and when it may be used."""

    code: str
    name: str
    conditions: str
    part: bool = False      # it takes a further part


@dataclass(frozen=True)
class ChangeWhen:
    """That an attribute may be met by a change, on which side and in which circumstances."""

    name: str
    side: str = ""
    when: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Attribute:
    """One line of a kind sheet."""

    code: str
    label: str
    type: str = "word"
    unit: str = ""
    cmp: str = "equal"
    tol: Fraction | None = None
    tol_wide: Fraction | None = None
    tol_percent: Fraction | None = None
    severity: str = "stop"
    advisory_when: tuple[Mapping[str, Any], ...] = ()
    changes: tuple[ChangeWhen, ...] = ()
    tool: str = "eye"
    rubber: bool = False
    seat: bool = False
    offered_as: str = ""        # attribute of the part by which a seat is met
    words: tuple[str, ...] = ()
    aliases: Mapping[str, str] = field(default_factory=dict)
    ranks: tuple[str, ...] = ()
    offered_any: bool = False
    judge: str = ""
    measure: str = ""
    drawing: str = ""
    why: str = ""
    caution: str = ""
    signed: bool = False    # below 0 is a value too
    position: int = 0


@dataclass(frozen=True)
class Implied:
    """A row that the place asks for, whether or not the fit point records it."""

    attr: str
    when: Mapping[str, Any] = field(default_factory=dict)
    value: Any = None
    value_of: str = ""
    cmp: str | None = None
    unstated: str = "silent"    # when the part does not say, a word of UNSTATED
    severity: str = ""          # in the place of the line's own
    always: bool = False        # whatever the fit point asks


@dataclass(frozen=True)
class KindSheet:
    """What is asked of one kind of part."""

    kind: str
    label: str
    source: Source
    attributes: Mapping[str, Attribute]
    implied: tuple[Implied, ...] = ()

    def as_dict(self) -> dict[str, Any]:
        """Give the sheet as plain JSON, numbers as text, for programs that check fit too."""
        return {"kind": self.kind, "label": self.label,
                "source": {k: v for k, v in vars(self.source).items() if v},
                "attributes": {code: _plain(vars(line)) for code, line in self.attributes.items()},
                "implied": [_plain(vars(rule)) for rule in self.implied]}


def read_sheet(text: str, owner: str) -> KindSheet:
    """Make a sheet of a TOML text.

    Args:
        text: The sheet [-].
        owner: Name of its file, for messages [-].

    Returns:
        The sheet [-].

    Raises:
        InvalidInput: it cannot be read, or a line of it cannot be right; `sheet` says which.

    Source:
        Counting rule of this project; no standard applies.
    """
    try:
        given = tomllib.loads(text)
    except tomllib.TOMLDecodeError as err:
        raise _wrong(owner, "", f"is not TOML: {err}") from err
    if not str(given.get("kind", "")) or not isinstance(given.get("attributes"), dict):
        raise _wrong(owner, "", "needs kind, label, source and attributes")
    attributes = {code: _attribute(owner, code, n, line)
                  for n, (code, line) in enumerate(given["attributes"].items())}
    for code, line in attributes.items():
        if line.offered_as not in ("", *attributes):
            raise _wrong(owner, code, f"offered_as names {line.offered_as!r}, which is no line")
    implied = []
    for line in given.get("implied", []):
        strange = set(line) - set(Implied.__dataclass_fields__)
        if strange or line.get("attr") not in attributes:
            raise _wrong(owner, "implied", f"names {line.get('attr')!r} {sorted(strange)}")
        implied.append(Implied(**line))
    try:
        source = read_source(given.get("source"), owner)
    except SparesError as err:
        raise _wrong(owner, "source", err.detail) from err
    return KindSheet(given["kind"], str(given.get("label", given["kind"])), source, attributes,
                     tuple(implied))


def load_sheets(folder: Path | None = None) -> dict[str, KindSheet]:
    """Give every sheet by kind: our own and those in a person's *folder*, which go first.

    Args:
        folder: Where a person keeps sheets of their own, or None [-].

    Returns:
        Sheets by kind [-].

    Raises:
        InvalidInput: a sheet in the folder cannot be right.

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> load_sheets()["impeller"].attributes["bore"].unit
        'mm'
    """
    sheets = dict(_own_sheets())
    if folder is not None and folder.is_dir():
        for path in sorted(folder.glob("*.toml")):
            found = read_sheet(path.read_text(encoding="utf-8"), path.name)
            sheets[found.kind] = found
    return sheets


def sheet(kind: str, sheets: Mapping[str, KindSheet] | None = None) -> KindSheet:
    """Give the sheet of *kind*.

    Args:
        kind: Sort of part, such as `impeller` [-].
        sheets: Sheets to look in; ours when left out [-].

    Returns:
        The sheet [-].

    Raises:
        InvalidInput: there is no such kind; `known` lists those there are.

    Source:
        Counting rule of this project; no standard applies.
    """
    sheets = _own_sheets() if sheets is None else sheets
    if kind not in sheets:
        raise InvalidInput.at("#/kind", f"there is no kind {kind!r}", known=sorted(sheets))
    return sheets[kind]


@cache
def named_changes() -> Mapping[str, Change]:
    """Give the fixed list of named changes by code."""
    text = (files(__package__) / "changes.toml").read_text(encoding="utf-8")
    return {code: Change(code, **line) for code, line in tomllib.loads(text).items()}


@cache
def _own_sheets() -> Mapping[str, KindSheet]:
    folder = files(__package__) / "kinds"
    found = [read_sheet(entry.read_text(encoding="utf-8"), entry.name)
             for entry in sorted(folder.iterdir(), key=lambda e: e.name)
             if entry.name.endswith(".toml")]
    return {s.kind: s for s in found}


def _plain(value: Any) -> Any:
    """Turn a line into plain JSON; what is left to its default says nothing and is left out."""
    if isinstance(value, Fraction):
        return format_number(value, 6)
    if isinstance(value, Mapping):
        return {k: _plain(v) for k, v in value.items() if v not in (None, "", (), {})}
    if isinstance(value, ChangeWhen):
        return _plain(vars(value))
    return [_plain(v) for v in value] if isinstance(value, tuple | list) else value


def _attribute(owner: str, code: str, position: int, line: Any) -> Attribute:
    if not isinstance(line, dict) or not line.get("label"):
        raise _wrong(owner, code, "needs a label")
    strange = set(line) - (set(Attribute.__dataclass_fields__) - {"code", "position"})
    if strange:
        raise _wrong(owner, code, f"has an unknown field {sorted(strange)[0]!r}")
    kind = line.get("type", "quantity" if "unit" in line else "word")
    plain = kind == "quantity" and not {"tol", "tol_percent"} & set(line)
    default = "equal" if plain else TYPES.get(kind, ("",))[0]
    fields = line | {"type": kind, "cmp": line.get("cmp", default)}
    _check(owner, code, fields)
    for name in ("tol", "tol_wide", "tol_percent"):
        if name in fields:
            fields[name] = exact(fields[name])
    for name in ("words", "ranks", "advisory_when"):
        fields[name] = tuple(fields.get(name, ()))
    fields["changes"] = tuple(_change(owner, code, c) for c in fields.get("changes", ()))
    return Attribute(code=code, position=position, **fields)


def _check(owner: str, code: str, fields: Mapping[str, Any]) -> None:
    if fields["type"] not in TYPES:
        raise _wrong(owner, code, f"type is one of {', '.join(TYPES)}")
    if fields["cmp"] not in TYPES[fields["type"]]:
        raise _wrong(owner, code, f"cmp of a {fields['type']} is one of "
                     f"{', '.join(TYPES[fields['type']])}")
    if fields.get("severity", "stop") not in SEVERITIES:
        raise _wrong(owner, code, f"severity is one of {', '.join(SEVERITIES)}")
    if fields.get("tool", "eye") not in TOOLS:
        raise _wrong(owner, code, f"tool is one of {', '.join(TOOLS)}")
    if fields.get("drawing", "") not in ("", *DRAWINGS):
        raise _wrong(owner, code, f"drawing is one of {', '.join(DRAWINGS)}")
    try:
        if fields.get("unit"):
            unit_named(fields["unit"])
        sizes = [exact(fields[n]) for n in ("tol", "tol_wide", "tol_percent") if n in fields]
    except SparesError as err:
        raise _wrong(owner, code, err.detail) from err
    if any(size < 0 for size in sizes):
        raise _wrong(owner, code, "a tolerance is not negative")


def _change(owner: str, code: str, given: Any) -> ChangeWhen:
    if not isinstance(given, dict) or given.get("name") not in named_changes():
        raise _wrong(owner, code, f"a change is one of {', '.join(named_changes())}")
    if given.get("side", "") not in ("", "more", "less"):
        raise _wrong(owner, code, "side of a change is more or less")
    return ChangeWhen(**given)


def _wrong(owner: str, line: str, what: str) -> InvalidInput:
    where = f"{owner}, {line}" if line else owner
    return InvalidInput(f"kind sheet {where}: {what}", sheet=owner,
                        errors=[{"pointer": f"#/{line}", "detail": what}])
