"""Slips of a made-up other vessel, for a phone and the server to take in."""

from __future__ import annotations

from typing import Any

from spares.domain.slip import sealed

LENT = "00000000-0000-4000-8000-0000000000d1"
BORROWED = "00000000-0000-4000-8000-0000000000d2"
HER = {"id": "00000000-0000-4000-8000-0000000000d9", "mark": "HRE", "name": "HESTEREJE"}
BELT = {"name": "Fan belt", "maker": "Krustrand", "number": "KR 9-900", "unit": "pcs"}


def slip_from_her(loan: str, quantities: tuple[int, ...], part: dict[str, Any] = BELT,
                  lender: dict[str, Any] = HER) -> dict[str, Any]:
    """Write what she lends [thousandths], the first lot of it dated."""
    lines = [{"q": q, "condition": None if at else "used-good",
              "expires": None if at else "2031-06"} for at, q in enumerate(quantities)]
    return sealed("loan", loan, lender, "TGL", "2027-03-14", part, lines)


def back_from_her(loan: str, *times: int) -> dict[str, Any]:
    """Write what she gave back so far, each time for itself [thousandths]."""
    return sealed("return", loan, {}, "HESTEREJE", "2027-04-01", {"name": "Hose clip"},
                  [{"q": q} for q in times])
