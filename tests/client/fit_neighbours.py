"""Neighbours of the sourced cases of the fit check: each case changed a little, seeded.

A case stands where a rule turns. One number moved to a limit or over it, one text exchanged for
another that the same attribute has elsewhere, one thing left out or said otherwise: that is where
two programs would part first.
"""

from __future__ import annotations

import copy
import json
import random
from collections import defaultdict
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from spares.domain.fit.values import ORIGINS, PROOFS, ROLES
from spares.domain.place_fields import MEDIA
from tests.client.fit_requests import SHEETS, SPELLINGS, requests

CASES = Path(__file__).parents[1] / "vectors" / "fit"
COMPARATORS = ["equal", "tol", "at-least", "at-most", "range", "one-of", "mates"]
STEPS = [0.01, 0.05, 0.1, 0.11, 0.2, 0.25, 0.3, 0.5, 0.51, 1, 1.5, 2, 5, 20]

Request = dict[str, Any]


@cache
def cases() -> list[tuple[str, Request]]:
    """Give the requests of all sourced cases with their names."""
    return [(f"{path.stem}: {case['name']}", case["given"]) for path in sorted(CASES.glob("*.json"))
            for case in json.loads(path.read_text(encoding="utf-8"),
                                   parse_float=lambda text: _plain(float(text)))["cases"]]


def neighbours(each: int, seed: int) -> list[Request]:
    """Give every sourced request and *each* neighbours of it; always the same for a seed."""
    rng = random.Random(seed)
    found = []
    for _, given in cases():
        found.append(given)
        for _ in range(each):
            near = copy.deepcopy(given)
            for _ in range(rng.choice([1, 1, 1, 2, 2, 3])):
                rng.choice(_CHANGES)(rng, near)
            found.append(near)
    return found


def spelled() -> list[Request]:
    """Give every spelling against itself and the next ones, where a kind has such a line."""
    found = []
    for kind, sheet in sorted(SHEETS.items()):
        for line in sheet.attributes.values():
            texts = SPELLINGS.get(line.code) or SPELLINGS.get(line.judge) \
                or SPELLINGS.get(line.type) or [*line.words, *line.aliases]
            for n, asked in enumerate(texts):
                for have in (asked, *(texts[(n + m) % len(texts)] for m in (1, 2, 5))):
                    found.append({"kind": kind, "requires": [{"attr": line.code, "value": asked}],
                                  "offers": {line.code: have}})
    for medium in MEDIA:
        for rubber in SPELLINGS["material"]:
            found += [{"kind": kind, "requires": [{"attr": "material", "value": "any"}],
                       "offers": {"material": rubber}, "place": {"medium": medium, "wet": True}}
                      for kind in ("impeller", "o-ring", "gasket", "fastener", "pump-seal")]
    return found


@cache
def _told() -> dict[str, list[Any]]:
    """Give what is said of each attribute, and of the place, anywhere in the cases."""
    told: dict[str, list[Any]] = defaultdict(list)
    for _, given in cases():
        for row in given.get("requires", ()):
            told[row["attr"]].append(row.get("value"))
        for name, value in (given.get("offers") or {}).items():
            told[name].append(value)
        for name, value in (given.get("place") or {}).items():
            told[f"place {name}"].append(value)
    for name, texts in SPELLINGS.items():
        told[name] += texts
    return told


def _rows(near: Request) -> list[dict[str, Any]]:
    return near.get("requires") or [{"attr": "material", "value": "NBR"}]


def _move_a_number(rng: random.Random, near: Request) -> None:
    places = list(_numbers(near))
    if places:
        holder, key = rng.choice(places)
        step = rng.choice([rng.choice(STEPS), *(row["tol"] for row in _rows(near)
                                                if _is_number(row.get("tol")))])
        moved = holder[key] + rng.choice([-1, 1]) * step
        holder[key] = _plain(rng.choice([moved, moved, holder[key] * 2, 0]))


def _say_another_text(rng: random.Random, near: Request) -> None:
    row = rng.choice(_rows(near))
    other = copy.deepcopy(rng.choice(_told()[row["attr"]]))
    offers = near.setdefault("offers", {})
    if rng.random() < 0.5 or isinstance(other, list):
        if not isinstance(other, list):
            row["value"] = other
    else:
        offers[row["attr"]] = other


