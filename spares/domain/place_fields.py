"""What may be recorded of the place of a fit point: wet, hot, what flows there, how it turns."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from spares.errors import SparesError
from spares.units import exact

MEDIA = ("sea-water", "fresh-water", "brackish", "coolant", "engine-oil", "diesel", "petrol",
         "oily-bilge", "air")
ATTITUDES = ("upright", "horizontal", "inverted")
DRIVERS = ("belt", "gear", "tang", "electric")
FLAGS = ("wet", "petrol_space", "below_waterline", "above_waterline")

_WORDS = {"medium": MEDIA, "attitude": ATTITUDES, "driven_by": DRIVERS}
#: Least and most that is believed, in the unit that the name tells; common practice, no source.
_AMOUNTS = {"temperature_c": (-60, 400), "wire_mm2": (Fraction("0.1"), 1000),
            "wire_insulation_c": (40, 300), "engine_speed_rpm": (1, 20000),
            "drive_pulley_mm": (5, 3000), "driven_pulley_mm": (5, 3000),
            "slip": (0, Fraction("0.19"))}
_ROTATION = {"value", "seen_from"}


def place_wrongs(value: Any) -> list[tuple[str, str]]:
    """Say what is wrong with a place before it is written down.

    Args:
        value: Fields of the place; numbers as text or whole, in the unit of their names [-].

    Returns:
        Path inside the place and what is wrong there; nothing where all can be read [-].

    Source:
        Counting rule of this project; the bounds are common practice, no source.

    Example:
        >>> place_wrongs({"wet": True, "wire_mm2": "2.5"})
        []
        >>> place_wrongs({"wet": "maybe"})
        [('/wet', 'true or false is needed')]
    """
    if not isinstance(value, dict):
        return [("", "an object is needed")]
    return [(f"/{name}", wrong) for name, one in value.items()
            if one is not None and (wrong := _wrong(name, one))]


def _wrong(name: str, value: Any) -> str | None:
    if name in FLAGS:
        return None if isinstance(value, bool) else "true or false is needed"
    if name in _WORDS:
        return None if value in _WORDS[name] else f"one of {', '.join(_WORDS[name])} is needed"
    if name in _AMOUNTS:
        return _amount_wrong(value, *_AMOUNTS[name])
    if name == "mating_metal":
        return None if isinstance(value, str) else "text is needed"
    if name == "rotation":
        parts = value if isinstance(value, dict) else {"value": value}
        fine = set(parts) <= _ROTATION and all(isinstance(one, str) for one in parts.values())
        return None if fine and "value" in parts else \
            'a sense such as {"value": "cw", "seen_from": "shaft-end"} is needed'
    return "there is no such field of a place"


def _amount_wrong(value: Any, low: Fraction | int, high: Fraction | int) -> str | None:
    try:
        number = None if isinstance(value, bool) else exact(value)
    except SparesError:
        number = None
    if number is None or not low <= number <= high:
        return f"a number from {_text(low)} to {_text(high)} is needed"
    return None


def _text(number: Fraction | int) -> str:
    return str(number if isinstance(number, int) else float(number))
