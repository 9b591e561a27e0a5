"""Services in a calendar, read back by an independent reader (PyPI icalendar)."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.transfer.export_ics import DatedService, calendar_text

MADE = datetime(2027, 3, 15, 14, 30, tzinfo=timezone(timedelta(hours=1)))
OIL = DatedService("8c0c", date(2027, 9, 18), "ENG: change oil; filter, too \\ 1/2",
                   "Kit: P001\nhot: wait", estimated=True)
TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"], include_characters="\n"),
                max_size=200)


def made(services=(OIL,), **how) -> str:
    given_ = {"vessel_name": "TANGLOPPE", "made_at": MADE, "sequence": 7, **how}
    return calendar_text(services, **given_)


def entries(text: str, kind: str) -> list:
    return icalendar.Calendar.from_ical(text).walk(kind)


def test_a_service_is_a_to_do_with_its_day():
    (entry,) = entries(made(), "VTODO")
    assert entry["UID"] == "8c0c"
    assert entry.decoded("DUE") == date(2027, 9, 18)
    assert entry["DUE"].params["VALUE"] == "DATE"
    assert entry["SUMMARY"] == OIL.summary
    assert entry["STATUS"] == "NEEDS-ACTION"
    assert entry["SEQUENCE"] == 7
    assert entry.decoded("DTSTAMP") == datetime(2027, 3, 15, 13, 30, tzinfo=UTC)


def test_a_date_that_is_an_estimate_is_called_one():
    (entry,) = entries(made(), "VTODO")
    assert entry["DESCRIPTION"] == "Estimated date.\nKit: P001\nhot: wait"
    (plain,) = entries(made([DatedService("u", date(2027, 1, 1), "x")]), "VTODO")
    assert "DESCRIPTION" not in plain


def test_it_can_be_an_all_day_event_instead():
    text = made(as_events=True)
    (entry,) = entries(text, "VEVENT")
    assert not entries(text, "VTODO")
    # RFC 5545 3.6.1: DTEND of an all-day event is the day after.
    assert (entry.decoded("DTSTART"), entry.decoded("DTEND")) == (
        date(2027, 9, 18), date(2027, 9, 19))


def test_a_colon_is_not_escaped_and_lines_end_in_crlf():
    text = made()
    assert "hot: wait" in text and "\\;" in text and "\\," in text
    assert "\n" not in text.replace("\r\n", "")


@pytest.mark.parametrize("as_events", [False, True])
@given(summary=TEXTS, description=TEXTS)
def test_any_text_survives_and_no_line_is_too_long(as_events, summary, description):
    text = made([DatedService("u", date(2027, 1, 1), summary, description)], as_events=as_events)
    # RFC 5545 3.1: lines longer than 75 octets, without the break, are folded.
    assert all(len(line) <= 75 for line in text.encode().split(b"\r\n"))
    (entry,) = entries(text, "VEVENT" if as_events else "VTODO")
    assert str(entry["SUMMARY"]) == summary
    assert str(entry.get("DESCRIPTION", "")) == description
