"""Read a sense of rotation together with the end from which one looks."""

from __future__ import annotations

from typing import Any

from spares.domain.fit import reading

_SENSES = {"cw": "cw", "clockwise": "cw", "right": "cw", "ccw": "ccw", "left": "ccw",
           "anticlockwise": "ccw", "anti-clockwise": "ccw", "counterclockwise": "ccw",
           "counter-clockwise": "ccw", "either": "either", "both": "either"}
_ENDS = {"shaft-end": False, "shaft": False, "pulley": False, "pulley-end": False,
         "drive-end": False, "cover-end": True, "cover": True}


def read_rotation(value: Any) -> str | None:
    """Give the sense seen from the shaft end; None where the sense or the end is not said.

    Args:
        value: `{"value": "cw", "seen_from": "shaft-end"}`, or a word alone [-].

    Returns:
        `cw`, `ccw`, `either` or None [-].

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> read_rotation({"value": "cw", "seen_from": "cover-end"}), read_rotation("cw")
        ('ccw', None)
    """
    sense = _SENSES.get(reading.word(reading.part(value, "value")))
    if sense in (None, "either"):
        return sense
    end = reading.part(value, "seen_from") if isinstance(value, dict) else None
    turned = None if end is None else _ENDS.get(reading.word(end))
    if turned is None:
        return None
    return sense if not turned else {"cw": "ccw", "ccw": "cw"}[sense]
