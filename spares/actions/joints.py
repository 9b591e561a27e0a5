"""Joint sheets: pieces from the face outwards, order of tightening, torque, what to mind."""

from __future__ import annotations

from typing import Any

from spares.actions.claims import caution_lines
from spares.actions.context import Context
from spares.actions.jobs import service_points
from spares.actions.lines import part_head
from spares.actions.tightened import records_of, to_tighten
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.cautions import SIGN
from spares.domain.joint import CROSS, passes, pieces_of, tightening_order, warnings_for
from spares.errors import SparesError

HAZARDS = ("torque",)
USUAL_PASSES = 3
NOT_KNOWN = "maker's book, page not known"


def joints(ctx: Context) -> dict[str, Any]:
    """List the joint sheets, whole, and which joints wait to be tightened again."""
    aboard = ctx.aboard()
    return {"joints": [joint_sheet(aboard, one) for one in aboard.all("joint")],
            "to_tighten": to_tighten(aboard)}


def joint(ctx: Context, asked: str) -> dict[str, Any]:
    """Show one joint sheet.

    Raises:
        NotFound, Ambiguous: it cannot be told which is meant.
    """
    return joint_sheet(ctx.aboard(), ctx.aboard().get(ctx.named(asked, "joint", "joint")))


def joints_of_service(aboard: Aboard, service: str) -> list[dict[str, Any]]:
    """Give the joint sheets of a service: its own, and those of its fit points."""
    points = service_points(aboard, service)
    return [joint_sheet(aboard, one) for one in aboard.all("joint")
            if one.service == service or one.point in points]


def joint_sheet(aboard: Aboard, one: Record) -> dict[str, Any]:
    """Describe a joint; what cannot be worked out is said in words, nothing is refused."""
    pieces = [_piece(aboard, piece) for piece in pieces_of(one.pieces)]
    said = [one.name or "", one.thread or "", one.strength or "", one.surface or "",
            one.note or "", *(f"{piece['name'] or ''} {piece['words']}" for piece in pieces)]
    point, service = aboard.get(one.point), aboard.get(one.service)
    order, order_fault = _order(one)
    return {"joint": one.no, "id": one.id, "name": one.name,
            "point": point.no if point else None, "point_name": point.name if point else None,
            "service": service.no if service else None,
            "pieces": pieces, "fasteners": one.fasteners, "rows": one.rows,
            "pattern": one.pattern, "order": order, "order_fault": order_fault,
            "passes": _passes(one) if one.fasteners else [], "torque": _torque(one),
            "thread": one.thread, "strength": one.strength, "surface": one.surface,
            "warnings": [{"sign": SIGN, "mark": told.mark, "text": told.text}
                         for told in warnings_for(*said)],
            "cautions": caution_lines(HAZARDS), "note": one.note, "pieces_text": one.pieces,
            "tightened": records_of(aboard, name_of("joint", one))}


def _piece(aboard: Aboard, piece: Any) -> dict[str, Any]:
    known = next((one for one in aboard.all("part") if one.no == piece.part), None)
    name = part_head(aboard, name_of("part", known))["name"] if known else None
    return {"count": piece.count, "part": piece.part or None, "name": name, "words": piece.words}


def _order(one: Record) -> tuple[list[int], str | None]:
    if not one.fasteners:
        return [], None
    try:
        return list(tightening_order(one.fasteners, one.pattern or CROSS, one.rows or 1)), None
    except SparesError as err:
        return [], err.detail


def _passes(one: Record) -> list[int]:
    try:
        return list(passes(one.passes or USUAL_PASSES))
    except SparesError:
        return list(passes(USUAL_PASSES))


def _torque(one: Record) -> dict[str, Any]:
    """The maker's figure goes first; else a range marked as an estimate; else nobody knows."""
    told = {"kind": "not-known", "text": NOT_KNOWN, "page": one.page or None, "low_nm": None,
            "high_nm": None, "remarks": []}
    if one.torque:
        return {**told, "kind": "book", "text": one.torque}
    if not (one.thread and one.strength):
        return told
    from spares.domain.torque import estimate_torque  # late: the fit check comes with it

    try:
        found = estimate_torque(one.thread, one.strength, one.surface or "dry-steel")
    except SparesError as err:
        return {**told, "remarks": [err.detail]}
    if found.low_nm is None or found.high_nm is None:
        return {**told, "remarks": list(found.remarks)}
    low, high = round(found.low_nm, 1), round(found.high_nm, 1)
    return {**told, "kind": "estimate", "text": f"estimate {low:g} to {high:g} N·m",
            "low_nm": low, "high_nm": high, "remarks": list(found.remarks)}
