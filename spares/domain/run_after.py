"""Test run after a job: what is read at which minute, as the note on a service says it.

A note says it in a sentence such as `Test run after it: minutes 0, 1, 5; oil bar, leaks.`, and in
a further one, if there are limits, `Limits: oil 2.5 to 5 bar.`
"""

from __future__ import annotations

import re
from dataclasses import dataclass

FROM_THE_BOOK = "from the maker's book"
_RUN = re.compile(r"\btest run\b[^:.;]*:\s*minutes?\s+([\d\s,]+);\s*(.+?)\s*(?:\.(?=\s|$)|$)",
                  re.IGNORECASE | re.MULTILINE)
_LIMITS = re.compile(r"\blimits\s*:\s*(.+?)\s*(?:\.(?=\s|$)|$)", re.IGNORECASE | re.MULTILINE)


@dataclass(frozen=True, slots=True)
class TestRun:
    """Minutes after the start [min], what is read at each, and the limits in words."""

    __test__ = False        # whatever its name, it is none of pytest's

    minutes: tuple[int, ...]
    readings: tuple[str, ...]
    limits: str = FROM_THE_BOOK


def run_noted(note: str | None) -> TestRun | None:
    """Give the test run that a service's note asks for.

    Args:
        note: As recorded; None for no note [-].

    Returns:
        Minute marks in rising order, each once, and the readings as written; None where the
        note asks for no test run. Limits that nobody wrote down are those of the maker's book.

    Raises:
        Nothing: what is not of this form is passed over.

    Source:
        Form of notes of this project.

    Example:
        >>> run_noted("Test run after it: minutes 0, 5, 1; oil bar, leaks. Limits: oil 2.5 bar.")
        TestRun(minutes=(0, 1, 5), readings=('oil bar', 'leaks'), limits='oil 2.5 bar')
        >>> run_noted("Change it warm.") is None
        True
    """
    found = _RUN.search(note or "")
    if found is None:
        return None
    minutes = tuple(sorted({int(one) for one in re.findall(r"\d+", found[1])}))
    readings = tuple(one for part in found[2].split(",") if (one := part.strip()))
    if not minutes or not readings:
        return None
    limits = _LIMITS.search(note or "")
    return TestRun(minutes, readings, limits[1] if limits else FROM_THE_BOOK)



def without_run(note: str | None) -> str:
    """Give a note without the sentences that `run_noted` reads, where they are shown apart.

    Example:
        >>> without_run("Warm. Test run after it: minutes 0, 5; oil. Limits: 2 bar. Wipe up.")
        'Warm. Wipe up.'
        >>> without_run("Limits: 2 bar.")
        'Limits: 2 bar.'
    """
    if run_noted(note) is None:
        return note or ""
    return " ".join(_LIMITS.sub("", _RUN.sub("", note or "", 1), 1).split())
