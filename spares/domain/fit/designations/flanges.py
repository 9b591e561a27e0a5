"""Hydraulic pump pads: `82-2`, `SAE A`, `J744 101-2` stand for pilot diameter and bolt count.

The bolt circle is asked too, but not given: two printed pages disagree about it.
"""

from __future__ import annotations

import re

from spares.domain.fit.designations import Designation
from spares.standards import table

_CODE = re.compile(r"(?:SAE|J744|ISO\s*3019-1|[\s-])*(?P<code>\d{2,3}-[24]|AA|A|B|C4|C|D)")


def read(text: str) -> Designation | None:
    """Read a pad code.

    Args:
        text: Such as `82-2` or `SAE A` [-].

    Returns:
        Pilot diameter [mm] and bolt count [1], or None.

    Source:
        SAE J744 and ISO 3019-1 by the table `flange_pads`.

    Example:
        >>> read("SAE B").text
        '101-2'
    """
    plain = " ".join(text.upper().split())
    hit = _CODE.fullmatch(plain)
    if not hit or hit["code"].isalpha() and "SAE" not in plain and "J744" not in plain:
        return None
    pads = table("flange_pads")
    row = pads.find(code=hit["code"]) or pads.find(letter=hit["code"])
    if row is None:
        return None
    rests_on = (pads.title,) if pads.remembered else ()
    return Designation(row["code"], {"pilot_diameter": row["pilot_mm"],
                                     "bolt_count": row["bolt_count"]},
                       asks_also=("bolt_circle",), rests_on=rests_on)
