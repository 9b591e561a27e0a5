"""Fuses: `5x20 T 2A 250V`, `blade-mini 15 A`: body, speed, rating, voltage."""

from __future__ import annotations

import re

from spares.domain.fit.designations import Designation
from spares.units import format_number, parse_quantity

FORMS = {"blade-micro2": ("micro2", "blade micro2", "micro-2"),
         "blade-mini": ("mini", "blade mini"),
         "blade-regular": ("regular", "blade regular"),
         "blade-maxi": ("maxi", "blade maxi"),
         "5x20": ("5x20", "5 x 20"), "6.3x32": ("6.3x32", "6,3x32", "6 x 32", "6x32"),
         "bolt-down": ("bolt-down", "bolt down")}
_RATING = re.compile(r"(?:(?P<speed>FF|F|M|TT|T)\s*)?(?P<a>\d+(?:[.,]\d+)?)\s*(?P<unit>M?A)")
_VOLTS = re.compile(r"(?P<v>\d+)\s*V\s*(?P<kind>AC|DC)?")


def read(text: str) -> Designation | None:
    """Read the marking of a fuse.

    Args:
        text: Such as `5x20 T 2 A 250 V` [-].

    Returns:
        Form, rating [A], perhaps speed, voltage [V] and kind of current, or None.

    Source:
        Marking by IEC 60127; blade forms of ISO 8820-3.

    Example:
        >>> read("5x20 T2A 250V").attributes["speed"]
        'T'
    """
    plain = " ".join(str(text).replace("×", "x").split())
    made: dict[str, object] = {}
    for form, names in FORMS.items():
        hit = next((n for n in sorted((form, *names), key=len, reverse=True)
                    if plain.casefold().startswith(n)), None)
        if hit:
            made["form"], plain = form, plain[len(hit):].strip()
            break
    volts = _VOLTS.search(plain.upper())
    if volts:
        made["voltage_v"] = int(volts["v"])
        if volts["kind"]:
            made["current_kind"] = volts["kind"].casefold()
        plain = (plain[:volts.start()] + plain[volts.end():]).strip()
    rating = _RATING.fullmatch(plain.upper().strip(" ,-"))
    if not rating:
        return None
    unit = {"MA": "mA"}.get(rating["unit"], "A")
    size = parse_quantity(f"{rating['a']} {unit}", "A").to("A").amount
    made["rating_a"] = format_number(size)
    if rating["speed"]:
        made["speed"] = rating["speed"]
    return Designation(_text(made), made)


def _text(made: dict[str, object]) -> str:
    rated = f"{made.get('speed', '')} {made['rating_a']} A".strip()
    volts = f"{made['voltage_v']} V" if "voltage_v" in made else ""
    kind = str(made.get("current_kind", "")).upper()
    return " ".join(filter(None, [str(made.get("form", "")), rated, volts, kind]))
