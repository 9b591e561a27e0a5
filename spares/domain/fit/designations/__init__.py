"""Designations: what a code on a part or in a book stands for.

One module a family, each with `read(text)` that gives a Designation or None when the text is
none of its own, and a `text` that reads back to the same. Two different codes may be the same
part and two alike ones may not, so only what a code stands for is compared.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from importlib import import_module
from typing import Any


@dataclass(frozen=True)
class Designation:
    """A code that was read: its plain spelling and the attributes it stands for.

    `series` is set where codes of several standards stand for like sizes; `asks_also` names
    attributes that the code decides without giving them; `rests_on` tables nobody looked up,
    `rests_on_by` those behind one attribute alone.
    """

    text: str
    attributes: Mapping[str, Any] = field(default_factory=dict)
    series: str = ""
    asks_also: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()
    rests_on_by: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


_READERS = {"bearing": "bearings", "o-ring": "orings", "drive-belt": "belts", "pump": "flanges",
            "pump-seal": "lip_seals", "hose": "hoses", "clamp": "clamps", "fuse": "fuses"}


def read_designation(kind: str, text: str, attr: str = "code") -> Designation | None:
    """Read a code of a part of *kind*.

    Args:
        kind: Sort of part [-].
        text: The code as written [-].
        attr: `code`, `flange_code` or `key_width` [-].

    Returns:
        What it stands for [-], or None when nobody here can read it.

    Source:
        Each family's module names its own.

    Example:
        >>> read_designation("bearing", "6203-2RS C3").attributes["outside_diameter"]
        40
    """
    by_attribute = {"flange_code": "flanges", "key_width": "keys"}
    name = by_attribute.get(attr) or _READERS.get(kind)
    if name is None:
        return None
    reader: Callable[[str], Designation | None] = import_module(f"{__name__}.{name}").read
    return reader(text)
