"""Find: by label code, number, batch mark, words or what it fits; each says where and how many."""

from __future__ import annotations

from typing import Any

from spares.actions.batches import lots_of_batch
from spares.actions.context import Context
from spares.actions.lines import part_line
from spares.actions.needs import needs
from spares.actions.things import locker_thing, machine_thing, point_thing, service_thing
from spares.db.find import by_name, parts_by_words
from spares.db.load import kept_parts
from spares.domain.aboard import Aboard
from spares.domain.codes import Label, is_code, normalise, parse_label, strangers
from spares.domain.identity import kind_of
from spares.domain.search_text import words
from spares.errors import InvalidInput

MOST_HITS = 50
LONGEST = 200
CODE_LENGTH = 4
KINDS = ("locker", "machine", "lot", "point", "part", "service")


def find(ctx: Context, query: str) -> dict[str, Any]:
    """Look for what somebody typed or scanned.

    A label code with a wrong check character finds nothing and says so: it must
    never lead to another locker.

    Raises:
        InvalidInput: nothing was typed, or far too much.
    """
    if not isinstance(query, str) or not words(query):
        raise InvalidInput.at("#/q", "type a word, a number or the four characters of a label")
    if len(query) > LONGEST:
        raise InvalidInput.at("#/q", f"at most {LONGEST} characters")
    label = parse_label(query)
    asked = label.code if label is not None else query.strip()
    answer = {"query": query.strip(), "message": None}
    if label is not None and (strange := _of_another(ctx, label)):
        return {**answer, "by": "nothing", "message": strange, "hits": []}
    with ctx.store.looking() as reader:
        kept = kept_parts(reader, ctx.vessel)
        named = list(dict.fromkeys(kept.get(one, one)
                                   for one in by_name(reader, ctx.vessel, asked, KINDS)))
    if named:
        by = "code" if _is_coded(asked, named) else "number"
        return {**answer, "by": by, "hits": _hits(ctx, named)}
    if marked := lots_of_batch(ctx.aboard(), asked):
        parts = dict.fromkeys(ctx.aboard().get(lot).part for lot in marked)
        return {**answer, "by": "batch", "hits": _hits(ctx, list(parts))}
    if label is not None or _may_be_code(asked):
        found = _by_words(ctx, asked, slips=False) if label is None else ("nothing", [])
        message = None if found[1] else "No such label: look at the characters once more."
        return {**answer, "by": found[0], "message": message, "hits": found[1]}
    by, hits = _by_words(ctx, asked)
    message = {"nothing": "Nothing aboard answers to this.",
               "near": "Nothing is written so; these come close."}.get(by)
    return {**answer, "by": by, "message": message, "hits": hits}


def _of_another(ctx: Context, label: Label) -> str | None:
    """Say that a scanned label is another vessel's, None if it is this one's."""
    mark = ctx.aboard([]).vessel.mark or ""
    if label.vessel_mark.upper() == mark.upper():
        return None
    return f"This is a label of the vessel {label.vessel_mark}, not of {mark}."


def _by_words(ctx: Context, asked: str, *, slips: bool = True) -> tuple[str, list[dict[str, Any]]]:
    with ctx.store.looking() as reader:
        by, found = parts_by_words(reader, ctx.vessel, asked, MOST_HITS, slips=slips)
        kept = kept_parts(reader, ctx.vessel)
    parts = list(dict.fromkeys(kept.get(one, one) for one in found))
    aboard = ctx.aboard(parts)
    places = _places(aboard, words(asked))
    hits = _hits(ctx, parts, aboard)
    if by == "near" and places:
        return "words", _hits(ctx, places)
    return ("words" if by == "nothing" and places else by), [*hits, *_hits(ctx, places)]


def _places(aboard: Aboard, typed: tuple[str, ...]) -> list[str]:
    """Give machines, lockers and fit points whose words all begin as typed."""
    found = []
    for kind in ("machine", "locker", "point"):
        for one in aboard.all(kind):
            own = words(f"{one.no or ''} {one.name or ''}")
            if all(any(word.startswith(asked) for word in own) for asked in typed):
                found.append(f"{kind}/{one.id}")
    return found[:MOST_HITS]


def _hits(ctx: Context, names: list[str], aboard: Aboard | None = None) -> list[dict[str, Any]]:
    hits, kinds = [], set(map(kind_of, names))
    wanted = needs(ctx) if kinds & {"part", "lot"} else {}
    if "lot" in kinds:
        aboard = ctx.aboard()
    elif "part" in kinds and aboard is None:
        aboard = ctx.aboard([one for one in names if kind_of(one) == "part"])
    for name in names:
        if aboard is not None and kind_of(name) in ("part", "lot"):
            part = aboard.get(name).part if kind_of(name) == "lot" else name
            hits.append(part_line(aboard, part, wanted, ctx.today.isoformat()))
        else:
            hits.append(_THINGS[kind_of(name)](ctx, name))
    return hits


_THINGS = {"locker": locker_thing, "machine": machine_thing, "point": point_thing,
           "service": service_thing}


def _is_coded(asked: str, named: list[str]) -> bool:
    return is_code(normalise(asked)) and kind_of(named[0]) in ("locker", "machine", "lot")


def _may_be_code(asked: str) -> bool:
    """Say whether the text could have been meant as a label's code: no guessing then."""
    plain = normalise(asked)
    return len(plain) == CODE_LENGTH and not strangers(plain)
