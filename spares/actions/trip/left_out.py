"""Left out: rows of a request that no plan can count go, and what was wrong in them is said.

An older version, or another device's, may have taken a figure that today's limits refuse. One
such row shall not stop a plan or a due list: it goes without the row, and says which and why.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from spares.errors import InvalidInput, OutOfRange

Answer = TypeVar("Answer")
Row = dict[str, Any]

#: What a figure is called, with its value.
_CALLED = {
    "every_h": "interval of {} h", "every_months": "interval of {} months",
    "first_h": "first interval of {} h", "quantity": "quantity of {}", "share": "share of {}",
    "lead_days": "lead time of {} days", "pack": "pack of {}", "cost": "price of {}",
    "mass_kg": "mass of {} kg", "at_h": "{} h", "h": "{} h", "ready_days": "{} days to get ready",
    "fuel": "fuel figures", "on": "date {}", "expires": "date {}", "reserved": "{} reserved"}
#: Rows that go as a whole; of the others only the figure goes, and is not known then.
_WHOLE_ROWS = ("tasks", "records", "readings", "lots", "failures")
_FIELDS = {"parts": ("lead_days", "pack", "cost", "mass_kg"), "machines": ("fuel",)}


@dataclass
class LeftOut:
    """What was left out: words about each, by service, and by part that may need more for it."""

    words: list[str] = field(default_factory=list)
    services: dict[str, str] = field(default_factory=dict)
    parts: dict[str, list[str]] = field(default_factory=dict)
    failures: list[Row] = field(default_factory=list)

    def of_part(self, part: str, words: str) -> None:
        """Note that nobody can say how many of a part are enough, and why."""
        self.parts.setdefault(part, []).append(words)


def answered(request: Row, work: Callable[[Row], Answer]) -> tuple[Answer, Row, LeftOut]:
    """Answer a request, without those rows that cannot be counted if there are any.

    Args:
        request: A request for `trip` or `service` [as they take it].
        work: What answers it [-].

    Returns:
        The answer, the request that was answered, and what was left out of it [-].

    Raises:
        InvalidInput, OutOfRange: what is wrong is no row that can go.
    """
    left = LeftOut()
    while True:
        try:
            return work(request), request, left
        except (InvalidInput, OutOfRange) as err:
            smaller = _without(request, err.facts.get("errors") or [], left)
            if smaller is None or smaller == request:
                raise
            request = smaller


def _without(request: Row, faults: list[dict[str, str]], left: LeftOut) -> Row | None:
    """Give the request without the rows at fault; None if one of the faults is no such row."""
    paths = {_steps(one["pointer"]): one["detail"] for one in faults}
    goes: dict[str, set[int]] = {}
    made = {**request, **{name: list(request[name]) for name in
                          (*_WHOLE_ROWS, *_FIELDS) if name in request}}
    for steps, detail in paths.items():
        if not _take(made, steps, detail, goes, left):
            return None
    gone = {made["tasks"][place]["id"] for place in goes.get("tasks", ())}
    made["tasks"] = [{**row, "kit": [line for line in row.get("kit", []) if line is not None]}
                     for row in made["tasks"]]
    for name, places in goes.items():
        made[name] = [row for place, row in enumerate(made[name]) if place not in places]
    if gone:
        made["records"] = [row for row in made.get("records", []) if row["task"] not in gone]
        if "failures" in made:
            made["failures"] = [{key: value for key, value in row.items() if key != "renewed_by"}
                                if row.get("renewed_by") in gone else row
                                for row in made["failures"]]
    return made if paths else None


def _take(made: Row, steps: tuple[str, ...], detail: str, goes: dict[str, set[int]],
          left: LeftOut) -> bool:
    """Take out what one fault points at; False if it is nothing that can go."""
    name, place, last = steps[0], steps[1] if len(steps) > 1 else "", steps[-1]
    if name in ("keep", "trip"):
        return _take_from_trip(made, steps, detail, left)
    if name not in made or not place.isdigit() or int(place) >= len(made[name]):
        return False
    row = made[name][int(place)]
    if name == "tasks" and len(steps) > 3 and steps[2] == "kit":
        return _take_kit_line(made, row, steps, detail, left)
    if name in _FIELDS and len(steps) > 2 and steps[2] in _FIELDS[name]:
        left.words.append(f"{_named(row)}, {_figure(row, steps[2])}: {detail}; taken as not known")
        made[name][int(place)] = {key: value for key, value in row.items() if key != steps[2]}
        return True
    if name not in _WHOLE_ROWS:
        return False
    if int(place) not in goes.setdefault(name, set()):
        figure = f", {_figure(row, last)}" if last in row else ""
        words = f"{_subject(made, name, row)}{figure}: {detail}"
        left.words.append(f"{words}; left out")
        if name == "failures":
            left.failures.append(row)
            left.of_part(row["part"], f"{words}; left out")
        for line in row.get("kit", ()) if name == "tasks" else ():
            left.of_part(line["part"], f"{words}; left out")
        if name in ("tasks", "records"):
            left.services[row["id" if name == "tasks" else "task"]] = words
    goes[name].add(int(place))
    return True


def _take_from_trip(made: Row, steps: tuple[str, ...], detail: str, left: LeftOut) -> bool:
    """Take out a keep level, or of the trip itself what has a usual value or is told twice."""
    name, place, last = steps[0], steps[1] if len(steps) > 1 else "", steps[-1]
    if name == "keep" and place in made.get("keep", {}):
        words = f"{place}, keep level of {made['keep'][place]}: {detail}; left out"
        left.words.append(words)
        left.of_part(place, words)
        made["keep"] = {part: q for part, q in made["keep"].items() if part != place}
        return True
    if steps == ("trip", "ready_days"):
        left.words.append(f"{_figure(made['trip'], last)}: {detail}; the usual ones are taken")
        made["trip"] = {key: value for key, value in made["trip"].items() if key != last}
        return True
    return place == "legs" and len(steps) > 3 and _take_from_legs(
        made, int(steps[2]), last, detail, left)


def _take_from_legs(made: Row, number: int, field: str, detail: str, left: LeftOut) -> bool:
    """Take out what two phones apart can bring in: a leg's day outside, hours given twice."""
    legs = [dict(leg) for leg in made["trip"]["legs"]]
    twice = [one for one in legs[number]["machines"] if one in made["trip"].get("hours", {})]
    if field == "day":
        del legs[number]["day"]
        left.words.append(f"leg {number + 1}: {detail}; its hours are spread over the trip")
        made["trip"] = {**made["trip"], "legs": legs}
    elif field == "machines" and twice:
        hours = dict(made["trip"]["hours"])
        left.words += [f"{one}: {float(hours.pop(one)):g} h are given for it and legs too; the "
                       "legs are counted" for one in twice]
        made["trip"] = {**made["trip"], "hours": hours}
    return field in ("day", "machines")