def _offer_what_is_asked(rng: random.Random, near: Request) -> None:
    row = rng.choice(_rows(near))
    if not isinstance(row.get("value"), list):
        near.setdefault("offers", {})[row["attr"]] = copy.deepcopy(row.get("value"))


def _ask_what_is_offered(rng: random.Random, near: Request) -> None:
    offers = near.get("offers") or {}
    if offers:
        name = rng.choice(sorted(offers))
        value = offers[name]
        if isinstance(value, dict) and set(value) <= {"value", "u", "unit", "origin"}:
            value = value.get("value")
        if not isinstance(value, list):
            near.setdefault("requires", []).append({"attr": name, "value": copy.deepcopy(value)})


def _leave_out(rng: random.Random, near: Request) -> None:
    holders = [h for h in (near.get("offers"), near.get("place"), *_rows(near),
                           *(v for v in (near.get("offers") or {}).values()
                             if isinstance(v, dict))) if h]
    if holders:
        holder = rng.choice(holders)
        names = [name for name in sorted(holder) if name != "attr"]
        if names:
            holder.pop(rng.choice(names))


def _set_the_place(rng: random.Random, near: Request) -> None:
    name = rng.choice(sorted(n for n in _told() if n.startswith("place ")))
    near["place"] = {**(near.get("place") or {}), name[6:]: copy.deepcopy(rng.choice(
        _told()[name]))}


def _ask_otherwise(rng: random.Random, near: Request) -> None:
    row = rng.choice(_rows(near))
    name, value = rng.choice([
        ("cmp", rng.choice(COMPARATORS)), ("tol", rng.choice(STEPS)), ("u", rng.choice(STEPS)),
        ("severity", rng.choice(["stop", "change", "advisory"])),
        ("origin", {"how": rng.choice(ORIGINS), "when": "2025"})])
    row[name] = value


def _offer_otherwise(rng: random.Random, near: Request) -> None:
    offers = near.get("offers") or {}
    names = [n for n in sorted(offers) if not isinstance(offers[n], list)]
    if names:
        name = rng.choice(names)
        value = offers[name] if isinstance(offers[name], dict) else {"value": offers[name]}
        more = rng.choice([{"u": rng.choice(STEPS)}, {"origin": {"how": rng.choice(ORIGINS)}},
                           {"unit": rng.choice(["mm", "in", "cm"])}])
        offers[name] = rng.choice([{**value, **more}, [offers[name], {**value, **more}], "none"])


def _spell_otherwise(rng: random.Random, near: Request) -> None:
    texts = [(h, k) for h, k in _leaves(near) if isinstance(h[k], str) and k not in (
        "attr", "kind", "cmp", "severity", "how", "role", "proof")]
    if texts:
        holder, key = rng.choice(texts)
        text = holder[key]
        holder[key] = rng.choice([text.upper(), text.lower(), f" {text} ", text.replace(" ", ""),
                                  text.replace("-", " "), text.replace(".", ","),
                                  text.replace("x", " x "), f"{text} LH", f"{text} odd"])


def _link(rng: random.Random, near: Request) -> None:
    near["links"] = [*near.get("links", ()),
                     {"role": rng.choice(ROLES), "proof": rng.choice(PROOFS)}]


def _leaves(found: Any) -> Any:
    pairs = found.items() if isinstance(found, dict) else enumerate(found)
    for key, value in sorted(pairs, key=str):
        if isinstance(value, dict | list):
            yield from _leaves(value)
        else:
            yield found, key


def _numbers(near: Request) -> Any:
    return ((h, k) for h, k in _leaves(near) if _is_number(h[k]))


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _plain(size: float) -> float | int:
    size = round(size, 3)
    return int(size) if size == int(size) else size


_CHANGES: list[Callable[[random.Random, Request], None]] = [
    _move_a_number, _move_a_number, _move_a_number, _say_another_text, _say_another_text,
    _say_another_text, _offer_what_is_asked, _ask_what_is_offered, _leave_out, _leave_out,
    _set_the_place, _set_the_place, _ask_otherwise, _offer_otherwise, _spell_otherwise, _link]


if __name__ == "__main__":      # for the laws that are held on the phone's side
    print(json.dumps(requests(900, 4) + neighbours(3, 4) + spelled()[::7]))
