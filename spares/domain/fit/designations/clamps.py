"""Worm-drive clamps: `32-50 W4` stands for range and grade, `9` or `12` for the band."""

from __future__ import annotations

import re

from spares.domain.fit.designations import Designation
from spares.units import exact, format_number

_CODE = re.compile(r"(?P<low>\d+(?:[.,]\d+)?)\s*(?:-|–|TO|/)\s*(?P<high>\d+(?:[.,]\d+)?)\s*(?:MM)?"
                   r"(?:\s*[X×/]\s*(?P<band>9|12)(?:\s*MM)?)?(?:\s*-?\s*(?P<grade>W[1-5]))?")


def read(text: str) -> Designation | None:
    """Read the marking of a clamp.

    Args:
        text: Such as `32-50/9 W4` [-].

    Returns:
        Range [mm], perhaps band width [mm] and grade, or None.

    Source:
        Marking by DIN 3017-1.

    Example:
        >>> read("32-50 W4").attributes["grade"]
        'W4'
    """
    hit = _CODE.fullmatch(" ".join(str(text).upper().split()))
    if not hit or exact(hit["low"]) >= exact(hit["high"]):
        return None
    low, high = format_number(exact(hit["low"])), format_number(exact(hit["high"]))
    made: dict[str, object] = {"range": {"min": low, "max": high}}
    text = f"{low}-{high}"
    if hit["band"]:
        made["band_width"] = int(hit["band"])
        text += f"/{hit['band']}"
    if hit["grade"]:
        made["grade"] = hit["grade"]
        text += f" {hit['grade']}"
    return Designation(text, made)
