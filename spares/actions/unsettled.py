"""To settle: what people wrote without knowing of each other, all of it in one list.

Fields that stand apart; things that one took off the books while another changed them;
things that are gone or were never recorded, and pieces lie under them. It is found when it
is first asked for after a change, and kept with the vessel as read.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from spares.actions.amounts import plain
from spares.actions.apart import apart, by_hand, written
from spares.actions.context import Context
from spares.db.apart import Apart, authors, heads_apart
from spares.db.gone import edited_while_gone
from spares.db.while_gone import WhileGone, while_gone
from spares.domain.aboard import Aboard, Lying
from spares.domain.identity import id_of, kind_of

#: What a thing without number or name is about: the first of these that it has.
ABOUT = ("subject", "part", "point", "service", "machine", "locker")


class Found(NamedTuple):
    """What is to be settled, by the names of the documents."""

    apart: tuple[str, ...]
    gone: dict[str, WhileGone]
    lying: dict[str, list[Lying]]


def unsettled(ctx: Context) -> dict[str, Any]:
    """List what is to be settled, with who wrote what and when.

    Returns:
        `apart`: things that are there, each with the fields that stand apart;
        `gone`: things off the books that somebody changed without knowing, with the
        deletion and what was written; `gone_but_there`: things that are gone or not known
        here, with the pieces [in the part's unit] that lie under them.
    """
    aboard, found = ctx.aboard(), _found(ctx)
    with ctx.store.looking() as reader:
        hands = authors(reader, ctx.vessel, [
            head.change for one in found.gone.values()
            for head in (one.gone, *(head for _, head in one.wrote))]) if found.gone else {}
    standing = apart(ctx, found.apart)
    return {
        "apart": [{**_called(aboard, doc), "apart": standing[doc]}
                  for doc in _in_order(aboard, standing)],
        "gone": [{**_called(aboard, doc), "gone": by_hand(found.gone[doc].gone, hands),
                  "wrote": [{"field": field, **written(aboard, doc, field, head, hands)}
                            for field, head in found.gone[doc].wrote]}
                 for doc in _in_order(aboard, found.gone)],
        "gone_but_there": [{**_called(aboard, name), "is_known": aboard.get(name) is not None,
                            "lying": _lines(aboard, found.lying[name])}
                           for name in _in_order(aboard, found.lying)]}


def how_many(ctx: Context) -> dict[str, int]:
    """Count the things of each list."""
    found = _found(ctx)
    return {"apart": len(found.apart), "gone": len(found.gone), "gone_but_there": len(found.lying)}


def _found(ctx: Context) -> Found:
    found: Found = ctx.remembered("unsettled", lambda: _looked_for(ctx))
    return found


def _looked_for(ctx: Context) -> Found:
    aboard = ctx.aboard()
    with ctx.store.looking() as reader:
        standing = heads_apart(reader, ctx.vessel)
        unseen = edited_while_gone(reader, ctx.vessel)
        back = {doc: [head.change for head in standing[doc]["gone"] if head.value is not True]
                for doc in standing if "gone" in standing[doc] and not _is_there(aboard, doc)}
        gone = while_gone(reader, ctx.vessel, unseen, back)
    return Found(_of_things_there(aboard, standing), gone, _under_what_is_gone(aboard))


def _of_things_there(aboard: Aboard, standing: Apart) -> tuple[str, ...]:
    """Leave out what is off the books: nobody reads its fields, until it is brought back."""
    return tuple(doc for doc in standing if _is_there(aboard, doc))


def _is_there(aboard: Aboard, name: str) -> bool:
    record = aboard.get(name)
    return record is not None and not record.gone


def _under_what_is_gone(aboard: Aboard) -> dict[str, list[Lying]]:
    found: dict[str, list[Lying]] = {}
    for one in aboard.lying:
        if one.quantity:
            for name in (one.part, one.locker):
                if not _is_there(aboard, name):
                    found.setdefault(name, []).append(one)
    return found


def _lines(aboard: Aboard, lying: list[Lying]) -> list[dict[str, Any]]:
    sums: dict[tuple[str, str], int] = {}
    for one in lying:
        sums[one.part, one.locker] = sums.get((one.part, one.locker), 0) + one.quantity
    lines = []
    for (part, locker), quantity in sums.items():
        of, place = aboard.get(part), aboard.get(locker)
        lines.append({"part": of and of.no, "name": of and of.name,
                      "locker": place and place.no, "quantity": plain(quantity)})
    return sorted(lines, key=lambda one: (one["part"] or "", one["locker"] or ""))


def _called(aboard: Aboard, name: str) -> dict[str, Any]:
    record, kind = aboard.get(name), kind_of(name)
    about = next((found for field in ABOUT
                  if (found := aboard.get(getattr(record, field, None))) is not None), None)
    return {"doc": name, "kind": kind, "id": id_of(name), "no": getattr(record, "no", None),
            "name": getattr(record, "name", None) or getattr(record, "what", None),
            "about": getattr(about, "no", None)}


def _in_order(aboard: Aboard, names: Iterable[str]) -> list[str]:
    return sorted(names, key=lambda name: (
        kind_of(name), getattr(aboard.get(name), "no", None) or "", name))
