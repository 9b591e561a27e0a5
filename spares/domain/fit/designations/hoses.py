"""Hoses by bore: `25 mm`, `1 in`, `25x35` (bore and outside)."""

from __future__ import annotations

import re

from spares.domain.fit.designations import Designation
from spares.errors import UnknownUnit
from spares.units import exact, format_number, parse_quantity

_PAIR = re.compile(r"(\d+(?:[.,]\d+)?)\s*[X×*]\s*(\d+(?:[.,]\d+)?)\s*(?:MM)?")


def read(text: str) -> Designation | None:
    """Read the size of a hose.

    Args:
        text: Such as `1 1/4 in` or `25x35` [-].

    Returns:
        Bore [mm], or None.

    Source:
        Common practice, no source: a hose is named by its bore.

    Example:
        >>> read("1 in").text
        '25.4 mm'
    """
    plain = " ".join(str(text).upper().split())
    pair = _PAIR.fullmatch(plain)
    try:
        bore = exact(pair[1]) if pair else parse_quantity(plain, "mm").to("mm").amount
    except UnknownUnit:
        return None
    if bore <= 0 or pair and exact(pair[2]) <= bore:
        return None
    shown = format_number(bore)
    return Designation(f"{shown} mm", {"bore": shown})
