"""JSON in, JSON out for the estimate of a tightening torque."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, fields

from spares.domain.torque import estimate_torque

_SURFACE = "dry-steel"


class Request(Schema):
    """A screw: thread, property class, surface."""

    thread = fields.String(required=True)
    strength_class = fields.String(required=True, data_key="class")
    surface = fields.String(load_default=_SURFACE)


def answer(loaded: dict[str, Any]) -> dict[str, Any]:
    """Give proof load [kN] and torque [N·m] from and to.

    Raises:
        InvalidInput: thread, class or surface not known.
        OutOfRange: a size outside the range.
    """
    found = estimate_torque(loaded["thread"], loaded["strength_class"], loaded["surface"])
    torque = None if found.low_nm is None or found.high_nm is None else {
        "low": round(found.low_nm, 1), "high": round(found.high_nm, 1)}
    return {"proof_kn": round(found.proof_kn, 2), "torque_nm": torque,
            "stress_area_mm2": round(found.stress_area_mm2, 1), "remarks": list(found.remarks)}
