"""Found: an answer of the walk-round, with how it is known; and the day of the baseline."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.amounts import day, minutes
from spares.actions.context import Context, in_turn
from spares.actions.documents import revived
from spares.actions.done import check_hours
from spares.actions.stock_moves import a_change_id, as_one_act, is_known
from spares.domain.aboard import Aboard
from spares.domain.dates import earliest_day
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, ref
from spares.domain.walk_round import COUNTER, FIT, HISTORY, ORIGINS, PLATE, QUESTIONS
from spares.errors import InvalidInput

ABOUT = {PLATE: "machine", COUNTER: "machine", FIT: "point", HISTORY: "service"}
PLATE_FIELDS = ("maker", "model", "serial")


@in_turn
def found(ctx: Context, question: str, about: str, origin: str, *, answer: str | None = None,
          by: str | None = None, at: str | None = None, done_on: str | None = None,
          run: Any = None, maker: str | None = None, model: str | None = None,
          serial: str | None = None, note: str | None = None,
          change_id: str | None = None) -> dict[str, Any]:
    """Record one answer of the walk-round; what was seen, told and guessed stay apart.

    What stands on a plate goes into the machine's record as well, if the skipper says it: what
    a crew member read stays an answer. The day of a service goes into its history, marked with
    how it is known.

    Args:
        ctx: Where it happens.
        question: plate, counter, fit or history [-].
        about: The machine, fit point or service, as people call it [-].
        origin: seen, told or guessed [-].
        answer: In words; may be left out where a further field says it [-].
        by: Who saw or said it [-].
        at: The day it was found out; today unless said [-].
        done_on: When the service was last done, cut to what is known [-].
        run: What the hour meter showed then [h].
        maker, model, serial: What stands on the plate [-].
        note: Free text [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: what it is about cannot be told.
        InvalidInput: no such question or origin, a day to come, or nothing is said.
    """
    for field, given, known in (("question", question, QUESTIONS), ("origin", origin, ORIGINS)):
        if given not in known:
            raise InvalidInput.at(f"#/{field}", f"one of {', '.join(known)} is needed")
    name, ident = ctx.named(about, "about", ABOUT[question]), a_change_id(change_id)
    doc = ref("finding", joined_id("finding", name, question, origin))
    aboard = ctx.aboard()
    if was_new := not is_known(ctx, ident, "set", doc=doc):
        plate = {key: value.strip() for key, value in zip(
            PLATE_FIELDS, (maker, model, serial), strict=True) if value and value.strip()}
        more = [*_plate(ctx, name, question, plate),
                *_service(ctx, aboard, name, question, origin, done_on, run, by)]
        fields = {"about": name, "question": question, "origin": origin,
                  "answer": _words(answer, plate, done_on), "by": (by or "").strip() or None,
                  "on": _not_to_come(ctx, at, "at"), "note": (note or "").strip() or None}
        first = replace(setting(doc, **revived(aboard, doc, fields)), id=ident)
        ctx.write(as_one_act([first, *more], ident))
    return {"change": ident, "kind": "found", "was_new": was_new,
            "text": f"{aboard.label(name)}, {question}: {origin}"}


@in_turn
def baseline(ctx: Context, *, at: str | None = None, taken_back: bool = False,
             change_id: str | None = None) -> dict[str, Any]:
    """Set the day from which services are counted whose history nobody knows.

    Args:
        ctx: Where it happens.
        at: The day; today unless said [-].
        taken_back: Whether nothing is to be counted so any more [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        InvalidInput: the day is still to come.
    """
    doc, ident = ref("vessel", ctx.vessel), a_change_id(change_id)
    on = None if taken_back else _not_to_come(ctx, at, "at")
    if was_new := not is_known(ctx, ident, "set", doc=doc):
        ctx.write([replace(setting(doc, baseline_on=on), id=ident)])
    text = f"Counting from {on} what nobody can date" if on else "No baseline any more"
    return {"change": ident, "kind": "baseline", "was_new": was_new, "text": text,
            "baseline_on": on}


def _not_to_come(ctx: Context, at: str | None, field: str) -> str:
    on = day(at, field, ctx.today)
    if on > ctx.today.isoformat():
        raise InvalidInput.at(f"#/{field}", "this day is still to come")
    return on


def _words(answer: str | None, plate: dict[str, str], done_on: str | None) -> str:
    """Put the answer in words; what the further fields say will do."""
    said = (answer or "").strip()
    serial = f"serial {plate['serial']}" if "serial" in plate else ""
    named = " ".join(filter(None, [plate.get("maker"), plate.get("model")]))
    words = [", ".join(filter(None, [named, serial])), f"done {done_on}" if done_on else "", said]
    if not any(words):
        raise InvalidInput.at("#/answer", "say what was found")
    return "; ".join(filter(None, words))


def _plate(ctx: Context, name: str, question: str, plate: dict[str, str]) -> list[Draft]:
    """Draft what the machine's record takes over: from the skipper; the crew's words stay words."""
    if not plate:
        return []
    if question != PLATE:
        raise InvalidInput.at(f"#/{next(iter(plate))}", "belongs to the question of the plate")
    return [setting(name, **plate)] if ctx.is_skipper else []


def _service(ctx: Context, aboard: Aboard, name: str, question: str, origin: str,
             done_on: str | None, run: Any, by: str | None) -> list[Draft]:
    """Draft the carrying-out that was seen or told of; no kit is taken for it."""
    if not done_on:
        if run not in (None, ""):
            raise InvalidInput.at("#/done_on", "the hours need their day")
        return []
    if question != HISTORY:
        raise InvalidInput.at("#/done_on", "belongs to the question of a service")
    if earliest_day(done_on, "#/done_on") > ctx.today:
        raise InvalidInput.at("#/done_on", "this day is still to come")
    shown = None if run in (None, "") else minutes(run, "hours")
    check_hours(aboard, aboard.get(name).machine, done_on, shown, ctx.today)
    body = {"service": name, "machine": aboard.get(name).machine, "date": done_on,
            "minutes": shown, "proof": origin, "by": (by or "").strip() or None}
    return [Draft("service", {**{k: v for k, v in body.items() if v is not None}, "lines": []})]
