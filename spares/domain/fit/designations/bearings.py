"""Ball bearings: `6203-2RS C3` stands for bore, outside diameter, width, closure and clearance.

The makers spell the same sides differently: 2RS1, 2RSR, LLU; ZZ and 2Z. A suffix that nobody
here knows leaves closure and clearance open.
"""

from __future__ import annotations

import re
from typing import Any

from spares.domain.fit.designations import Designation
from spares.standards import table

_CODE = re.compile(r"(?P<basic>\d{3,5})(?P<rest>.*)")
_CLEARANCES = ("C2", "CN", "C0", "C3", "C4", "C5")
_SILENT = ("P6", "P5", "P0", "TN9", "TN", "J", "M", "MA", "JN", "TVH", "ETN9", "E", "VL0241",
           "W33", "SS")
_TYPES = {"7": "angular-contact"}
_SUFFIXES = ("suffixes of bearings",)
_TABLES = ("bearings", "bearings_more", "bearings_remembered")


def read(text: str) -> Designation | None:
    """Read the code of a ball bearing.

    Args:
        text: Such as `6203-2RS1 C3` [-].

    Returns:
        Dimensions [mm], type, closure, clearance, or None.

    Source:
        ISO 15 by the tables `bearings*`; suffixes by `bearing_suffixes`.

    Example:
        >>> read("6203 LLU").attributes["closure"], read("6203ZZ/C3").attributes["clearance"]
        ('seal-both', 'C3')
    """
    plain = re.sub(r"[\s/,_-]+", " ", str(text).upper()).strip()
    hit = _CODE.fullmatch(plain)
    if not hit:
        return None
    row, rests_on = _dimensions(hit["basic"])
    if row is None:
        return None
    attributes: dict[str, Any] = {
        "bore": row["bore_mm"], "outside_diameter": row["outside_diameter_mm"],
        "width": row["width_mm"],
        "bearing_type": _TYPES.get(hit["basic"][0], "deep-groove")}
    sides = _suffixes(hit["rest"].split())
    if sides is None:
        return Designation(plain, attributes, asks_also=("closure", "snap_groove", "clearance"),
                           rests_on=rests_on)
    closure, clearance, groove, remembered = sides
    attributes |= {"closure": closure, "clearance": clearance, "snap_groove": groove}
    return Designation(_text(hit["basic"], closure, clearance, groove), attributes,
                       rests_on=rests_on, rests_on_by={"closure": remembered})


def _dimensions(basic: str) -> tuple[dict[str, Any] | None, tuple[str, ...]]:
    """Find the row of a basic number; 72 and 73 have the dimensions of 62 and 63."""
    wanted = "6" + basic[1:] if basic[:2] in ("72", "73") and len(basic) == 4 else basic
    for name in _TABLES:
        found = table(name)
        row = found.find(designation=wanted)
        if row is not None:
            return row, (found.title,) if found.remembered else ()
    return None, ()


def _suffixes(words: list[str]) -> tuple[str, str, bool, tuple[str, ...]] | None:
    closure, clearance, groove = "open", "CN", False
    rests_on: tuple[str, ...] = ()
    rows = {r["suffix"]: r for r in table("bearing_suffixes").records()}
    sides = {suffix: row["closure"] for suffix, row in rows.items()}
    for word in words:
        if word in sides:
            closure = sides[word]
            rests_on = _SUFFIXES if rows[word]["known"] == "memory" else rests_on
        elif word in _CLEARANCES:
            clearance = "CN" if word == "C0" else word
        elif word in ("N", "NR"):
            groove = True
        elif word not in _SILENT:
            parts = _split(word, sides)
            if parts is None:
                return None
            inner = _suffixes(parts)
            if inner is None:
                return None
            closure = inner[0] if inner[0] != "open" else closure
            clearance = inner[1] if inner[1] != "CN" else clearance
            groove, rests_on = groove or inner[2], (*rests_on, *inner[3])
    return closure, clearance, groove, rests_on


def _split(word: str, sides: dict[str, str]) -> list[str] | None:
    """Part words written together, such as 2RSC3 or ZZNR."""
    for head in sorted((*sides, *_CLEARANCES, "NR", "N"), key=len, reverse=True):
        if word.startswith(head) and len(word) > len(head):
            tail = word[len(head):]
            if tail in (*sides, *_CLEARANCES, "NR", "N", *_SILENT):
                return [head, tail]
    return None


def _text(basic: str, closure: str, clearance: str, groove: bool) -> str:
    side = {"open": "", "seal-both": "-2RS", "seal-one": "-RS", "shield-both": "-2Z",
            "shield-one": "-Z"}[closure]
    ring = " N" if groove else ""
    return f"{basic}{side}{ring}" + (f" {clearance}" if clearance != "CN" else "")
