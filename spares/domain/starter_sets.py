"""Starter sets: the usual fit points and services of a machine of some type, to be put right."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources


@dataclass(frozen=True, slots=True)
class StarterPoint:
    """A place that takes a part: name, kind of part, what its failing does to the trip."""

    name: str
    kind: str
    weight: str


@dataclass(frozen=True, slots=True)
class StarterService:
    """Work that comes round: every so many hours [h] or months; `at` counts the points from 1."""

    what: str
    at: int | None = None
    every_h: int | None = None
    every_months: int | None = None
    cautions: str = ""


@dataclass(frozen=True, slots=True)
class StarterSet:
    """What a machine of one type usually has."""

    id: str
    name: str
    no: str
    counter: str
    hazards: str
    source: str
    points: tuple[StarterPoint, ...]
    services: tuple[StarterService, ...]
    note: str

    def told(self, tell: Callable[[str], str]) -> StarterSet:
        """Give the set with its names as *tell* says each of them, such as in another language."""
        return replace(
            self, name=tell(self.name), source=tell(self.source), note=tell(self.note),
            points=tuple(replace(one, name=tell(one.name)) for one in self.points),
            services=tuple(replace(one, what=tell(one.what)) for one in self.services))


@cache
def starter_sets() -> tuple[StarterSet, ...]:
    """Give all starter sets, in the order of the file.

    Returns:
        Each with its fit points and services; intervals in hours [h] and months.

    Source:
        Common practice, no source.

    Example:
        >>> [point.name for point in starter_sets()[0].points][:2]
        ['oil filter', 'fuel fine filter']
    """
    text = resources.files(__package__).joinpath("starter_sets.toml").read_text(encoding="utf-8")
    told = tomllib.loads(text)
    return tuple(StarterSet(
        one["id"], one["name"], one["no"], one["counter"], one["hazards"], told["source"],
        tuple(StarterPoint(**point) for point in one["point"]),
        tuple(StarterService(**service) for service in one["service"]),
        f"Fit points and services begun from a starter set: {told['source']}.")
        for one in told["set"])
