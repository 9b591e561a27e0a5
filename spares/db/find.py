"""Look things up by what people call them: number, code, id, words."""

from __future__ import annotations

import re
from typing import Any
from uuid import UUID

from sqlalchemy import func, select, text
from sqlmodel import Session, col

from spares.db.tables import DOCUMENT_TABLES, Logbook, LogEntry, Search
from spares.domain.codes import is_code, normalise
from spares.domain.documents import REF
from spares.domain.identity import id_of, kind_of, ref
from spares.domain.search_text import SearchLine, exact, near, number_key, words

CODED = ("locker", "machine", "lot")
NUMBERED = ("machine", "point", "part", "locker", "service", "trip", "order", "trail",
            "trail-place", "joint", "drain-point")
MOST_CANDIDATES = 5000


def vessels(session: Session) -> list[tuple[str, str]]:
    """Give (id, mark) of the vessels, the one begun first at the head."""
    table = DOCUMENT_TABLES["vessel"]
    rows = session.execute(
        select(col(Logbook.vessel), table.mark).join(table, table.id == Logbook.vessel)
        .outerjoin(LogEntry, (col(LogEntry.vessel) == Logbook.vessel) & (LogEntry.seq == 1))
        .order_by(col(LogEntry.at), table.mark))
    return [(vessel, mark or "") for vessel, mark in rows]


def by_name(session: Session, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    """Give the names of the documents of *kinds* that people call *asked*.

    Tried in this order, the first that finds something holds: document name or id,
    label code, number, maker's or cross number of a part, name of a trip. A code goes
    first: no number that somebody chose may lead a label to another place.
    """
    asked = asked.strip()
    for way in (_by_id, _by_code, _by_no, _by_part_number, _by_trip_name):
        if found := way(session, vessel, asked, kinds):
            return found
    return []


def _by_id(session: Session, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    if REF.match(asked):
        kinds, asked = tuple(k for k in kinds if k == kind_of(asked)), id_of(asked)
    try:
        ident = str(UUID(asked))
    except ValueError:
        return []
    return _where(session, vessel, kinds, lambda table: table.id == ident)


def _by_no(session: Session, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    wanted = tuple(kind for kind in kinds if kind in NUMBERED)
    return _where(session, vessel, wanted,
                  lambda table: func.upper(table.no) == asked.upper())


def _by_code(session: Session, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    code = normalise(asked)
    if not is_code(code):
        return []
    return _where(session, vessel, tuple(kind for kind in kinds if kind in CODED),
                  lambda table: table.code == code)


def _by_part_number(session: Session, vessel: str, asked: str,
                    kinds: tuple[str, ...]) -> list[str]:
    key = number_key(asked)
    if "part" not in kinds or len(key) < 2:
        return []
    rows = session.execute(select(col(Search.part), col(Search.numbers)).where(
        col(Search.vessel) == vessel, col(Search.numbers).contains(key, autoescape=True)))
    return sorted(ref("part", part) for part, numbers in rows if key in numbers.split())


def _by_trip_name(session: Session, vessel: str, asked: str, kinds: tuple[str, ...]) -> list[str]:
    wanted = tuple(kind for kind in kinds if kind == "trip")
    return _where(session, vessel, wanted, lambda table: func.lower(table.name) == asked.lower())


def _where(session: Session, vessel: str, kinds: tuple[str, ...], which: Any) -> list[str]:
    found = []
    for kind in kinds:
        table = DOCUMENT_TABLES[kind]
        # Put in order here: to have it from the database it would go through the whole table.
        found += [ref(kind, ident) for ident in sorted(session.execute(select(table.id).where(
            table.vessel == vessel, table.gone.is_(False), which(table))).scalars())]
    return found


def parts_by_words(session: Session, vessel: str, asked: str, limit: int, *,
                   slips: bool = True) -> tuple[str, list[str]]:
    """Find parts by typed beginnings of words, pieces of numbers, or with *slips*.

    Returns:
        How they were found (`words`, `near` or `nothing`) and their names, best first.
    """
    typed = words(asked)
    if not typed:
        return "nothing", []
    lines = _candidates(session, vessel, typed, number_key(asked))
    if lines and (found := exact(asked, lines, limit)):
        return "words", [ref("part", key) for key in found]
    if not slips:
        return "nothing", []
    found = near(asked, _lines(session.execute(_searching(vessel))), limit)
    return ("near" if found else "nothing"), [ref("part", key) for key in found]


def _searching(vessel: str) -> Any:
    return select(col(Search.part), col(Search.body), col(Search.numbers)).where(
        col(Search.vessel) == vessel)


def _lines(rows: Any) -> list[SearchLine]:
    return [SearchLine(part, tuple(body.split()), tuple(numbers.split()))
            for part, body, numbers in rows]


def _candidates(session: Session, vessel: str, typed: tuple[str, ...],
                number: str) -> list[SearchLine]:
    """Narrow down in the database: lines that hold every typed word, or the number."""
    query = _searching(vessel)
    long = [word for word in typed if len(word) >= 3]
    if session.get_bind().dialect.name == "sqlite" and long:
        match = " AND ".join(f'"{word}"' for word in long)
        ids = select(text("rowid")).select_from(text("search_words")).where(
            text("search_words MATCH :match").bindparams(match=match))
        by_words: Any = col(Search.id).in_(ids)
    else:
        by_words = None
    short = [word for word in typed if len(word) < 3] if by_words is not None else list(typed)
    clauses = [col(Search.body).contains(word, autoescape=True) for word in short]
    narrowed = query.where(*([by_words] if by_words is not None else []), *clauses)
    rows = list(session.execute(narrowed.limit(MOST_CANDIDATES)))
    if len(number) >= 3 and re.search(r"\d", number):
        there = {row[0] for row in rows}
        rows += [row for row in session.execute(query.where(
            col(Search.numbers).contains(number, autoescape=True)).limit(MOST_CANDIDATES))
            if row[0] not in there]
    return _lines(rows)
