"""Minimum spares: failure demand, the pieces that hold a level, the best kit under limits."""

from __future__ import annotations

from spares.domain.provision.climb import Limits
from spares.domain.provision.demand import Demand, pooled
from spares.domain.provision.failure import Failure, OwnLog, Stretch, Weibull, demand
from spares.domain.provision.hull import Line
from spares.domain.provision.kit import CurvePoint, Kit, best_kit

__all__ = [
    "CurvePoint", "Demand", "Failure", "Kit", "Limits", "Line", "OwnLog", "Stretch", "Weibull",
    "best_kit", "demand", "pooled",
]
