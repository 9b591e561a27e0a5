"""Lid list: what lies in one locker, for the inside of its lid."""

from __future__ import annotations

from spares.actions.context import Context
from spares.actions.papers.frame import head, maker_number, titled
from spares.actions.things import locker_thing
from spares.errors import InvalidInput
from spares.paper.language import ENGLISH, Words
from spares.paper.lists import LockerName, StowedLine, lid_list_pdf


def lid(ctx: Context, *, page: str = "A5", locker: str | None = None,
        say: Words = ENGLISH) -> bytes:
    """Print what lies in a locker.

    Raises:
        InvalidInput: no locker is named.
        NotFound, Ambiguous: it cannot be told which locker is meant.
    """
    if locker is None:
        raise InvalidInput.at("#/locker", "say which locker")
    thing = locker_thing(ctx, ctx.named(locker, "locker", "locker"))
    name = LockerName(thing["no"] or "", thing["name"] or "", thing["code"] or "")
    lines = [StowedLine(name, titled(line, "no"), line["quantity"] if line["counted"] else None,
                        maker_number(line), line["unit"],
                        say.word("condition", line["condition"] or ""), line["expires"])
             for line in thing["lines"]]
    title = say("title.lid", locker=thing["no"])
    return lid_list_pdf(head(ctx, say, title), name, lines, page=page)
