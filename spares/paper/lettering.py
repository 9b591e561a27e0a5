"""Type on paper: the two fonts, what they can show, and text that stays in its box.

Sizes and widths are in points, 1/72 in. The fonts hold Latin, Greek and
Cyrillic; a character they lack is drawn as `?`, and `missing_characters` names it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

PLAIN, BOLD = "SparesPlain", "SparesBold"
_FILES = {PLAIN: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}

# Parts of the size, from the fonts' own tables (1901, 483, 1493 of 2048).
ASCENT, DESCENT, CAP_HEIGHT = 0.929, 0.236, 0.729
LEADING = ASCENT + DESCENT
_SHRINK_STEP = 0.95
_WORD = re.compile(r"\S*\d \S{1,3}(?!\S)|\S+")  # a number keeps its unit: 10 mm, 24 V


@dataclass(frozen=True, slots=True)
class Row:
    """One text of a stack: how large it may be set, and how small."""

    text: str
    font: str
    largest_pt: float
    smallest_pt: float


@dataclass(frozen=True, slots=True)
class SetRow:
    """A row as it will be drawn."""

    lines: tuple[str, ...]
    font: str
    size_pt: float

    @property
    def height_pt(self) -> float:
        """Height of all its lines [pt]."""
        return len(self.lines) * self.size_pt * LEADING


@cache
def load_fonts() -> None:
    """Make both fonts known to the PDF library; once a process."""
    folder = Path(__file__).parent / "fonts"
    for name, file_name in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(folder / file_name)))


@cache
def _shown() -> frozenset[int]:
    load_fonts()
    faces = [pdfmetrics.getFont(name).face.charToGlyph for name in _FILES]
    return frozenset(faces[0]) & frozenset(faces[1])


def _composed(text: str) -> str:
    return unicodedata.normalize("NFC", " ".join(text.split()))


def missing_characters(texts: Iterable[str]) -> str:
    """Give the characters that paper cannot show, each once, in order of code point."""
    return "".join(sorted(c for c in set(_composed("\n".join(texts))) if ord(c) not in _shown()))


def readable(text: str) -> str:
    """Give the text as paper can show it: one line, `?` for what the fonts lack."""
    return "".join(c if ord(c) in _shown() else "?" for c in _composed(text))


def width_pt(text: str, font: str, size_pt: float) -> float:
    """Give the width of a text [pt]."""
    load_fonts()
    return float(pdfmetrics.stringWidth(text, font, size_pt))


def wrap(text: str, font: str, size_pt: float, room_pt: float) -> tuple[str, ...]:
    """Break a text into lines no wider than `room_pt`; a word too long is cut.

    A number stays on one line with its unit.
    """
    lines: list[str] = []
    line = ""
    for word in _WORD.findall(readable(text)):
        longer = f"{line} {word}" if line else word
        if width_pt(longer, font, size_pt) <= room_pt:
            line = longer
            continue
        if line:
            lines.append(line)
        *whole, line = _pieces(word, font, size_pt, room_pt)
        lines.extend(whole)
    return (*lines, line) if line else tuple(lines)


def _pieces(word: str, font: str, size_pt: float, room_pt: float) -> list[str]:
    pieces = [""]
    for character in word:
        if pieces[-1] and width_pt(pieces[-1] + character, font, size_pt) > room_pt:
            pieces.append("")
        pieces[-1] += character
    return pieces


def shorten(text: str, font: str, size_pt: float, room_pt: float) -> str:
    """Cut a text to one line of the width, ending in `…` when something was cut."""
    shown = readable(text)
    if width_pt(shown, font, size_pt) <= room_pt:
        return shown
    while shown and width_pt(f"{shown}…", font, size_pt) > room_pt:
        shown = shown[:-1].rstrip()
    return f"{shown}…"


def largest_size(text: str, font: str, room_pt: float, cap_height_pt: float) -> float:
    """Give the largest size whose text fits the width and whose capitals fit the height."""
    return min(cap_height_pt / CAP_HEIGHT, room_pt / width_pt(text, font, 1))


def set_stack(rows: Sequence[Row], room_pt: float, height_pt: float) -> list[SetRow]:
    """Set rows under each other in a box, as large as they fit together.

    All shrink alike, none below its smallest size. When even that does not fit,
    the row with the most lines loses lines, and a cut row ends in `…`.
    """
    wanted = [row for row in rows if readable(row.text)]
    share = 1.0
    while True:
        sizes = [max(row.smallest_pt, row.largest_pt * share) for row in wanted]
        stack = [SetRow(wrap(row.text, row.font, size, room_pt), row.font, size)
                 for row, size in zip(wanted, sizes, strict=True)]
        if sum(row.height_pt for row in stack) <= height_pt:
            return stack
        if all(s <= r.smallest_pt for s, r in zip(sizes, wanted, strict=True)):
            return _cut(stack, room_pt, height_pt)
        share *= _SHRINK_STEP


def _cut(stack: list[SetRow], room_pt: float, height_pt: float) -> list[SetRow]:
    kept = [len(row.lines) for row in stack]
    while sum(n * s.size_pt * LEADING for n, s in zip(kept, stack, strict=True)) > height_pt:
        longest = max(range(len(kept)), key=lambda i: (kept[i], i))
        if kept[longest] == 0:
            break
        kept[longest] -= 1
    return [SetRow(_first_lines(s, n, room_pt), s.font, s.size_pt)
            for s, n in zip(stack, kept, strict=True) if n]


def _first_lines(row: SetRow, count: int, room_pt: float) -> tuple[str, ...]:
    if count == len(row.lines):
        return row.lines
    rest = " ".join(row.lines[count - 1:])
    return (*row.lines[: count - 1], shorten(rest, row.font, row.size_pt, room_pt))
