"""What all papers share: the head of each page, and how things are called on paper."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from spares.actions.context import Context
from spares.domain.aboard import Aboard, Lying
from spares.paper.language import Words
from spares.paper.lists import LockerName
from spares.paper.pages import Head


def head(ctx: Context, say: Words, title: str, note: str = "") -> Head:
    """Make the head: the vessel, and the day and time at which her records were read."""
    vessel = ctx.aboard([]).vessel
    now = datetime.fromtimestamp(ctx.now_ms() // 1000).astimezone()
    return Head(vessel.name or "", vessel.mark or "", title,
                datetime.combine(ctx.today, now.timetz()), note, say)


def no_locker(say: Words) -> LockerName:
    """Stand for the locker of something for which nobody chose one."""
    return LockerName("?", say("common.no_place"))


def locker_name(say: Words, line: dict[str, Any]) -> LockerName:
    """Call a locker as its label does; `line` is as `actions.lines.where` makes it."""
    shut = f" ({say('common.not_reachable')})" if (
        line.get("reachable") is False and not line.get("lent_to")) else ""
    return LockerName(line["locker"] or "?", f"{line['name']}{shut}", line["code"] or "")


def locker_of(say: Words, aboard: Aboard, lying: Lying) -> LockerName:
    """Call the locker that pieces lie in."""
    locker = aboard.get(lying.locker)
    if locker is None:
        return LockerName("?", say("common.no_locker"))
    return LockerName(locker.no or "?", locker.name or "", locker.code or "")


def titled(line: dict[str, Any], key: str = "part") -> str:
    """Give number and name of a part, such as `P034 Lube oil filter`."""
    return " ".join(filter(None, [line[key], line["name"]]))


def maker_number(line: Any) -> str:
    """Give maker and maker's number; `line` is an answer's line or a record."""
    get = line.get if isinstance(line, dict) else lambda name: getattr(line, name)
    return " ".join(filter(None, [get("maker"), get("number")]))


def also_hazards(say: Words, hazards: list[str]) -> str:
    """Name hazards for which no caution is written; nothing where there are none."""
    return say("caution.other", hazards=", ".join(hazards)) if hazards else ""
