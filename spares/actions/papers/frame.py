"""What all papers share: the head of each page, and how things are called on paper."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from spares.actions.context import Context
from spares.domain.aboard import Aboard, Lying
from spares.paper.lists import LockerName
from spares.paper.pages import Head

NO_LOCKER = LockerName("?", "no place recorded: choose one")
NOT_REACHABLE = "not under way"


def head(ctx: Context, title: str, note: str = "") -> Head:
    """Make the head: the vessel, and the day and time at which her records were read."""
    vessel = ctx.aboard([]).vessel
    now = datetime.fromtimestamp(ctx.now_ms() // 1000).astimezone()
    return Head(vessel.name or "", vessel.mark or "", title,
                datetime.combine(ctx.today, now.timetz()), note)


def locker_name(line: dict[str, Any]) -> LockerName:
    """Call a locker as its label does; `line` is as `actions.lines.where` makes it."""
    shut = f" ({NOT_REACHABLE})" if line.get("reachable") is False and not line.get("lent_to") \
        else ""
    return LockerName(line["locker"] or "?", f"{line['name']}{shut}", line["code"] or "")


def locker_of(aboard: Aboard, lying: Lying) -> LockerName:
    """Call the locker that pieces lie in."""
    locker = aboard.get(lying.locker)
    if locker is None:
        return LockerName("?", "a locker not recorded yet")
    return LockerName(locker.no or "?", locker.name or "", locker.code or "")


def titled(line: dict[str, Any], key: str = "part") -> str:
    """Give number and name of a part, such as `P034 Lube oil filter`."""
    return " ".join(filter(None, [line[key], line["name"]]))


def maker_number(line: Any) -> str:
    """Give maker and maker's number; `line` is an answer's line or a record."""
    get = line.get if isinstance(line, dict) else lambda name: getattr(line, name)
    return " ".join(filter(None, [get("maker"), get("number")]))


def condition_words(condition: str) -> str:
    """Give a condition in words: new; used, good; suspect."""
    return "used, good" if condition == "used-good" else condition


def proof_words(proof: str | None) -> str:
    """Give a proof in words: maker's list, measured, fitted before."""
    return {"makers-list": "maker's list"}.get(proof or "", (proof or "").replace("-", " "))
