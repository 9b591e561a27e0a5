"""Move the dates of a story to another day zero.

Full dates move by whole days. Where only the month or the year is known, the
distance in months or years stays: nothing is pretended about the day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class DayShift:
    """From the day zero of a file to the day zero that is wanted."""

    from_zero: date
    to_zero: date

    def moved(self, day: str) -> str:
        """Give the ISO date (2027, 2027-03 or 2027-03-15) seen from the other day zero.

        Raises:
            ValueError: it would fall outside the years 1 to 9999.
        """
        try:
            if len(day) == len("2027-03-15"):
                shift = self.to_zero - self.from_zero
                return (date.fromisoformat(day) + shift).isoformat()
            months = 12 * (self.to_zero.year - self.from_zero.year)
            if len(day) == len("2027-03"):
                months += self.to_zero.month - self.from_zero.month
            return _months_later(day, months)
        except OverflowError as err:
            raise ValueError(f"{day} would fall outside the calendar") from err


def _months_later(day: str, months: int) -> str:
    year, _, month = day.partition("-")
    years, place = divmod(int(year) * 12 + int(month or "1") - 1 + months, 12)
    if not 1 <= years <= 9999:
        raise OverflowError(day)
    return f"{years:04d}-{place + 1:02d}" if month else f"{years:04d}"
