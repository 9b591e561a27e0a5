"""What a service touches: fit points, machine, and what can hurt somebody there."""

from __future__ import annotations

from typing import NamedTuple

from spares.actions.claims import caution_lines
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.cautions import EVERY_JOB, hazard_words, known_and_other
from spares.domain.trail import do_not_run

PIECES = "pieces"       # the hazard of a machine while a piece of it is missing


class JobHazards(NamedTuple):
    """Hazard words of a job: `words` call cautions and lines to tick, `besides` cautions alone.

    For those of `without_words` no caution is written: a phone may have named them.
    """

    words: tuple[str, ...]
    besides: tuple[str, ...]
    without_words: tuple[str, ...]

    @property
    def all(self) -> tuple[str, ...]:
        """All of them."""
        return (*self.words, *self.besides, *self.without_words)


def service_points(aboard: Aboard, name: str) -> list[str]:
    """Give the fit points that a service is done at, its own first."""
    one = aboard.get(name)
    more = sorted((at.point for at in aboard.by("service-at", "service").get(name, ())),
                  key=aboard.label)
    return [*([one.point] if one.point else []), *more]


def job_hazards(aboard: Aboard, service: Record, points: list[str] | None = None) -> JobHazards:
    """Give the hazards of a service: its own and its fit points', those of opening, its machine's.

    What only the machine names is besides; where nobody else names any, it is the job's own.
    *points* are those of `service_points`, where they are at hand.
    """
    if points is None:
        points = service_points(aboard, name_of("service", service))
    said = [*hazard_words(service.cautions)]
    for point in points:
        said += hazard_words(getattr(aboard.get(point), "hazards", None))
    machine = job_machine(aboard, service, points)
    of_machine = hazard_words(machine.hazards if machine is not None else None)
    if machine is not None and do_not_run(aboard, name_of("machine", machine)):
        of_machine = (*of_machine, PIECES)
    words, other = known_and_other(dict.fromkeys([*(said or of_machine), *EVERY_JOB]))
    besides, more = known_and_other(one for one in of_machine if one not in words)
    return JobHazards(words, besides, tuple(dict.fromkeys([*other, *more])))


def job_cautions(aboard: Aboard, service: Record) -> list[dict[str, str]]:
    """Give all cautions of a service in words, its own first; the closing sentence ends them."""
    found = job_hazards(aboard, service)
    *own, closing = caution_lines(found.words)
    *more, _ = caution_lines([*found.besides, *found.without_words])
    return [*own, *(one for one in more if one not in own), closing]


def job_machine(aboard: Aboard, service: Record, points: list[str]) -> Record | None:
    """Give the machine that a service is done on: its own, or its first fit point's."""
    if (found := aboard.get(service.machine)) is not None:
        return found
    at = aboard.get(points[0]) if points else None
    return aboard.get(at.machine) if at is not None else None
