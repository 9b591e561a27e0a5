"""Services with a date as to-dos for any calendar (iCalendar, RFC 5545).

A service keeps its UID for ever, so that a calendar that gets the file again
changes its entry instead of adding one. Dates worked out from running hours are
estimates, and the entry says so.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

#: RFC 5545 3.1: longest content line [octets], without its line break.
LONGEST_LINE = 75
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")


@dataclass(frozen=True)
class DatedService:
    """One service that falls due on a day; *uid* is the service's own id."""

    uid: str
    due_on: date
    summary: str
    description: str = ""
    estimated: bool = False


def calendar_text(services: Iterable[DatedService], *, vessel_name: str, made_at: datetime,
                  sequence: int, as_events: bool = False) -> str:
    """Give the file's text.

    Args:
        services: What falls due.
        vessel_name: Shown as the calendar's name.
        made_at: When the file was made; must carry its zone.
        sequence: A number that has risen with every change recorded aboard [1].
        as_events: All-day events, for calendars that drop to-dos.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Spares//Services//EN",
             f"X-WR-CALNAME:{_escaped(vessel_name)}"]
    stamp = made_at.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    for service in services:
        lines += _entry(service, stamp, sequence, as_events)
    return "".join(_folded(line) for line in [*lines, "END:VCALENDAR"])


def _entry(service: DatedService, stamp: str, sequence: int, as_event: bool) -> Iterator[str]:
    kind = "VEVENT" if as_event else "VTODO"
    yield f"BEGIN:{kind}"
    yield f"UID:{_escaped(service.uid)}"
    yield f"DTSTAMP:{stamp}"
    yield f"SEQUENCE:{sequence}"
    if as_event:
        yield f"DTSTART;VALUE=DATE:{service.due_on:%Y%m%d}"
        yield f"DTEND;VALUE=DATE:{service.due_on + timedelta(days=1):%Y%m%d}"
        yield "TRANSP:TRANSPARENT"
    else:
        yield f"DUE;VALUE=DATE:{service.due_on:%Y%m%d}"
        yield "STATUS:NEEDS-ACTION"
    yield f"SUMMARY:{_escaped(service.summary)}"
    text = ["Estimated date."] if service.estimated else []
    text += [service.description] if service.description else []
    if text:
        yield f"DESCRIPTION:{_escaped(chr(10).join(text))}"
    yield f"END:{kind}"


def _escaped(text: str) -> str:
    """Escape as RFC 5545 3.3.11 asks; a colon stays, a control character goes."""
    text = _CONTROL.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
    for sign in "\\;,":
        text = text.replace(sign, "\\" + sign)
    return text.replace("\n", "\\n")


def _folded(line: str) -> str:
    """Fold at 75 octets (RFC 5545 3.1) without cutting a character in two."""
    pieces, piece, size = [], "", 0
    for character in line:
        width = len(character.encode())
        if size + width > LONGEST_LINE:
            pieces.append(piece)
            piece, size = " ", 1
        piece, size = piece + character, size + width
    return "\r\n".join([*pieces, piece]) + "\r\n"
