"""O-rings: `AS568-214` by its dash number, `25x3.5` by its size; rubber and hardness may follow.

Codes of different series share digits, so a bare `214` stands for nothing.
"""

from __future__ import annotations

import re
from typing import Any

from spares.domain.fit.designations import Designation
from spares.standards import table
from spares.units import exact, format_number

_DASH = re.compile(r"(?:AS\s*568\s*[AB]?|BS\s*1806|ISO\s*3601(?:-1)?)\s*-?\s*(?P<dash>\d{3})"
                   r"(?P<rest>(?:\s+.*)?)")
_SIZE = re.compile(r"(?:O-?RING|OR)?\s*(?:ID)?\s*(?P<d>\d+(?:[.,]\d+)?)\s*(?:MM)?\s*[X×*]\s*"
                   r"(?:CS)?\s*(?P<w>\d+(?:[.,]\d+)?)\s*(?:MM)?(?P<rest>(?:\s+.*)?)")
_RUBBERS = ("NBR", "EPDM", "FKM", "FPM", "CR", "VMQ", "HNBR", "PU")


def read(text: str) -> Designation | None:
    """Read the code of an O-ring.

    Args:
        text: Such as `AS568-214 NBR 70` or `25 x 3,5` [-].

    Returns:
        Inside diameter and section [mm], perhaps rubber and hardness, or None.

    Source:
        ISO 3601-1 by the table `orings_as568`.

    Example:
        >>> read("as568-214").attributes["inside_diameter"]
        24.99
    """
    plain = " ".join(str(text).upper().split())
    dash = _DASH.fullmatch(plain)
    if dash:
        row = table("orings_as568").find(dash=dash["dash"])
        rest = _rest(dash["rest"])
        if row is None or rest is None:
            return None
        return Designation(_join(f"AS568-{row['dash']}", rest), {
            "inside_diameter": row["inside_diameter_mm"], "section": row["section_mm"], **rest},
            series="AS568")
    size = _SIZE.fullmatch(plain)
    rest = _rest(size["rest"]) if size else None
    if not size or rest is None:
        return None
    d, w = exact(size["d"]), exact(size["w"])
    if not 0 < w or not w < d * 10:
        return None
    return Designation(_join(f"{format_number(d)}x{format_number(w)}", rest), {
        "inside_diameter": format_number(d), "section": format_number(w), **rest},
        series="by size")


def section_tolerance(section_mm: object) -> float | None:
    """Give the tolerance of a section: of its dash series, else of its size.

    Args:
        section_mm: Section [mm].

    Returns:
        Tolerance [mm], or None above the largest.

    Source:
        ISO 3601-1 by the tables `orings_as568` and `oring_section_tolerances`.

    Example:
        >>> section_tolerance("3.53"), section_tolerance("3.0")
        (0.1, 0.09)
    """
    section = exact(section_mm)
    own = next((r["section_tol_mm"] for r in table("orings_as568").records()
                if exact(r["section_mm"]) == section), None)
    if own is not None:
        return float(own)
    return next((float(r["tol_mm"]) for r in table("oring_section_tolerances").records()
                 if section <= exact(r["up_to_mm"])), None)


def _rest(text: str) -> dict[str, Any] | None:
    """Read rubber and hardness; None where something else stands there."""
    found: dict[str, Any] = {}
    for word in re.sub(r"[-/]", " ", text).split():
        if word in _RUBBERS:
            found["material"] = "FKM" if word == "FPM" else word
        elif re.fullmatch(r"[4-9]\d", word):
            found["hardness"] = int(word)
        elif word not in ("SHORE", "A", "IRHD", "SH"):
            return None
    return found


def _join(head: str, rest: dict[str, Any]) -> str:
    return " ".join([head, *(str(rest[k]) for k in ("material", "hardness") if k in rest)])
