"""Lengths on paper: a point is 1/72 inch."""

from __future__ import annotations

from spares.units import INCH_MM

POINTS_PER_INCH = 72
MM_PER_INCH = float(INCH_MM)
POINTS_PER_MM = POINTS_PER_INCH / MM_PER_INCH
