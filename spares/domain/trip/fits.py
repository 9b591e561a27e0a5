"""Which part may sit where, as fitted today: what is stranded, what stands in, how it weighs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from spares.domain.service.task import FitPoint
from spares.domain.trip.request import Part, TripRequest

_MIDDLE_WEIGHT = "B"


@dataclass
class Fits:
    """The points of a request, seen from the parts."""

    points: Mapping[str, FitPoint]
    parts: Mapping[str, Part]
    living: dict[str, list[FitPoint]] = field(default_factory=dict)
    stranded: set[str] = field(default_factory=set)
    weights: dict[str, str] = field(default_factory=dict)

    @classmethod
    def of(cls, request: TripRequest) -> Fits:
        """Read the points, tasks and failure figures of a request."""
        fits = cls({p.id: p for p in request.fit_points}, {p.id: p for p in request.parts})
        retired: set[str] = set()
        for point in request.fit_points:
            for part in point.takes:
                if point.retired:
                    retired.add(part)
                else:
                    fits.living.setdefault(part, []).append(point)
        fits.stranded = retired - fits.living.keys()
        fits._weigh(request)
        return fits

    def part(self, part: str) -> Part:
        """What is known about buying a part; a part without a line of its own knows nothing."""
        return self.parts.get(part) or Part(part)

    def is_retired(self, point: str | None) -> bool:
        """Tell whether a place is no longer fitted; no place never retires."""
        return point is not None and self.points[point].retired

    def weight(self, part: str) -> str:
        """The weight of a line: that of the most important place that needs it."""
        return self.weights.get(part, _MIDDLE_WEIGHT)

    def choices(self, part: str, point: str | None = None, machine: str | None = None
                ) -> tuple[str, ...]:
        """The parts that can serve a need for *part*, itself first.

        At a point a stand-in must be able to sit there; for a machine, at one of its points
        that take the part; otherwise at any living point. A stand-in of which nobody
        recorded where it sits goes by the word of whoever called it one.
        """
        own = () if part in self.stranded else (part,)
        if part not in self.parts or not self.parts[part].stand_ins:
            return own
        places = self.living.get(part, [])
        if point is not None and any(p.id == point for p in places):
            places = [self.points[point]]
        elif machine is not None:
            places = [p for p in places if p.machine == machine] or places
        return own + tuple(other for other in dict.fromkeys(self.part(part).stand_ins)
                           if other != part and self._may_sit(other, places))

    def _may_sit(self, other: str, places: list[FitPoint]) -> bool:
        if other in self.stranded:
            return False
        sits = self.living.get(other)
        return sits is None or not places or any(other in p.takes for p in places)

    def _weigh(self, request: TripRequest) -> None:
        machines = {m.id: m.weight for m in request.machines}
        for part, places in self.living.items():
            for point in places:
                self._note(part, point.weight or machines[point.machine])
        for task in request.tasks:
            point = self.points.get(task.fit_point or "")
            if point is None or not point.retired:
                weight = (point.weight if point else None) or machines[task.machine]
                for line in task.kit:
                    self._note(line.part, weight)
        for row in request.failures:
            known = any(p.machine == row.machine for p in self.living.get(row.part, ()))
            if row.machine is not None and not known:       # a point weighs more exactly
                self._note(row.part, machines[row.machine])

    def _note(self, part: str, weight: str) -> None:
        self.weights[part] = min(weight, self.weights.get(part, weight))
