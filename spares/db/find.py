"""Look things up by what people call them: number, code, id, words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any
from uuid import UUID

from spares.db.asking import TABLE_OF, ask, first_column, holding, is_sqlite
from spares.domain.codes import is_code, normalise
from spares.domain.identity import REF, id_of, kind_of, ref
from spares.domain.search_text import SearchLine, exact, near, number_key, words

if TYPE_CHECKING:
    from spares.db.asking import Reader

CODED = ("locker", "machine", "lot")
NUMBERED = ("machine", "point", "part", "locker", "service", "trip", "order", "trail",
            "trail-place", "joint", "drain-point")
MOST_CANDIDATES = 5000
#: The lines that a search looks through, as `_lines` reads them.
SEARCHED = "SELECT part, body, numbers FROM search WHERE vessel = :vessel"
#: Which of them hold a text, by an index that only a file has; of three characters or more.
INDEXED = "id IN (SELECT rowid FROM search_words WHERE search_words MATCH :match)"
SHORTEST_INDEXED = 3


def vessels(reader: Reader) -> list[tuple[str, str]]:
    """Give (id, mark) of the vessels, the one begun first at the head."""
    rows = ask(reader, "SELECT logbook.vessel, vessel.mark FROM logbook "
               "JOIN vessel ON vessel.id = logbook.vessel AND vessel.vessel = logbook.vessel "
               "LEFT JOIN log ON log.vessel = logbook.vessel AND log.seq = 1 "
               "ORDER BY log.at, vessel.mark")
    return [(vessel, mark or "") for vessel, mark in rows]


def head_of(reader: Reader, vessel: str) -> tuple[int, str]:
    """Give the end of a vessel's log: its last position and the head of its chain."""
    for seq, head in ask(reader, "SELECT seq, head FROM logbook WHERE vessel = :vessel",
                         vessel=vessel):
        return seq, head
    return 0, ""


def state_of(reader: Reader, vessel: str) -> tuple[Any, ...]:
    """Give what tells apart two states of a vessel: the end of her log, and its past epochs.

    An office says afterwards where rows stood in its own log: then counts can change while
    the log stays as it is.
    """
    return next((tuple(row) for row in ask(
        reader, "SELECT logbook.seq, logbook.head, setting.value FROM logbook "
        "LEFT JOIN setting ON setting.name = 'epochs ' || logbook.vessel "
        "WHERE logbook.vessel = :vessel", vessel=vessel)), (0, ""))


def by_name(reader: Reader, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    """Give the names of the documents of *kinds* that people call *asked*.

    Tried in this order, the first that finds something holds: document name or id,
    label code, number, maker's or cross number of a part, name of a trip. A code goes
    first: no number that somebody chose may lead a label to another place.
    """
    asked = asked.strip()
    for way in (_by_id, _by_code, _by_no, _by_part_number, _by_trip_name):
        if found := way(reader, vessel, asked, kinds):
            return found
    return []


def _by_id(reader: Reader, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    if REF.match(asked):
        kinds, asked = tuple(k for k in kinds if k == kind_of(asked)), id_of(asked)
    try:
        ident = str(UUID(asked))
    except ValueError:
        return []
    return _where(reader, vessel, kinds, "id = :asked", ident)


def _by_no(reader: Reader, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    wanted = tuple(kind for kind in kinds if kind in NUMBERED)
    which, more = "upper(no) = :asked", {}
    if not asked.isascii():     # a file knows of no capitals but A to Z
        which, more = f"({which} OR no IN (:asked, :typed, :small))", {
            "typed": asked, "small": asked.lower()}
    return _where(reader, vessel, wanted, which, asked.upper(), **more)


def _by_code(reader: Reader, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    code = normalise(asked)
    if not is_code(code):
        return []
    wanted = tuple(kind for kind in kinds if kind in CODED)
    return _where(reader, vessel, wanted, "code = :asked", code)


def _by_part_number(reader: Reader, vessel: str, asked: str,
                    kinds: tuple[str, ...]) -> list[str]:
    key = number_key(asked)
    if "part" not in kinds or len(key) < 2:
        return []
    narrowed, given = SEARCHED, {"vessel": vessel, "key": holding(key)}
    if is_sqlite(reader) and len(key) >= SHORTEST_INDEXED:      # whole numbers are words too
        narrowed += f" AND {INDEXED}"
        given["match"] = f'"{key}"'
    rows = ask(reader, f"{narrowed} AND numbers LIKE :key ESCAPE '/'", **given)
    return sorted(ref("part", part) for part, _, numbers in rows if key in numbers.split())


def _by_trip_name(reader: Reader, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    if "trip" not in kinds:
        return []
    # Compared here, for the same reason; a vessel has few trips.
    return sorted(ref("trip", ident) for ident, name in ask(
        reader, "SELECT id, name FROM trip WHERE vessel = :vessel AND NOT gone", vessel=vessel)
        if (name or "").lower() == asked.lower())


def _where(reader: Reader, vessel: str, kinds: tuple[str, ...], which: str, asked: str,
           **more: str) -> list[str]:
    found = []
    for kind in kinds:
        # Put in order here: to have it from the database it would go through the whole table.
        found += [ref(kind, ident) for ident in sorted(first_column(
            reader, f"SELECT id FROM {TABLE_OF[kind]} WHERE vessel = :vessel AND NOT gone "
            f"AND {which}", vessel=vessel, asked=asked, **more))]
    return found


def parts_by_words(reader: Reader, vessel: str, asked: str, limit: int, *,
                   slips: bool = True) -> tuple[str, list[str]]:
    """Find parts by typed beginnings of words, pieces of numbers, or with *slips*.

    Returns:
        How they were found (`words`, `near` or `nothing`) and their names, best first.
    """
    typed = words(asked)
    if not typed:
        return "nothing", []
    lines = _candidates(reader, vessel, typed, number_key(asked))
    if lines and (found := exact(asked, lines, limit)):
        return "words", [ref("part", key) for key in found]
    if not slips:
        return "nothing", []
    found = near(asked, _lines(ask(reader, SEARCHED, vessel=vessel)), limit)
    return ("near" if found else "nothing"), [ref("part", key) for key in found]


def _lines(rows: Iterable[Any]) -> list[SearchLine]:
    return [SearchLine(part, tuple(body.split()), tuple(numbers.split()))
            for part, body, numbers in rows]


def _candidates(reader: Reader, vessel: str, typed: tuple[str, ...],
                number: str) -> list[SearchLine]:
    """Narrow down in the database: lines that hold every typed word, or the number."""
    long = [one for one in typed if len(one) >= SHORTEST_INDEXED] if is_sqlite(reader) else []
    narrowed, given = SEARCHED, {"vessel": vessel, "most": MOST_CANDIDATES}
    if long:
        narrowed += f" AND {INDEXED}"
        given["match"] = " AND ".join(f'"{word}"' for word in long)
    for place, word in enumerate(word for word in typed if word not in long):
        narrowed += f" AND body LIKE :word{place} ESCAPE '/'"
        given[f"word{place}"] = holding(word)
    rows = list(ask(reader, f"{narrowed} LIMIT :most", **given))
    if len(number) >= 3 and re.search(r"\d", number):
        there = {row[0] for row in rows}
        rows += [row for row in ask(
            reader, f"{SEARCHED} AND numbers LIKE :number ESCAPE '/' LIMIT :most", vessel=vessel,
            number=holding(number), most=MOST_CANDIDATES) if row[0] not in there]
    return _lines(rows)
