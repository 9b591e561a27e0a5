"""A plain plan of the decks, and where on it the lockers are.

A plan is drawn by tapping its corners. Places are whole thousandths of its width and height,
from the corner at the upper left, so that a phone and a large screen show the same.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

MOST_CORNERS = 100
WHOLE = 1000
_CORNER = re.compile(r"(0|[1-9]\d{0,3}),(0|[1-9]\d{0,3})")


def corners_of(text: Any) -> tuple[tuple[int, int], ...]:
    """Read the corners of a line of a plan, none where the text is not such a line.

    Args:
        text: Pairs between spaces [thousandths of the width, thousandths of the height].

    Example:
        >>> corners_of("0,0 500,1000")
        ((0, 0), (500, 1000))
        >>> corners_of("0,0 500,1001")
        ()
    """
    pairs = [_CORNER.fullmatch(one) for one in text.split(" ")] if isinstance(text, str) else []
    found = tuple((int(pair[1]), int(pair[2])) for pair in pairs if pair)
    fine = len(found) == len(pairs) and 2 <= len(found) <= MOST_CORNERS
    return found if fine and max(max(one) for one in found) <= WHOLE else ()


def placed_by(locker: str, parents: Mapping[str, str | None],
              places: Mapping[str, Any]) -> str | None:
    """Name the locker by whose place a locker is found: itself, else the nearest around it.

    Args:
        locker: Its name.
        parents: In which locker each one lies, None where it lies in none.
        places: What has a place of its own on the plan, by the locker's name.

    Example:
        >>> placed_by("box", {"box": "bench", "bench": None}, {"bench": (500, 250)})
        'bench'
    """
    seen: set[str] = set()
    here: str | None = locker
    while here is not None and here not in seen:
        if here in places:
            return here
        seen.add(here)
        here = parents.get(here)
    return None
