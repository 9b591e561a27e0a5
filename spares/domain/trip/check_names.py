"""What a request names: each thing once, and nothing that is not there.

A lot under a name that nothing else bears would drop pieces from a list without a word, so
it is refused. Parts that nobody listed go by the names that needs give them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from spares.domain.service.task import NO_COUNTER, OWN_COUNTER, Machine
from spares.domain.trip.request import WEIGHTS, TripRequest
from spares.errors import json_pointer

Problems = Iterable[tuple[str, str]]
Named = list[tuple[tuple[str | int, ...], str]]     # (steps of the pointer, part)


def own_names(request: TripRequest) -> Problems:
    """Find ids given twice, and machines and weights that are not there."""
    for kind in ("machines", "fit_points", "tasks", "parts"):
        seen: set[str] = set()
        for place, thing in enumerate(getattr(request, kind)):
            if thing.id in seen:
                yield f"#/{kind}/{place}/id", f"{thing.id!r} stands here twice"
            seen.add(thing.id)
    machines = {m.id for m in request.machines}
    for place, point in enumerate(request.fit_points):
        if point.machine not in machines:
            yield f"#/fit_points/{place}/machine", f"no machine {point.machine!r}"
        if point.weight is not None and point.weight not in WEIGHTS:
            yield f"#/fit_points/{place}/weight", "a weight is A, B or C"
    for place, (machine, reading) in enumerate(request.readings):
        if machine not in machines:
            yield f"#/readings/{place}/machine", f"no machine {machine!r}"
        if reading.minutes < 0:
            yield f"#/readings/{place}/h", "a counter cannot stand below 0"


def counters(request: TripRequest) -> Problems:
    """Find counters that are not there, or that count each other in a ring."""
    machines = {m.id: m for m in request.machines}
    for place, machine in enumerate(request.machines):
        if machine.weight not in WEIGHTS:
            yield f"#/machines/{place}/weight", "a weight is A, B or C"
        if machine.counter not in {OWN_COUNTER, NO_COUNTER, *machines}:
            yield f"#/machines/{place}/counter", f"no machine {machine.counter!r}"
        elif _goes_round(machine, machines):
            yield f"#/machines/{place}/counter", "these machines count by one another in a ring"


def _goes_round(machine: Machine, machines: Mapping[str, Machine]) -> bool:
    seen: set[str] = set()
    while machine.id not in seen:
        seen.add(machine.id)
        if machine.counter == machine.id or machine.counter not in machines:
            return False
        machine = machines[machine.counter]
    return True


def part_names(request: TripRequest) -> Problems:
    """Find parts named that nobody listed, and parts that stand in for themselves."""
    listed = {part.id for part in request.parts}
    for place, part in enumerate(request.parts):
        for number, other in enumerate(part.stand_ins):
            if other == part.id:
                yield (json_pointer("parts", place, "stand_ins", number),
                       f"{other!r} cannot stand in for itself")
    # What a need names is a line of the answer, listed or not, so a slip there is seen; pieces
    # under a name that nothing else bears would be dropped without a word.
    known = listed | {part for point in request.fit_points for part in point.takes}
    known |= _needed(request)
    offered = _offered(request) if listed else []
    for steps, part in [*(_lots(request) if known else []), *offered]:
        if part not in known:
            yield json_pointer(*steps), f"no part {part!r}"


def _needed(request: TripRequest) -> set[str]:
    return ({line.part for task in request.tasks for line in task.kit}
            | {row.part for row in request.failures} | set(request.keep))


def _lots(request: TripRequest) -> Named:
    return [(("lots", place, "part"), lot.part) for place, lot in enumerate(request.lots)]


def _offered(request: TripRequest) -> Named:
    found: Named = [(("trip", "stops", place, "sells", number), part)
                    for place, stop in enumerate(request.trip.stops)
                    for number, part in enumerate(stop.sells)]
    return found + [(("parts", place, "stand_ins", number), other)
                    for place, part in enumerate(request.parts)
                    for number, other in enumerate(part.stand_ins)]
