"""Where an answer of the fit check turns: the last number before the edge, and the first behind it.

    python -m tests.client.fit_edges --write        # find them anew, in half a minute

Each number of each sourced case is moved up and down until some row comes out otherwise; the edge
is then closed in on to a thousandth. Once as the case stands, once read only to 0.3 of its unit.
`fit_edges.json` keeps the places and the numbers, never an answer: what is right at an edge is for
the cases to say, and that phone and server say the same there is for the test of the twins. A case
in which nothing turns is kept with no numbers, so that one never looked at shows.
"""

from __future__ import annotations

import copy
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.client.fit_neighbours import Request, cases

FOUND = Path(__file__).with_suffix(".json")
SPANS = (0.5, 2, 8, 40)     # how far a number is moved, in turn, until something changes
COARSE = 0.3


def edges() -> list[Request]:
    """Give the requests on both sides of every edge, always the same."""
    kept = json.loads(FOUND.read_text(encoding="utf-8"))
    by_name = dict(cases())
    return [_moved(by_name[name], path, number, u)
            for name, path, u, numbers in kept for number in numbers]


def places_kept() -> dict[str, list[list[Any]]]:
    """Give the places at which each case was looked at; none where nothing turns there."""
    found: dict[str, list[list[Any]]] = {}
    for name, path, _u, numbers in json.loads(FOUND.read_text(encoding="utf-8")):
        found.setdefault(name, []).extend([path] if numbers else [])
    return found


def places_now() -> dict[str, list[list[Any]]]:
    """Give the places of the cases that have any number."""
    return {name: places for name, given in cases() if (places := list(_places(given)))}


def _moved(given: Request, path: list[Any], number: float, u: float) -> Request:
    """Give the case with another number at *path*, read to *u*."""
    request = copy.deepcopy(given)
    holder = request
    for key in path[:-1]:
        holder = holder[key]
    holder[path[-1]] = number
    if u and path[0] == "offers":
        holder[path[-1]] = {"value": number, "u": u} if len(path) == 2 else number
        if len(path) > 2:
            holder["u"] = u
    elif u and path[0] == "requires":
        request["requires"][path[1]]["u"] = u
    return request


def _places(given: Request) -> Iterator[list[Any]]:
    """Give the way to every number that an edge may depend on."""
    for n, row in enumerate(given.get("requires", ())):
        yield from _numbers(row.get("value"), ["requires", n, "value"])
    for name, value in (given.get("offers") or {}).items():
        yield from _numbers(value, ["offers", name])
    yield from _numbers(given.get("place") or {}, ["place"])


def _numbers(value: Any, path: list[Any]) -> Iterator[list[Any]]:
    if isinstance(value, dict):
        for name, item in value.items():
            if name not in ("u", "unit", "origin"):
                yield from _numbers(item, [*path, name])
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield path


def _find(given: Request) -> Iterator[tuple[list[Any], float, list[float]]]:
    for path in _places(given):
        for u in (0, COARSE):
            if u and path[0] == "place":
                continue
            found: set[float] = set()
            for way in (-1, 1):
                found |= set(_close_in(given, path, u, way))
            if found:
                yield path, u, sorted(found)


def _close_in(given: Request, path: list[Any], u: float, way: int) -> Iterator[float]:
    holder: Any = given
    for key in path:
        holder = holder[key]
    near = round(holder, 3)
    before = _outcomes(_moved(given, path, near, u))
    for span in SPANS:
        far = _whole(round(near + way * span, 3))
        if far < 0 or _outcomes(_moved(given, path, far, u)) == before:
            continue
        low, high = round(near * 1000), round(far * 1000)
        while abs(high - low) > 1:
            middle = (low + high) // 2
            if _outcomes(_moved(given, path, _whole(middle / 1000), u)) == before:
                low = middle
            else:
                high = middle
        yield _whole(low / 1000)
        yield _whole(high / 1000)
        return


def _outcomes(request: Request) -> Any:
    from tests.client.test_fit_twin import _answer
    answer = _answer(request)
    return [(row["attr"], row["outcome"]) for row in answer["rows"]] if "rows" in answer else answer


def _whole(size: float) -> float | int:
    return int(size) if size == int(size) else size


def write() -> int:
    """Find every edge and keep it; give how many numbers there are."""
    kept = [one for name, given in cases() if any(_places(given))
            for one in [[name, *found] for found in _find(given)] or [[name, [], 0, []]]]
    lines = ",\n".join(json.dumps(one, ensure_ascii=False) for one in kept)
    FOUND.write_text(f"[\n{lines}\n]\n", encoding="utf-8")
    return sum(len(one[3]) for one in kept)


if __name__ == "__main__" and "--write" in sys.argv:
    print(f"{write()} numbers in {FOUND.name}")
