"""Lay-up list: where water is let out or treated; backwards for spring."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.lay_up import lay_up as lay_up_now
from spares.actions.lay_up import lay_up_hazards
from spares.actions.papers.frame import head, locker_name, maker_number, titled
from spares.actions.papers.gauge_words import limit_words
from spares.domain.drains import DRAINED, WAYS
from spares.paper.first_run_card import FirstRunCard
from spares.paper.language import ENGLISH, Words
from spares.paper.lay_up_list import DrainPoint, lay_up_list_pdf
from spares.paper.lists import LockerName, StowedLine


def lay_up(ctx: Context, *, page: str = "A4", spring: bool = False,
           say: Words = ENGLISH) -> bytes:
    """Print the drain points with boxes to tick, and what lies aboard for the work."""
    found = lay_up_now(ctx, spring=spring)
    silent = [f"{one['machine']} {one['name']}" for one in found["says_nothing"]]
    title = say("title.fitting_out" if spring else "title.lay_up")
    points = drain_points(say, ctx, spring=spring)
    return lay_up_list_pdf(head(ctx, say, title), points, spring=spring, page=page,
                           first_runs=[_first_run(say, one) for one in found["first_runs"]],
                           stock=[line for one in found["parts"] for line in _stock(say, one)],
                           says_nothing=silent, hazards=lay_up_hazards(ctx.aboard()))


def drain_points(say: Words, ctx: Context, *, named: bool = True,
                 spring: bool = False) -> tuple[DrainPoint, ...]:
    """Give the drain points in walking order, machines by name or by number alone.

    In spring with what the autumn left.
    """
    found = lay_up_now(ctx, spring=spring)["points"]
    if spring:
        found = found[::-1]     # the paper turns them round itself
    machines = [f"{one['machine']} {one['machine_name']}" if named else one["machine"]
                for one in found]
    return tuple(DrainPoint(_upper(one["point"]),
                            ", ".join(filter(None, [machine, one["place"]])),
                            one["plug"] or "", one["treated"], one["how"] or "",
                            recorded_words(say, one))
                 for one, machine in zip(found, machines, strict=True))


def recorded_words(say: Words, point: dict[str, Any]) -> str:
    """Say what was recorded at a point this turn, and in spring what the autumn left."""
    now, autumn = point["record"], point["autumn"]
    return ". ".join(filter(None, [
        _record_words(say, now) if now else "",
        say("lay_up.autumn_left", record=_record_words(say, autumn)) if autumn else ""]))


def _record_words(say: Words, one: dict[str, Any]) -> str:
    done = say.word("drained", one["done"]) if one["done"] in WAYS else ""
    if one["done"] == DRAINED and one["seen_to_run"]:
        done = say("lay_up.seen_to_run")
    closed = [say.word("drained", key) for key in ("plug_in", "seal_renewed", "no_leak")
              if one[key]]
    strength = one["protects_to_c"]
    return ", ".join(filter(None, [
        say.day(one["on"]), done, *closed, "" if strength is None else say(
            "lay_up.tested", degrees=say.decimal(f"{strength:g}")),
        say.word("cock", one["cock"]) if one["cock"] else "", one["by"] or "", one["note"] or ""]))


def _first_run(say: Words, one: dict[str, Any]) -> FirstRunCard:
    return FirstRunCard(
        f"{one['machine']} {one['name']}", tuple(one["hazards"]), tuple(one["minutes"]),
        tuple((say.told(line["what"]), say.told(line["unit"]), limit_words(say, line))
              for line in one["readings"]),
        tuple(one["leaks"]),
        say.told(one["last"] or ""), tuple(one["besides"]))


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _stock(say: Words, one: dict[str, Any]) -> list[StowedLine]:
    if not one["where"]:
        return [StowedLine(LockerName("", ""), titled(one), 0, maker_number(one), one["unit"])]
    return [StowedLine(locker_name(say, place), titled(one),
                       place["quantity"] if place["counted"] else None, maker_number(one),
                       one["unit"], use_by=place["expires"]) for place in one["where"]]
