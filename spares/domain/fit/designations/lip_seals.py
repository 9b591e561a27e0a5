"""Lip seals: `16x28x7 AS` stands for shaft, housing bore, width and form."""

from __future__ import annotations

import re

from spares.domain.fit.designations import Designation
from spares.units import exact, format_number

_N = r"(\d+(?:[.,]\d+)?)"
_CODE = re.compile(rf"(?:LIP SEAL|SEAL|TYPE)?\s*{_N}\s*[X×*/-]\s*{_N}\s*[X×*/-]\s*{_N}"
                   r"\s*(?P<rest>.*)")
_FORMS = {"A": "A", "AS": "AS", "B": "B", "BS": "BS", "C": "C", "CS": "CS"}
_RUBBERS = ("NBR", "FKM", "FPM", "EPDM", "CR", "VMQ", "ACM", "PTFE")
_RIBS = {"RD": "rd", "LD": "ld", "WD": "wd"}


def read(text: str) -> Designation | None:
    """Read the code of a lip seal.

    Args:
        text: Such as `16x28x7 AS NBR` [-].

    Returns:
        Shaft, housing bore and width [mm], perhaps form, ribs and rubber, or None.

    Source:
        Naming by DIN 3760: d1 x d2 x b and form.

    Example:
        >>> read("16 x 28 x 7 AS").attributes["housing_bore"]
        '28'
    """
    hit = _CODE.fullmatch(" ".join(str(text).upper().split()))
    if not hit:
        return None
    d1, d2, b = (format_number(exact(hit[n])) for n in (1, 2, 3))
    if not exact(d1) < exact(d2):
        return None
    made = {"seal_kind": "lip", "shaft_diameter": d1, "housing_bore": d2, "width": b}
    words = []
    for word in hit["rest"].replace(",", " ").split():
        if word in _FORMS:
            made["form"] = _FORMS[word]
        elif word in _RIBS:
            made["ribs"] = _RIBS[word]
        elif word in _RUBBERS:
            made["material"] = "FKM" if word == "FPM" else word
        else:
            return None
        words.append(word)
    return Designation(" ".join([f"{d1}x{d2}x{b}", *words]), made)
