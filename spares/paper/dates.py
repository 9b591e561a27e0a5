"""Dates as they are read on paper: the month is a word, what is not known is left out."""

from __future__ import annotations

import re
from datetime import datetime

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun",
          "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_ISO = re.compile(r"(\d{4})(?:-(0[1-9]|1[0-2])(?:-(\d{2}))?)?")

_DAY = re.compile(r"\b\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])\b")


def date_text(date: str) -> str:
    """Give `2031-06-30` as 30 Jun 2031, `2031-06` as Jun 2031; other text as it is."""
    match = _ISO.fullmatch(date.strip())
    if match is None:
        return date.strip()
    year, month, day = match.groups()
    parts = [str(int(day))] if day else []
    parts += [MONTHS[int(month) - 1]] if month else []
    return " ".join([*parts, year])


def dated_text(text: str) -> str:
    """Give a sentence with the ISO days in it as they are read on paper.

    Example:
        >>> dated_text("2 in L04 usable to 2027-03-20 only")
        '2 in L04 usable to 20 Mar 2027 only'
    """
    return _DAY.sub(lambda match: date_text(match[0]), text)


def moment_text(moment: datetime) -> str:
    """Give a moment as 15 Mar 2027, 18:05, with the zone when it is known."""
    zone = f" {moment:%Z}" if moment.tzinfo else ""
    return f"{date_text(moment.date().isoformat())}, {moment:%H:%M}{zone}"
