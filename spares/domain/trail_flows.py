"""Flow orders: where a piece may have been carried to, as a machine's note or a starter says.

A note says it in a sentence such as `Sea-water trail: strainer, pump HBR-03, oil cooler inlet.`
Starters are data, in `trail_flows.toml`; they are a beginning to put right, never a proof.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources

_SENTENCE = re.compile(r"([^.:;\n]*\btrail)\s*:\s*(.+?)\s*(?:\.(?=\s|$)|$)",
                       re.IGNORECASE | re.MULTILINE)
_BETWEEN = re.compile(r"\s*(?:,|;|→|->)\s*")


@dataclass(frozen=True, slots=True)
class FlowPlace:
    """A place in flow order: its name, what opens it, what seals it again, its fit point."""

    name: str
    opens: str = ""
    seal: str = ""
    point: str = ""


@dataclass(frozen=True, slots=True)
class Flow:
    """A flow order: how it is named, where it is from, its places."""

    id: str
    name: str
    source: str
    places: tuple[FlowPlace, ...]
    hints: tuple[str, ...] = ()


@cache
def starters() -> tuple[Flow, ...]:
    """Give the starter flow orders, in the order of the file."""
    text = resources.files(__package__).joinpath("trail_flows.toml").read_text(encoding="utf-8")
    told = tomllib.loads(text)
    return tuple(Flow(one["id"], one["name"], told["source"],
                      tuple(FlowPlace(**place) for place in one["place"]), tuple(one["hints"]))
                 for one in told["flow"])


def fitting_first(words: Iterable[str]) -> tuple[Flow, ...]:
    """Order the starters by how many of their hints stand in some words, most first.

    Args:
        words: Texts about the machine and the place where the piece came out [-].

    Returns:
        All starters; those that fit equally in the order of the file [-].

    Source:
        Common practice, no source.

    Example:
        >>> fitting_first(["Workboat outboard, petrol"])[0].id
        'sea-water-direct'
    """
    text = " ".join(words).casefold()
    return tuple(sorted(starters(), key=lambda one: -sum(
        bool(re.search(rf"(?<!\w){re.escape(hint)}(?!\w)", text)) for hint in one.hints)))


def noted_flows(note: str | None, points: Collection[str] = ()) -> tuple[Flow, ...]:
    """Give the flow orders that a machine's note names.

    Args:
        note: As recorded; None for no note [-].
        points: Numbers of the machine's fit points; one that stands in a place is its fit
            point [-].

    Returns:
        One flow for each sentence `<what> trail: a, b, c.`; what opens and seals a place is
        taken from a starter's place of the same name [-].

    Source:
        Form of notes of this project.

    Example:
        >>> flow, = noted_flows("Sea-water trail: pump X-03, oil cooler inlet.", ["X-03"])
        >>> [(one.name, one.point) for one in flow.places]
        [('pump X-03', 'X-03'), ('oil cooler inlet', '')]
    """
    found = []
    for at, (name, places) in enumerate(_SENTENCE.findall(note or ""), start=1):
        named = [_known(place, points) for place in _BETWEEN.split(places) if place]
        found.append(Flow(f"note-{at}", name.strip(), "the machine's note", tuple(named)))
    return tuple(found)


def downstream(places: Sequence[FlowPlace], points: Sequence[str]) -> tuple[FlowPlace, ...]:
    """Give the places after the one where the piece came out.

    Args:
        places: In flow order [-].
        points: Numbers of the fit point where it came out and of those it sits in, innermost
            first [-].

    Returns:
        What comes after the first of them that is named; else after the first pump; else
        all [-].

    Source:
        Common practice, no source.

    Example:
        >>> downstream([FlowPlace("strainer"), FlowPlace("pump X-03"), FlowPlace("elbow")], [])
        (FlowPlace(name='elbow', opens='', seal='', point=''),)
    """
    by_point = [at for point in points for at, one in enumerate(places) if one.point == point]
    by_name = [at for at, one in enumerate(places) if re.match(r"pump(?! outlet)\b", one.name)]
    after = next(iter([*by_point, *by_name]), -1)
    return tuple(places[after + 1:])


def _known(name: str, points: Collection[str]) -> FlowPlace:
    point = next((one for one in points if re.search(rf"\b{re.escape(one)}\b", name)), "")
    plain = " ".join(name.replace(point, "").split()).casefold() if point else name.casefold()
    like = next((place for flow in starters() for place in flow.places
                 if place.name.casefold() == plain), FlowPlace(""))
    return replace(like, name=name, point=point)
