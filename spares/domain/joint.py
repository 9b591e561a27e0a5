"""Joint sheets: in which order fasteners are tightened, in how many passes, and what to mind.

Fasteners are numbered round a ring clockwise, or along each row from the same end. The maker's
book goes first; an order given here is a pattern of the trade.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from spares.errors import InvalidInput

CROSS, MIDDLE_OUT, IN_TURN = PATTERNS = ("cross", "middle-out", "in-turn")
MOST_FASTENERS, MOST_PASSES = 96, 6
_THREE_PASSES = (30, 70, 100)
_PIECE = re.compile(r"^\s*(?:(\d{1,3})\s*[x×]\s*)?(?:([A-Z]{1,3}\d{2,5})\b[\s,:]*)?(.*?)\s*$")


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of a joint: how many (None not said), its part's number or "", words."""

    count: int | None
    part: str
    words: str


@dataclass(frozen=True, slots=True)
class Warning:
    """What to mind about a joint, and where that is from."""

    mark: str
    text: str
    source: str


def tightening_order(count: int, pattern: str = CROSS, rows: int = 1) -> tuple[int, ...]:
    """Give the order in which fasteners are tightened.

    Args:
        count: How many there are [-].
        pattern: `cross` round a ring, `middle-out` along rows, `in-turn` [-].
        rows: Into how many rows of as many they are laid, for middle-out [-].

    Returns:
        Numbers of the fasteners, each once [-].

    Raises:
        InvalidInput: no such pattern, no fasteners or too many, rows that do not go up.

    Source:
        Cross: the legacy pattern of ASME PCC-1 as quoted second-hand for 8, 12, 16 and 24 bolts,
        and the same halving for any other number; middle-out: common practice, no source.

    Example:
        >>> tightening_order(8)
        (1, 5, 3, 7, 2, 6, 4, 8)
        >>> tightening_order(6, "middle-out")
        (3, 4, 2, 5, 1, 6)
    """
    if not 1 <= count <= MOST_FASTENERS:
        raise InvalidInput.at("#/fasteners", f"1 to {MOST_FASTENERS} are needed")
    if pattern not in PATTERNS:
        raise InvalidInput.at("#/pattern", f"one of {', '.join(PATTERNS)} is needed")
    if pattern == CROSS:
        return tuple(_cross(count))
    if pattern == IN_TURN:
        return tuple(range(1, count + 1))
    if rows < 1 or count % rows:
        raise InvalidInput.at("#/rows", f"{count} fasteners do not make {rows} rows of as many")
    return tuple(_middle_out(count // rows, rows))


def passes(number: int = 3) -> tuple[int, ...]:
    """Give the shares of the full torque at which a joint is gone round.

    Args:
        number: How many passes [-].

    Returns:
        Shares of the full torque [%], rising to 100.

    Raises:
        InvalidInput: no pass, or more than anybody makes.

    Source:
        Three: 20 to 30, 50 to 70 and 100 % in ASME PCC-1 as quoted second-hand; other numbers in
        even steps: common practice, no source.

    Example:
        >>> passes(3)
        (30, 70, 100)
    """
    if not 1 <= number <= MOST_PASSES:
        raise InvalidInput.at("#/passes", f"1 to {MOST_PASSES} are needed")
    if number == len(_THREE_PASSES):
        return _THREE_PASSES
    return tuple(100 * step // number for step in range(1, number + 1))


def pieces_of(text: str | None) -> tuple[Piece, ...]:
    """Read the pieces of a joint, one a line, from the face outwards.

    Args:
        text: Lines such as `12 x P018, hollow side to the flange` [-].

    Returns:
        The pieces in the order given [-].

    Source:
        Form of notes of this project.

    Example:
        >>> [one.words for one in pieces_of("gasket P016\\n12 x P017, tall")]
        ['gasket P016', 'tall']
    """
    found = []
    for line in (text or "").splitlines():
        count, part, words = _PIECE.match(line).groups()    # type: ignore[union-attr]
        if count or part or words:
            found.append(Piece(int(count) if count else None, part or "", words))
    return tuple(found)


def warnings_for(*texts: str) -> tuple[Warning, ...]:
    """Give the warnings that the words about a joint call for.

    Args:
        texts: Its pieces, the names of their parts, its note and thread [-].

    Returns:
        Warnings in the order of showing [-].

    Source:
        The table `joint_warnings.toml`, each with its source.

    Example:
        >>> [one.mark for one in warnings_for("split washer", "bolt M8, A4", "into aluminium")]
        ['split washer', 'stainless in aluminium']
    """
    said = " ".join(texts).casefold()
    return tuple(Warning(one["mark"], one["text"], one["source"]) for one in _warnings()
                 if all(any(re.search(rf"(?<![a-z0-9]){word}(?![0-9])", said) for word in group)
                        for group in one["said"]))


def _spread(count: int) -> list[int]:
    """Order numbers 1 to *count* so that each lies as far from the one before as can be."""
    if count % 2 == 0:
        half = count // 2
        return [number for first in range(1, half + 1) for number in (first, first + half)]
    step = max(1, (count - 1) // 2)
    return [1 + place * step % count for place in range(count)]


def _cross(count: int) -> list[int]:
    if count % 4 == 0:
        quarter = count // 4
        return [first + quarter * turn for first in _spread(quarter) for turn in (0, 2, 1, 3)]
    if count % 2 == 0:
        return [one for first in _spread(count // 2) for one in (first, first + count // 2)]
    return _spread(count)


def _middle_out(columns: int, rows: int) -> list[int]:
    """Go from the middle column to both ends, and in each column across the rows and back."""
    middle = (columns + 1) / 2
    outwards = sorted(range(1, columns + 1), key=lambda one: (abs(one - middle), one))
    return [row * columns + column for place, column in enumerate(outwards)
            for row in (range(rows) if place % 2 == 0 else reversed(range(rows)))]


@cache
def _warnings() -> tuple[dict[str, Any], ...]:
    text = resources.files(__package__).joinpath("joint_warnings.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text)["warning"])
