"""What is lent to other vessels and borrowed from them, and the slips that go with it."""

from __future__ import annotations

from collections import Counter
from typing import Any

from spares.actions.amounts import moment, plain
from spares.actions.context import Context
from spares.db.history import LogLine, act_of, entry
from spares.db.lending import moves_at, moves_of, told
from spares.db.logbook import vessel_head
from spares.domain.aboard import Aboard, name_of
from spares.domain.slip import as_lines, sealed
from spares.errors import NotFound

#: How lots and movements of a loan say which.
MARK = "loan "


def loans(ctx: Context) -> dict[str, Any]:
    """List what was lent to others and borrowed from them, and how much of it went back.

    What was moved back by hand, without a slip, is of the loan of that place made first that is
    still out.
    """
    aboard = ctx.aboard()
    places = {name_of("locker", one): one.lent_to for one in aboard.all("locker") if one.lent_to}
    with ctx.store.looking() as reader:
        rows = moves_at(reader, ctx.vessel, list(places))
    lent = _lent(aboard, rows, places)
    borrowed = {loan: _borrowed(ctx, aboard, loan) for loan in dict.fromkeys(
        one.batch[len(MARK):] for one in aboard.all("lot") if (one.batch or "").startswith(MARK))}
    return {"lent": [_shown(line) for line in lent.values()],
            "borrowed": [_shown(line) for line in borrowed.values() if line["q"]]}


def _lent(aboard: Aboard, rows: list[LogLine], places: dict[str, str | None]
          ) -> dict[str, dict[str, Any]]:
    lent: dict[str, dict[str, Any]] = {}
    cells: dict[str, tuple[str, str]] = {}
    by_slip: Counter[str] = Counter()
    by_hand: Counter[tuple[str, str]] = Counter()
    for row in rows:
        body, loan = told(row), row.batch or row.id
        if row.kind != "moved":
            continue
        part = aboard.kept_parts.get(body["part"], body["part"])
        if body["to"] in places:
            line = lent.setdefault(loan, {
                "loan": loan, "who": places[body["to"]], "on": moment(row.at)[:10],
                **_head(aboard, part), "back_by": body.get("back_by"), "q": 0, "back_q": 0})
            line["q"] += body["q"]
            cells[loan] = body["to"], part
        elif (note := body.get("note") or "").startswith(MARK):
            by_slip[note.removeprefix(MARK)] += body["q"]
        else:
            by_hand[body["from"], part] += body["q"]
    for loan, line in lent.items():
        share = max(0, min(by_hand[cells[loan]], line["q"] - by_slip[loan]))
        by_hand[cells[loan]] -= share
        line["back_q"] = by_slip[loan] + share
    return lent


def slip_of(ctx: Context, loan: str) -> dict[str, Any]:
    """Write the slip of a loan: what was lent, or at the borrower's what went back so far.

    Raises:
        NotFound: no such loan, or nothing of it went back yet.
    """
    aboard = ctx.aboard()
    if lots_of(aboard, loan):
        return _return_slip(ctx, aboard, loan)
    with ctx.store.looking() as reader:
        row = entry(reader, ctx.vessel, loan)
        rows = [told(one) for one in act_of(reader, row) if one.kind == "moved"
                ] if row is not None else []
        mark, name = vessel_head(reader, ctx.vessel)
    place = aboard.get(rows[0]["to"]) if rows else None
    if place is None or not place.lent_to:
        raise NotFound("loan: no such loan is recorded here",
                       errors=[{"pointer": "#/loan", "detail": "not found"}])
    return sealed("loan", loan, {"id": ctx.vessel, "mark": mark, "name": name}, place.lent_to,
                  ctx.today.isoformat(), _part_facts(aboard, rows[0]["part"]),
                  [{"q": body["q"], **_lot_facts(aboard, body["lot"])} for body in rows])


def lots_of(aboard: Aboard, loan: str) -> list[str]:
    """Name the lots that were borrowed under a loan."""
    return [name_of("lot", one) for one in aboard.all("lot") if one.batch == MARK + loan]


def part_of(aboard: Aboard, lot: str) -> str:
    """Name the part that a borrowed lot is of."""
    return next(str(one.part) for one in aboard.all("lot") if name_of("lot", one) == lot)


def _return_slip(ctx: Context, aboard: Aboard, loan: str) -> dict[str, Any]:
    lots = lots_of(aboard, loan)
    given = _given_back(ctx, loan, lots)
    if not given:
        raise NotFound("loan: nothing of it was given back yet",
                       errors=[{"pointer": "#/loan", "detail": "not given back"}])
    with ctx.store.looking() as reader:
        mark, name = vessel_head(reader, ctx.vessel)
    return sealed("return", loan, {}, str(name or mark or ""), ctx.today.isoformat(),
                  _part_facts(aboard, part_of(aboard, lots[0])),
                  [{"q": q} for q in as_lines(given)])


def _given_back(ctx: Context, loan: str, lots: list[str]) -> list[int]:
    """Give what went back, each movement for itself, in the order of their stamps."""
    with ctx.store.looking() as reader:
        rows = sorted(moves_of(reader, ctx.vessel, lots), key=lambda row: row.at)
    return [told(row)["q"] for row in rows
            if row.kind == "landed" and told(row).get("note") == MARK + loan]


def _borrowed(ctx: Context, aboard: Aboard, loan: str) -> dict[str, Any]:
    lots = lots_of(aboard, loan)
    note = next((one.note for one in aboard.all("lot") if name_of("lot", one) == lots[0]), "")
    who, _, on = str(note or "").removeprefix("Borrowed from ").rpartition(", ")
    back = sum(_given_back(ctx, loan, lots))
    there = sum(one.quantity for one in aboard.lying if one.lot in lots)
    return {"loan": loan, "who": who, "on": on, "back_by": None,
            **_head(aboard, part_of(aboard, lots[0])), "q": there + back, "back_q": back}


def _shown(line: dict[str, Any]) -> dict[str, Any]:
    return {**{name: value for name, value in line.items() if not name.endswith("q")},
            "quantity": plain(line["q"]), "back": plain(line["back_q"])}


def _head(aboard: Aboard, part: str) -> dict[str, Any]:
    record = aboard.get(part)
    return {"part": aboard.label(part), "name": record.name if record else None}


def _part_facts(aboard: Aboard, part: str) -> dict[str, Any]:
    record = aboard.get(part)
    return {name: getattr(record, name, None)
            for name in ("name", "maker", "number", "kind", "unit")} | (
        {} if record and record.name else {"name": aboard.label(part)})


def _lot_facts(aboard: Aboard, lot: str) -> dict[str, Any]:
    record = aboard.get(lot) if lot else None
    return {"condition": record.condition if record else None,
            "expires": record.expires if record else None}
