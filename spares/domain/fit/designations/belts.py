"""Belts: `A38`, `AX38`, `SPA1000`, `13x1000 Li`, `3V500`, `6PK1200`, `640-8M-30`.

The length of a belt means nothing without its system: datum (Ld, Lw, Lp), inside (Li), outside
(La) or effective (Le).
"""

from __future__ import annotations

import re
from typing import Any

from spares.domain.fit.designations import Designation
from spares.standards import table
from spares.units import INCH_MM, exact, format_number

_SYSTEMS = {"LI": "inside", "LD": "datum", "LW": "datum", "LP": "datum", "LA": "outside",
            "LE": "effective"}
_INCHES = re.compile(r"(?P<section>[ABCD])(?P<x>X?)\s*-?\s*(?P<n>\d{2,3})")
_LONG = re.compile(r"(?P<section>SPZ|SPA|SPB|SPC|XPZ|XPA|XPB|XPC|ZX|AX|BX|CX|DX|Z|A|B|C|D)\s*-?\s*"
                   r"(?P<l>\d{3,5})\s*(?:MM)?\s*(?P<system>L[IDWPAE])?")
_WIDTH = re.compile(r"(?P<w>AVX\s*\d{2}|\d{1,2}(?:[.,]5)?)\s*(?:[X×*]\s*(?P<h>\d{1,2}))?\s*[X×*]\s*"
                    r"(?P<l>\d{3,5})\s*(?:MM)?\s*(?P<system>L[IDWPAE])?")
_NARROW = re.compile(r"(?P<section>[358]V)(?P<x>X?)\s*-?\s*(?P<n>\d{3,4})")
_RIBBED = re.compile(r"(?P<ribs>\d{1,2})\s*(?P<profile>P[HJKLM])\s*-?\s*(?P<l>\d{3,5})")
_TOOTHED = re.compile(r"(?P<l>\d{2,5})\s*-\s*(?P<pitch>\d{1,2})(?P<profile>M|T|AT)?\s*-\s*"
                      r"(?P<w>\d{1,3})")
_TITLE = "V-belt sections"


def read(text: str) -> Designation | None:
    """Read the code of a belt.

    Args:
        text: Such as `A38` or `6PK1200` [-].

    Returns:
        Kind, section or ribs, length with its system [mm], or None.

    Source:
        Lengths by `belt_lengths_classical` and `belt_lengths_narrow`; sections by `belt_sections`.

    Example:
        >>> read("A38").attributes["length"]
        {'value': 1000, 'system': 'datum', 'unit': 'mm'}
    """
    plain = " ".join(str(text).upper().replace("″", "").split())
    for pattern, make in ((_INCHES, _inches), (_NARROW, _narrow), (_RIBBED, _ribbed),
                          (_LONG, _long), (_WIDTH, _by_width), (_TOOTHED, _toothed)):
        hit = pattern.fullmatch(plain)
        found = make(hit) if hit else None
        if found is not None:
            return found
    return None


def _inches(hit: re.Match[str]) -> Designation | None:
    """Read A38: 38 is the inside length in inches, the datum length stands in the table."""
    section, number = hit["section"], int(hit["n"])
    row = table("belt_lengths_classical").find(code=f"{section}{number}")
    if row is not None:
        length = _length(row["datum_length_mm"], "datum")
    else:
        length = _length(format_number(number * INCH_MM, 1), "inside")
    return Designation(f"{section}{hit['x']}{number}", {
        "belt_kind": "v", "section": section, "construction": _construction(hit["x"]),
        "length": length})


def _long(hit: re.Match[str]) -> Designation | None:
    """Read SPA1000 or A 1000 Li; a narrow metric belt is named by its datum length."""
    section = hit["section"]
    crossed = section.startswith("XP") or section.endswith("X")
    plain = section.replace("XP", "SP").removesuffix("X")
    narrow = plain.startswith("SP")
    system = _SYSTEMS.get(hit["system"] or "") or ("datum" if narrow else None)
    tail = f" {hit['system'].capitalize()}" if hit["system"] else ""
    return Designation(f"{section}{hit['l']}{tail}", {
        "belt_kind": "narrow-v" if narrow else "v", "section": plain,
        "construction": _construction("X" if crossed else ""),
        "length": _length(int(hit["l"]), system)})


def _by_width(hit: re.Match[str]) -> Designation | None:
    """Read 13x1000 Li: 13 is the top width."""
    wide = hit["w"].replace(" ", "")
    system: str | None
    if wide.startswith("AVX"):
        section, system = wide, _SYSTEMS.get(hit["system"] or "") or "outside"
    else:
        rows = [r for r in table("belt_sections").records() if r["belt_kind"] == "v"
                and exact(r["top_width_mm"]) == exact(wide)
                and (hit["h"] is None or exact(r["height_mm"]) == exact(hit["h"]))]
        rows += [r for r in table("belt_sections").records() if hit["h"] is not None
                 and r["belt_kind"] == "narrow-v" and exact(r["top_width_mm"]) == exact(wide)
                 and exact(r["height_mm"]) == exact(hit["h"]) and r["section"].startswith("SP")]
        if not rows:
            return None
        section, system = rows[0]["section"], _SYSTEMS.get(hit["system"] or "")
    kind = "narrow-v" if section.startswith(("SP", "AVX")) else "v"
    tail = f" {hit['system'].capitalize()}" if hit["system"] else ""
    high = f"x{hit['h']}" if hit["h"] else ""
    made: dict[str, Any] = {"belt_kind": kind, "section": section,
                            "length": _length(int(hit["l"]), system)}
    if section.startswith("AVX"):
        made["construction"] = _construction("X")
    return Designation(f"{wide}{high}x{hit['l']}{tail}", made, rests_on=(_TITLE,))


def _narrow(hit: re.Match[str]) -> Designation | None:
    code = f"{hit['section']}{hit['n']}"
    row = table("belt_lengths_narrow").find(code=code)
    length = row["effective_length_mm"] if row else format_number(
        int(hit["n"]) * INCH_MM / 10, 1)
    return Designation(f"{hit['section']}{hit['x']}{hit['n']}", {
        "belt_kind": "narrow-v", "section": hit["section"],
        "construction": _construction(hit["x"]), "length": _length(length, "effective")})


def _ribbed(hit: re.Match[str]) -> Designation | None:
    return Designation(f"{int(hit['ribs'])}{hit['profile']}{int(hit['l'])}", {
        "belt_kind": "poly-v", "rib_profile": hit["profile"], "rib_count": int(hit["ribs"]),
        "length": _length(int(hit["l"]), "effective")})


def _toothed(hit: re.Match[str]) -> Designation | None:
    pitch, length = int(hit["pitch"]), int(hit["l"])
    if length % pitch:
        return None
    profile = hit["profile"] or ""
    return Designation(f"{length}-{pitch}{profile}-{int(hit['w'])}", {
        "belt_kind": "toothed", "tooth_pitch": pitch, "teeth": length // pitch,
        "width": int(hit["w"]), **({"tooth_profile": f"{pitch}{profile}"} if profile else {})})


def _length(value: Any, system: str | None) -> dict[str, Any]:
    length = {"value": value, "unit": "mm"}
    return {"value": value, "system": system, "unit": "mm"} if system else length


def _construction(crossed: str) -> str:
    return "raw-edge-cogged" if crossed else "wrapped"
