"""Parallel keys: `5x5x20`, `DIN 6885 A 5x5x20`, and which key a shaft has."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from spares.domain.fit.designations import Designation
from spares.standards import table
from spares.units import exact, format_number

_N = r"(\d+(?:[.,]\d+)?)"
_CODE = re.compile(r"(?:DIN\s*6885(?:-1)?|ISO\s*773|KEY)?\s*(?:FORM)?\s*[AB]?\s*"
                   rf"{_N}\s*[X×*]\s*{_N}"
                   rf"(?:\s*[X×*]\s*{_N})?(?:\s*MM)?")


def read(text: str) -> Designation | None:
    """Read the size of a parallel key.

    Args:
        text: Such as `5x5x20` [-].

    Returns:
        Width and height [mm], perhaps length [mm], or None.

    Source:
        Naming by DIN 6885-1: width x height x length.

    Example:
        >>> read("DIN 6885 A 5x5x20").text
        '5x5x20'
    """
    hit = _CODE.fullmatch(" ".join(str(text).upper().split()))
    if not hit:
        return None
    sizes = [format_number(exact(hit[n])) for n in (1, 2, 3) if hit[n]]
    made = dict(zip(("key_width", "key_height", "key_length"), sizes, strict=False))
    return Designation("x".join(sizes), made)


def key_of_shaft(shaft_mm: Any) -> dict[str, Any] | None:
    """Give the key that a parallel shaft of this diameter has.

    Args:
        shaft_mm: Diameter of the shaft [mm].

    Returns:
        Width, height and depths of both keyways [mm], or None outside the table.

    Source:
        DIN 6885-1 by the table `keys`.

    Example:
        >>> key_of_shaft(17)["width_mm"], key_of_shaft(17)["height_mm"]
        (5, 5)
    """
    wanted: Fraction = exact(shaft_mm)
    rows = list(table("keys").records())
    below = [r for r in rows if exact(r["shaft_mm"]) <= wanted]
    if not below or wanted > exact(rows[-1]["shaft_mm"]):
        return None
    return below[-1]
