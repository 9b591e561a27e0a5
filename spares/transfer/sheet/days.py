"""Days as people type them into spreadsheets, to ISO text cut to what is known."""

from __future__ import annotations

import re

from spares.transfer import cells

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_CENTURY_FROM = 70      # 70 to 99 are of the last century, common practice


def read_day(text: str, order: str) -> tuple[str | None, str]:
    """Give a day, or None; and why, where it is one that should be looked at or none at all.

    Args:
        text: As it was typed [-].
        order: Of day, month and year in this column: ymd, dmy or mdy [-].

    Example:
        >>> read_day("31.5.27", "dmy")
        ('2027-05-31', '')
        >>> read_day("06/2030", "dmy")
        ('2030-06', '')
        >>> read_day("30 Feb 2027", "dmy")
        (None, 'there is no day 2027-02-30')
    """
    plain = text.strip().lower().split(" 00:00")[0]
    why = ""
    if found := re.fullmatch(r"(\d{4})(?:[-/.](\d{1,2})(?:[-/.](\d{1,2}))?)?", plain):
        given = [found[1], found[2], found[3]]
    elif found := re.fullmatch(r"(\d{1,2})[-/.](\d{4})", plain):
        given = [found[2], found[1], None]
    elif found := re.fullmatch(r"(?:(\d{1,2})\.?[ -])?([a-z]{3})[a-z]*\.?[ -](\d{4}|\d{2})", plain):
        month = _MONTHS.index(found[2]) + 1 if found[2] in _MONTHS else 0
        given = [found[3], str(month), found[1]]
    elif found := re.fullmatch(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})", plain):
        first, second = found[1], found[2]
        swapped = order == "mdy"
        if int(second if not swapped else first) > 12 >= int(first if not swapped else second):
            swapped, why = not swapped, "day and month the other way round than in this column"
        given = [found[3], *((first, second) if swapped else (second, first))]
    else:
        return None, f"{text[:40]!r} is no day that can be read"
    year = given[0] if len(given[0]) == 4 else (
        f"{19 if int(given[0]) >= _CENTURY_FROM else 20}{given[0]}")
    parts = [year, *(f"{int(one):02d}" for one in given[1:] if one is not None)]
    try:
        return cells.parse("day", "-".join(parts)), why
    except ValueError as err:
        return None, str(err)
