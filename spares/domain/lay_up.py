"""Lay-up: where water is let out or treated, as the notes on machines say it.

A note says it in sentences of two forms, each to the end of its line or to a full stop:
`Drain points: sea chest cock; exchanger lower plug.` and `Lay-up: pickled with P052.`
A point that is followed by a colon and words with `not drained` in them is treated instead.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_SENTENCE = re.compile(r"\b(drain points?|lay-?up)\s*:\s*(.+?)\s*(?:\.(?=\s|$)|$)",
                       re.IGNORECASE | re.MULTILINE)


@dataclass(frozen=True, slots=True)
class WaterPoint:
    """A place where water is let out; `treated` where it stays in, and `how` says why or how.

    `place` is empty where the whole machine is meant.
    """

    place: str
    treated: bool = False
    how: str = ""


def water_points(note: str | None) -> tuple[WaterPoint, ...]:
    """Give the points that a machine's note names, in its order.

    Args:
        note: As recorded; None for no note [-].

    Returns:
        The drain points, and what is laid up in another way [-].

    Raises:
        Nothing: what is not of these forms is passed over.

    Source:
        Form of notes of this project.

    Example:
        >>> water_points("Old. Drain points: pump cover; keel cooler: not drained. New.")
        (WaterPoint(place='pump cover', treated=False, how=''), \
WaterPoint(place='keel cooler', treated=True, how='not drained'))
        >>> water_points("Lay-up: hung upright.")
        (WaterPoint(place='', treated=True, how='hung upright'),)
    """
    found: list[WaterPoint] = []
    for word, words in _SENTENCE.findall(note or ""):
        pieces = [piece for one in words.split(";") if (piece := one.strip())]
        if word.lower().startswith("drain"):
            ways = [[part.strip() for part in piece.partition(":")] for piece in pieces]
            found += [WaterPoint(place, "not drained" in how.lower(), how)
                      for place, _, how in ways]
        else:
            found += [WaterPoint("", True, piece) for piece in pieces]
    return tuple(found)
