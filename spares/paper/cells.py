"""The pieces that papers are built of: text, tables, boxes to tick, lines to write on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeAlias
from xml.sax.saxutils import escape

from reportlab.lib.colors import black
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, Spacer, Table

from spares.domain.cautions import NO_WORDS, Caution, closing_sentence
from spares.paper.flow import Rows
from spares.paper.language import Words
from spares.paper.lettering import BOLD, PLAIN, load_fonts, readable
from spares.paper.points import POINTS_PER_MM

BOX, TICKED = "☐", "☒"
TRIANGLE = "⚠"
BODY_PT = 10.0
_PAD_PT = 2.0

Cell: TypeAlias = "Flowable | str | list[Flowable]"


def text(
    words: str, size_pt: float = BODY_PT, *, bold: bool = False, right: bool = False,
    lead: str = "",
) -> Paragraph:
    """Make a paragraph, its `lead` in bold; what the fonts lack shows as `?`."""
    load_fonts()
    style = ParagraphStyle(
        "text", fontName=BOLD if bold else PLAIN, fontSize=size_pt, leading=size_pt * 1.2,
        alignment=TA_RIGHT if right else TA_LEFT)
    shown = escape(readable(words))
    if lead:
        shown = f'<font name="{BOLD}">{escape(readable(lead))}</font> {shown}'
    return Paragraph(shown, style)


def heading(words: str, size_pt: float = 12) -> list[Flowable]:
    """Make a heading with air above, kept with what follows."""
    line, below = text(words, size_pt, bold=True), gap(1)
    line.keepWithNext = below.keepWithNext = True
    return [gap(3), line, below]


def gap(height_mm: float) -> Spacer:
    """Make empty height."""
    return Spacer(1, height_mm * POINTS_PER_MM)


def table(
    titles: Sequence[str], rows: Sequence[Sequence[Cell]], widths_mm: Sequence[float], *,
    size_pt: float = BODY_PT, row_mm: float = 0,
) -> Rows:
    """Make a ruled table whose titles repeat on every page.

    Strings become paragraphs of `size_pt`. `row_mm` is the least height of a
    row, for a pencil. Without rows the titles stand alone.
    """
    body = [[text(cell, size_pt) if isinstance(cell, str) else cell for cell in row]
            for row in rows]
    head = [[text(title, size_pt - 1, bold=True) for title in titles]] if titles else []
    made = Rows(
        head + body, colWidths=[width * POINTS_PER_MM for width in widths_mm],
        rowHeights=None, repeatRows=len(head), splitInRow=1, hAlign="LEFT",
        minRowHeights=[0] * len(head) + [row_mm * POINTS_PER_MM] * len(body))
    rules = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0), ("RIGHTPADDING", (0, 0), (-1, -1), 4),
        ("TOPPADDING", (0, 0), (-1, -1), _PAD_PT), ("BOTTOMPADDING", (0, 0), (-1, -1), _PAD_PT),
        ("LINEBELOW", (0, 0), (-1, -1), 0.3, black),
    ]
    if head:
        rules.append(("LINEBELOW", (0, 0), (-1, 0), 0.9, black))
    made.setStyle(rules)
    return made


def framed(content: Sequence[Flowable], width_mm: float, line_pt: float = 1.5) -> Table:
    """Put a heavy line round something that must be seen."""
    made = Table([[list(content)]], colWidths=[width_mm * POINTS_PER_MM], hAlign="LEFT")
    made.setStyle([
        ("BOX", (0, 0), (-1, -1), line_pt, black),
        ("LEFTPADDING", (0, 0), (-1, -1), 6), ("RIGHTPADDING", (0, 0), (-1, -1), 6),
        ("TOPPADDING", (0, 0), (-1, -1), 4), ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
    ])
    return made


def caution_lines(say: Words, cautions: Iterable[Caution], size_pt: float = BODY_PT
                  ) -> list[Flowable]:
    """Say cautions, each behind its mark, on every paper alike."""
    return [text(say.told(one.text), size_pt, lead=caution_lead(say, say.told(one.mark)))
            for one in cautions]


def caution_lead(say: Words, mark: str, key: str = "caution.lead") -> str:
    """Give what stands before a caution: triangle, word and mark."""
    return f"{TRIANGLE} {say(key, mark=mark)}"


def own_words_lines(say: Words, words: Iterable[str], size_pt: float = BODY_PT
                    ) -> list[Flowable]:
    """Say hazards for which no caution is written, as somebody named them."""
    return [text(say.told(NO_WORDS), size_pt, lead=caution_lead(say, word))
            for word in dict.fromkeys(words)]


def closing_line(say: Words, size_pt: float = BODY_PT) -> Paragraph:
    """Give the sentence that ends the cautions: rules, book and licensed trade decide."""
    return text(say.told(closing_sentence()), size_pt, bold=True)


def stop_lines(say: Words, machine: str, why: str, size_pt: float = 11) -> list[Flowable]:
    """Give the mark of a machine that must not run, and why."""
    return [text(f"{TRIANGLE} {say('common.stop', machine=machine)}", size_pt + 4, bold=True),
            text(why, size_pt)]


def blanks(labels: Sequence[str], widths_mm: Sequence[float], *, size_pt: float = BODY_PT,
           height_mm: float = 10) -> Table:
    """Make named blanks side by side, each with a line for a pencil."""
    made = Table(
        [[text(label, size_pt) for label in labels]],
        colWidths=[width * POINTS_PER_MM for width in widths_mm],
        rowHeights=[height_mm * POINTS_PER_MM], hAlign="LEFT")
    made.setStyle([
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1), ("LINEBELOW", (0, 0), (-1, -1), 0.5, black),
    ])
    return made


def side_by_side(lines: Sequence[Flowable], width_mm: float) -> Table:
    """Put lines into two columns, read row by row, where height is short."""
    rows = [[*lines[at:at + 2], *([""] if at + 1 == len(lines) else [])]
            for at in range(0, len(lines), 2)]
    made = Table(rows, colWidths=[width_mm / 2 * POINTS_PER_MM] * 2, hAlign="LEFT")
    made.setStyle([
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 4), ("TOPPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0)])
    return made
