"""Plain aligned text, readable at 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any

import click

from spares.cli.say import shown

WIDTH = 80
GAP = "  "


def put(text: str = "", indent: int = 0) -> None:
    """Print *text*, wrapped at the page's width, each line indented."""
    lead = " " * indent
    if not text:
        click.echo()
    for line in shown(text).splitlines():
        click.echo(textwrap.fill(line, WIDTH, initial_indent=lead, subsequent_indent=lead,
                                 break_long_words=False, break_on_hyphens=False))


def columns(rows: Sequence[Sequence[Any]], heads: Sequence[str] = (), indent: int = 0) -> None:
    """Print *rows* in columns; the last column takes what is left of the line and wraps.

    Numbers stand to the right; None is left blank.
    """
    texts = [[_text(cell) for cell in row] for row in rows]
    if not texts:
        return
    titled = [list(heads), *texts] if heads else texts
    last = len(texts[0]) - 1
    widths = [max(len(row[at]) for row in titled) for at in range(last)]
    right = [all(isinstance(row[at], int | float) for row in rows) for at in range(last)]
    start = indent + sum(widths) + len(GAP) * last
    for row in titled:
        cells = [cell.rjust(width) if to_right else cell.ljust(width)
                 for cell, width, to_right in zip(row, widths, right, strict=False)]
        lines = textwrap.wrap(row[last], max(WIDTH - start, 20), break_on_hyphens=False) or [""]
        click.echo((" " * indent + GAP.join([*cells, lines[0]])).rstrip())
        for line in lines[1:]:
            click.echo(" " * start + line)


def number(value: Any) -> str:
    """Write a quantity: 2, 0.5."""
    if value is None:
        return "?"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _text(cell: Any) -> str:
    if cell is None:
        return ""
    return shown(number(cell) if isinstance(cell, int | float) else cell).replace("\n", " ")