def _take_kit_line(made: Row, task: Row, steps: tuple[str, ...], detail: str,
                   left: LeftOut) -> bool:
    """Take one line out of a service's kit; the places of the others stay."""
    kit, number = list(task["kit"]), int(steps[3])
    line = kit[number]
    if line is None:
        return True
    words = (f"{_named(task)}, {line['part']} in its kit, {_figure(line, steps[-1])}: "
             f"{detail}; left out")
    left.words.append(words)
    left.of_part(line["part"], words)
    kit[number] = None
    made["tasks"][int(steps[1])] = {**task, "kit": kit}
    return True


def _steps(pointer: str) -> tuple[str, ...]:
    return tuple(step.replace("~1", "/").replace("~0", "~")
                 for step in pointer.removeprefix("#/").split("/"))


def _figure(row: Row, name: str) -> str:
    return _CALLED.get(name, name.replace("_", " ") + " {}").format(row.get(name))


def _named(row: Row) -> str:
    return " ".join(one for one in (row["id"], row.get("name")) if one)


def _subject(made: Row, name: str, row: Row) -> str:
    """Name a row as people know it."""
    if name == "records":
        task = next((one for one in made["tasks"] if one["id"] == row["task"]), {"id": row["task"]})
        return f"{_named(task)}, done on {row['on']}"
    if name == "readings":
        return f"{row['machine']}, read on {row['on']}"
    if name == "tasks":
        return _named(row)
    return row["part"] + (f" in {row['locker']}" if row.get("locker") else
                          f" on {row['machine']}, its failure figure" if row.get("machine") else "")
