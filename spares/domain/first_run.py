"""The first-run card: what to look at, minute by minute, when a machine runs again."""

from __future__ import annotations

import tomllib
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from spares.domain.cautions import cautions_for

#: A machine that moves water or burns something is looked at when it first runs.
RUNS = ("fumes", "sea-cock", "mains", "petrol")


@dataclass(frozen=True, slots=True)
class FirstRun:
    """Minute marks [min], what to read with its unit, when to stop, what comes last."""

    minutes: tuple[int, ...]
    readings: tuple[tuple[str, str], ...]
    stop: str
    last: str


def first_run(hazards: Collection[str]) -> FirstRun | None:
    """Give the first-run card of a machine with these hazards, None where nothing runs.

    Args:
        hazards: Hazard words of the machine [-].

    Returns:
        The card [min]; limits are the maker's and are not on it.

    Source:
        Common practice, no source.

    Example:
        >>> [what for what, _ in first_run(["sea-cock"]).readings]
        ['water at the outlet', 'leaks, smoke, noise']
    """
    if not set(hazards) & set(RUNS):
        return None
    said = _file()
    readings = tuple((one["what"], one["unit"]) for one in said["reading"]
                     if set(one["hazards"]) <= set(hazards))
    (stop,) = cautions_for(["stop values"])
    return FirstRun(tuple(said["minutes"]), readings, stop.text,
                    said["last"] if "mains" in hazards else "")


@cache
def _file() -> dict[str, Any]:
    text = resources.files(__package__).joinpath("first_run.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
