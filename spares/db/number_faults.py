"""What stands beside the log and cannot be right: numbers of devices, and what waits.

No table of these is made from the log, so none of them is made anew with `--rebuild`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from spares.db.asking import ask

if TYPE_CHECKING:
    from spares.db.asking import Reader

_USED = ("SELECT n, n FROM log WHERE vessel = :vessel AND dev = :dev "
         "UNION SELECT n, n FROM used_number WHERE vessel = :vessel AND dev = :dev "
         "UNION SELECT first, last FROM lost_range WHERE vessel = :vessel AND dev = :dev")
_NAMED = ("SELECT id FROM used_number WHERE vessel = :vessel AND outcome = 'held'")
_HELD = "SELECT id FROM held WHERE vessel = :vessel"
_LOG = "SELECT id FROM log WHERE vessel = :vessel"


def number_faults(reader: Reader, vessel: str) -> list[str]:
    """Say in words which devices' numbers and which waiting changes cannot be right."""
    found = []
    for dev, name, next_n in ask(reader, "SELECT dev, name, next_n FROM device "
                                         "WHERE vessel = :vessel ORDER BY dev", vessel=vessel):
        free = 1
        for first, last in sorted(ask(reader, _USED, vessel=vessel, dev=dev)):
            free = max(free, last + 1) if first <= free else free
        if free != next_n:
            found.append(f"{name or dev}: {next_n} stands as its next number, and {free} is the "
                         "smallest that is free")
    for told, asked in (
            ("waits for the skipper and is in the log", f"{_HELD} AND id IN ({_LOG})"),
            ("waits for the skipper under no number", f"{_HELD} AND id NOT IN ({_NAMED})"),
            # Brought back under its own number, what waited under another waits no longer.
            ("has a number as waiting and is not there",
             f"{_NAMED} AND id NOT IN ({_HELD}) AND id NOT IN ({_LOG})")):
        found += [f"change {ident} {told}" for (ident,) in ask(reader, asked, vessel=vessel)]
    return found
