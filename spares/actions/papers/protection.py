"""How well a trip is protected, in sentences, for the trip plan and the command line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from spares.paper.language import ENGLISH, Words
from spares.paper.trip_words import hundred_text


def protection_words(answer: dict[str, Any], say: Words = ENGLISH) -> Iterator[str]:
    """Say how well she is protected, and what is not in that: A alone, no figure, assumed."""
    known = answer["protection"]
    if known is None or known.get("reached") is None:
        yield say("trip.nobody")
        return
    yield say("trip.reached_until" if known["until"] else "trip.reached",
              trips=hundred_text(say, known["reached"]), until=known["until"])
    if known.get("reached_bought") is not None:
        yield say("trip.bought", trips=hundred_text(say, known["reached_bought"]))
    if known.get("reached_a") is not None:
        yield say("trip.only_a", trips=hundred_text(say, known["reached_a"]))
    elif "reached_a" in known:
        yield say("trip.none_a")
    if missing := len(answer.get("no_figure") or ()):
        yield say.some("trip.missing", missing)
    if assumed := len({one["part"] for one in answer.get("failures") or () if one["assumed"]}):
        yield say.some("trip.assumed", assumed)
