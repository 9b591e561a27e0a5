"""Job card on paper: one service as it is carried out."""

from __future__ import annotations

from typing import Any

from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.papers.frame import (
    also_hazards,
    head,
    locker_name,
    maker_number,
    titled,
)
from spares.actions.papers.handover import every_words
from spares.domain.joint import CROSS
from spares.domain.run_after import without_run
from spares.errors import InvalidInput
from spares.paper.job_card import (
    CardKitLine,
    CardPlace,
    CardReading,
    CardTestRun,
    JobCard,
    job_card_pdf,
)
from spares.paper.joint_sheet import JointSheet
from spares.paper.language import ENGLISH, Words


def job_card(ctx: Context, *, page: str = "A4", service: str | None = None,
             say: Words = ENGLISH) -> bytes:
    """Print the job card of a service; its cautions cannot be left out.

    Raises:
        InvalidInput: no service is named.
        NotFound, Ambiguous: it cannot be told which service is meant.
    """
    if service is None:
        raise InvalidInput.at("#/service", "say which service")
    found = card(ctx, service)
    machine = " ".join(filter(None, [found["machine"], found["machine_name"]]))
    paper = JobCard(
        machine or say("card.no_machine"), found["place"] or "",
        f"{found['service']} {found['what']}", why_now(say, found["due"]),
        tuple(found["hazards"]), tuple(_kit_line(say, line) for line in found["kit"]),
        steps=tuple(found["steps"]), note=_note(say, found),
        machine_hazards=tuple(found["machine_hazards"]),
        stopped=tuple(stopped_words(say, one) for one in found["do_not_run"]),
        test_run=_test_run(say, found["test_run"], found["gauges"]),
        # what is read in the test run has its table there; its limits stand above that
        readings=() if found["test_run"] else tuple(_reading(say, one) for one in found["gauges"]),
        open_trails=tuple(one["trail"] for one in found["do_not_run"]),
        joints=tuple(joint_of(say, one) for one in found["joints"]))
    title = say("title.card", service=found["service"])
    return job_card_pdf(head(ctx, say, title), paper, page=page)


def _test_run(say: Words, run: dict[str, Any] | None, gauges: list[dict[str, Any]]
              ) -> CardTestRun | None:
    if run is None:
        return None
    limits = [f"{one['name']} {_limits(say, one)} {one['unit'] or ''} ({one['source']})"
              for one in gauges if one["source"] and _limits(say, one)]
    return CardTestRun(tuple(run["minutes"]), tuple(run["readings"]),
                       "; ".join([say.told(run["limits"]), *limits]), run["stop"])


def _reading(say: Words, gauge: dict[str, Any]) -> CardReading:
    return CardReading(gauge["name"], gauge["unit"] or "", _limits(say, gauge))


def _limits(say: Words, gauge: dict[str, Any]) -> str:
    return " ".join(say(f"card.{name}", figure=say.decimal(f"{gauge[name]:g}"))
                    for name in ("low", "high") if gauge[name] is not None)


def stopped_words(say: Words, one: dict[str, Any]) -> str:
    """Say of an open trail what is missing, and where nobody looked yet."""
    count = say("card.nobody_knows") if one["missing"] is None else say(
        "card.missing_found", missing=one["missing"], found=one["found"])
    places = say("card.not_looked", places=", ".join(map(say.told, one["places"]))) \
        if one["places"] else ""
    return say("card.trail", trail=one["trail"], what=one["what"], count=count, places=places)


def why_now(say: Words, line: dict[str, Any]) -> str:
    """Say why a service is due, or when it will be, and when it was last done."""
    day, at = line["due_on"] and say.day(line["due_on"]), line["due_at_hours"]
    counter = "" if at is None else say("card.on_counter", hours=say.decimal(f"{at:g}"))
    when = say("common.or", one=day, other=counter) if day and counter else day or counter
    key = {"history-unknown": "card.unknown", "not-wanted": "card.not_wanted",
           "overdue": "card.overdue", "due": "card.due"}.get(
               line["state"], "card.not_due_when" if when else "card.not_due")
    return say("card.why", said=say(key, when=when), last=_last(say, line),
               every=every_words(say, line))


def _last(say: Words, line: dict[str, Any]) -> str:
    last = line["last"]
    if not last:
        return ""
    at = "" if last["hours"] is None else say("card.at_hours",
                                              hours=say.decimal(f"{last['hours']:g}"))
    return say("card.last", day=say.day(last["date"]) if last["date"] else say("card.last_day"),
               at=at)


def _note(say: Words, found: dict[str, Any]) -> str:
    named = [(f"{one['point']} {one['name']}", one["live"]) for one in found["points"]]
    at = "; ".join(name if live else say("card.not_there", point=name) for name, live in named)
    said = [say("card.at", points=at) if at else "", without_run(found["note"]),
            also_hazards(say, found["hazards_without_words"])]
    return " ".join(filter(None, said))


def _kit_line(say: Words, line: dict[str, Any]) -> CardKitLine:
    places = tuple(CardPlace(locker_name(say, one), one["quantity"]) for one in line["take"])
    instead = [say("card.instead", name=titled(one), maker=maker_number(one),
                   usable=say.decimal(f"{one['usable']:g}"), locker=one["locker"],
                   proof=say.word("proof", one["proof"] or "")) for one in line["stand_ins"]]
    return CardKitLine(
        titled(line), maker_number(line), line["needed"], line["usable"],
        places[0].locker if places else None, line["unit"], bool(line["short"]),
        places[1:], (*map(say.sentence, line["remarks"]), *(instead if line["short"] else ())))


def joint_of(say: Words, one: dict[str, Any]) -> JointSheet:
    """Give a joint sheet as the job card prints it."""
    torque, page = one["torque"], one["torque"]["page"]
    if torque["kind"] == "book":
        said = say("joint.book_page" if page else "joint.book", torque=torque["text"], page=page)
    elif torque["kind"] == "estimate":
        said = say("joint.estimate", low=say.decimal(f"{torque['low_nm']:g}"),
                   high=say.decimal(f"{torque['high_nm']:g}"))
    else:
        said = say("joint.not_known")
    return JointSheet(
        f"{one['joint']}: {one['name']}", tuple(piece_words(piece) for piece in one["pieces"]),
        say.word("laid", one["pattern"] or CROSS), tuple(one["order"]), tuple(one["passes"]), said,
        tuple(map(say.sentence, torque["remarks"])),
        tuple((warning["mark"], warning["text"]) for warning in one["warnings"]),
        one["note"] or "")


def piece_words(piece: dict[str, Any]) -> str:
    """Write one piece of a joint: `12 x P018 Conical spring washer M10, hollow side down`."""
    count = f"{piece['count']} x " if piece["count"] else ""
    named = " ".join(filter(None, [piece["part"], piece["name"]]))
    return count + ", ".join(filter(None, [named, piece["words"]]))
