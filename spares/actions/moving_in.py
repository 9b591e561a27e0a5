"""Moving in from a person's own spreadsheet: looked at, brought in as one, the rest given back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from functools import partial
from typing import Any

from spares.actions.bring_in import Told, write_as_one
from spares.actions.codes import reserved_codes
from spares.actions.context import Context
from spares.actions.documents import CODED, next_number
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft
from spares.transfer.sheet.columns import FIELDS, SheetColumn, choose_columns, shown
from spares.transfer.sheet.judge import GOOD, LOOK_AT, SKIP, JudgedRow, judge_rows
from spares.transfer.sheet.read import Sheet, read_sheet
from spares.transfer.sheet.tables import comes_in, left_out_csv, sheet_tables
from spares.transfer.tables import Tables
from spares.transfer.vessel_rows import vessel_drafts

MOST_SHOWN = 1000

Chosen = Sequence[Mapping[str, Any]] | None


def look_at_sheet(ctx: Context, content: bytes, name: str = "", *, columns: Chosen = None,
                  suggestions: bool = False) -> dict[str, Any]:
    """Say what a spreadsheet would bring, row by row; nothing is written.

    Args:
        ctx: Where it happens.
        content: The file, CSV or XLSX [-].
        name: The file's name [-].
        columns: What each column holds and how it is written; what is not said is guessed.
        suggestions: Take the rows to look at as well, as they are suggested [-].

    Raises:
        InvalidInput: the file is no table, or the columns cannot be so.
    """
    sheet, found, rows = _judged(content, name, columns)
    tables = _tables(ctx, ctx.aboard(), rows, found, suggestions)
    count = Counter(row.verdict for row in rows)
    doubtful = [row for row in rows if row.verdict != GOOD]
    return {"columns": [shown(one) for one in found], "fields": list(FIELDS),
            "notes": list(sheet.notes), "rows": len(rows),
            "good": count[GOOD], "look_at": count[LOOK_AT], "skip": count[SKIP],
            "coming": sum(comes_in(row, suggestions=suggestions) for row in rows),
            "new_parts": len(tables["parts"]), "counts": len(tables["stock"]),
            "new_lockers": [row.values["name"] for row in tables["lockers"]],
            "lines": [_line(row) for row in doubtful[:MOST_SHOWN]],
            "not_shown": max(len(doubtful) - MOST_SHOWN, 0)}


def bring_sheet_in(ctx: Context, content: bytes, name: str = "", *, columns: Chosen = None,
                   suggestions: bool = False, told: Told = lambda done, of: None
                   ) -> dict[str, Any]:
    """Bring the good rows of a spreadsheet in, in one transaction that is undone as one.

    *told* is told how many changes of how many are written [1]; else as `look_at_sheet`.
    """
    sheet, found, rows = _judged(content, name, columns)
    answer = write_as_one(
        ctx.store, ctx.vessel, partial(_drafts, ctx, rows, found, suggestions),
        now_ms=ctx.now_ms, told=told)
    coming = sum(comes_in(row, suggestions=suggestions) for row in rows)
    return {"vessel": ctx.aboard([]).vessel.mark, **answer, "rows": coming,
            "left_out": len(rows) - coming}


def left_out_of_sheet(content: bytes, name: str = "", *, columns: Chosen = None,
                      suggestions: bool = False) -> bytes:
    """Give the rows that do not come in, as CSV with the reason of each."""
    sheet, _, rows = _judged(content, name, columns)
    left = [row for row in rows if not comes_in(row, suggestions=suggestions)]
    return left_out_csv(sheet, left).encode("utf-8-sig")


def _judged(content: bytes, name: str, columns: Chosen
            ) -> tuple[Sheet, tuple[SheetColumn, ...], list[JudgedRow]]:
    sheet = read_sheet(content, name)
    found = choose_columns(sheet, columns)
    return sheet, found, judge_rows(sheet, found)


def _tables(ctx: Context, aboard: Aboard, rows: list[JudgedRow],
            columns: Sequence[SheetColumn], suggestions: bool) -> Tables:
    codes = {one.code for kind in CODED for one in aboard.docs[kind].values() if one.code}
    return sheet_tables(
        [row for row in rows if comes_in(row, suggestions=suggestions)], columns, aboard,
        first_free_no={kind: next_number(aboard, kind) for kind in ("part", "locker")},
        taken_codes=codes | set(reserved_codes(ctx)))


def _drafts(ctx: Context, rows: list[JudgedRow], columns: Sequence[SheetColumn],
            suggestions: bool, vessel: str, aboard: Aboard | None, again: int) -> list[Draft]:
    there = aboard if aboard is not None else ctx.aboard()
    return vessel_drafts(_tables(ctx, there, rows, columns, suggestions), vessel, aboard=there,
                         again=again)


def _line(row: JudgedRow) -> dict[str, Any]:
    return {"row": row.number, "verdict": row.verdict, "name": row.values.get("name"),
            "remarks": [asdict(one) for one in row.remarks]}
