"""What a gauge does, in words for paper: its trend, and the book's limits."""

from __future__ import annotations

from typing import Any

from spares.domain.gauges import plain_number
from spares.domain.trend import STEADY, TOO_FEW
from spares.paper.language import Words


def gauge_words(say: Words, gauge: dict[str, Any]) -> str:
    """Say in a sentence what a gauge does; `gauge` is as `actions.gauges` gives it."""
    told, since = gauge["trend"], gauge["since"]
    asked = {"readings": told["readings"], "since": say(
        "gauge.since", what=since["what"], day=say.day(since["on"])) if since else ""}
    if told["code"] == TOO_FEW:
        says = say("gauge.few", **asked)
    elif told["code"] == STEADY:
        says = say("gauge.steady", **asked)
    else:
        change = say.decimal(plain_number(abs(told["slope"]) * told["step"], 2))
        says = say(f"gauge.{told['code']}", change=change, unit=gauge["unit"] or "",
                   step=_time(say, str(told["step"]), told), **asked)
    limits = limit_words(say, gauge)
    if not limits:
        return say("gauge.no_limit", says=says)
    if told["left"] is None:
        return say("gauge.limit", says=says, limits=limits)
    return say("gauge.reached", says=says, limits=limits,
               left=_time(say, plain_number(told["left"], 0), told))


def limit_words(say: Words, gauge: dict[str, Any]) -> str:
    """Say the book's limits with their unit; nothing where none is recorded."""
    said = [say(f"gauge.{name}", figure=" ".join(filter(None, [
        say.decimal(plain_number(gauge[name], 3)), gauge["unit"]])))
            for name in ("low", "high") if gauge[name] is not None]
    return say("gauge.both", low=said[0], high=said[1]) if len(said) > 1 else "".join(said)


def _time(say: Words, count: str, told: dict[str, Any]) -> str:
    return say(f"gauge.{told['step_unit']}", count=count)
