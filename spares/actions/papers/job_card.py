"""Job card on paper: one service as it is carried out."""

from __future__ import annotations

from typing import Any

from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.papers.frame import head, locker_name, maker_number, proof_words, titled
from spares.actions.papers.handover import every_words
from spares.domain.joint import CROSS, IN_TURN, MIDDLE_OUT
from spares.domain.run_after import without_run
from spares.errors import InvalidInput
from spares.paper.dates import date_text
from spares.paper.job_card import (
    CardKitLine,
    CardPlace,
    CardReading,
    CardTestRun,
    JobCard,
    job_card_pdf,
)
from spares.paper.joint_sheet import JointSheet


def job_card(ctx: Context, *, page: str = "A4", service: str | None = None) -> bytes:
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
        machine or "No machine recorded", found["place"] or "",
        f"{found['service']} {found['what']}", why_now(found["due"]), tuple(found["hazards"]),
        tuple(_kit_line(line) for line in found["kit"]), steps=tuple(found["steps"]),
        note=_note(found), machine_hazards=tuple(found["machine_hazards"]),
        stopped=tuple(stopped_words(one) for one in found["do_not_run"]),
        test_run=_test_run(found["test_run"], found["gauges"]),
        # what is read in the test run has its table there; its limits stand above that
        readings=() if found["test_run"] else tuple(_reading(one) for one in found["gauges"]),
        open_trails=tuple(one["trail"] for one in found["do_not_run"]),
        joints=tuple(joint_of(one) for one in found["joints"]))
    return job_card_pdf(head(ctx, f"Job card {found['service']}"), paper, page=page)


def _test_run(run: dict[str, Any] | None, gauges: list[dict[str, Any]]) -> CardTestRun | None:
    if run is None:
        return None
    limits = [f"{one['name']} {_limits(one)} {one['unit'] or ''} ({one['source']})"
              for one in gauges if one["source"] and _limits(one)]
    return CardTestRun(tuple(run["minutes"]), tuple(run["readings"]),
                       "; ".join([run["limits"], *limits]), run["stop"])


def _reading(gauge: dict[str, Any]) -> CardReading:
    return CardReading(gauge["name"], gauge["unit"] or "", _limits(gauge))


def _limits(gauge: dict[str, Any]) -> str:
    return " ".join(f"{word} {gauge[name]:g}" for name, word in (
        ("low", "from"), ("high", "to")) if gauge[name] is not None)


def stopped_words(one: dict[str, Any]) -> str:
    """Say of an open trail what is missing, and where nobody looked yet."""
    count = "nobody knows how many" if one["missing"] is None else \
        f"{one['missing']} missing, {one['found']} found"
    places = f" Not looked: {', '.join(one['places'])}." if one["places"] else ""
    return f"Trail {one['trail']}, {one['what']}: {count}.{places}"


def why_now(line: dict[str, Any]) -> str:
    """Say why a service is due, or when it will be, and when it was last done."""
    state, hours_at = line["state"], line["due_at_hours"]
    due = " or ".join(filter(None, [
        date_text(line["due_on"]) if line["due_on"] else "",
        f"{hours_at:g} h on the counter" if hours_at is not None else ""]))
    said = {"history-unknown": "history unknown, so it counts as due",
            "not-wanted": "not wanted here", "overdue": f"overdue, was due {due}",
            "due": f"due {due}"}.get(state, f"not due yet, due {due}" if due else "not due yet")
    return f"{said}. {_last(line)}Every {every_words(line)}."


def _last(line: dict[str, Any]) -> str:
    last = line["last"]
    if not last:
        return ""
    at = f" at {last['hours']:g} h" if last["hours"] is not None else ""
    return f"Last done {date_text(last['date']) if last['date'] else 'on a day not known'}{at}. "


def _note(found: dict[str, Any]) -> str:
    at = "; ".join(f"{one['point']} {one['name']}"
                   + ("" if one["live"] else " (not there as fitted today)")
                   for one in found["points"])
    other = ", ".join(found["hazards_without_words"])
    said = [f"At {at}." if at else "", without_run(found["note"]),
            f"Also recorded as a hazard, without words of its own: {other}." if other else ""]
    return " ".join(filter(None, said))


def _kit_line(line: dict[str, Any]) -> CardKitLine:
    places = tuple(CardPlace(locker_name(one), one["quantity"]) for one in line["take"])
    instead = [f"Proven instead: {titled(one)}, {maker_number(one)}, {one['usable']:g} in "
               f"{one['locker']} ({proof_words(one['proof'])})" for one in line["stand_ins"]]
    return CardKitLine(
        titled(line), maker_number(line), line["needed"], line["usable"],
        places[0].locker if places else None, line["unit"], bool(line["short"]),
        places[1:], (*line["remarks"], *(instead if line["short"] else ())))


LAID = {CROSS: "numbered clockwise, 1 at the top", MIDDLE_OUT: "numbered along each row",
        IN_TURN: "one after the other"}


def joint_of(one: dict[str, Any]) -> JointSheet:
    """Give a joint sheet as the job card prints it."""
    torque, page = one["torque"], one["torque"]["page"]
    said = {"book": f"{torque['text']}, maker's book{', ' + page if page else ', page: ______'}",
            "estimate": f"{torque['text']} (estimate only; the maker's figure goes first: ______)",
            "not-known": "maker's book, page: ______ figure: ______"}[torque["kind"]]
    return JointSheet(
        f"{one['joint']}: {one['name']}", tuple(piece_words(piece) for piece in one["pieces"]),
        LAID[one["pattern"] or CROSS], tuple(one["order"]), tuple(one["passes"]), said,
        tuple(torque["remarks"]),
        tuple((warning["mark"], warning["text"]) for warning in one["warnings"]),
        one["note"] or "")


def piece_words(piece: dict[str, Any]) -> str:
    """Write one piece of a joint: `12 x P018 Conical spring washer M10, hollow side down`."""
    count = f"{piece['count']} x " if piece["count"] else ""
    named = " ".join(filter(None, [piece["part"], piece["name"]]))
    return count + ", ".join(filter(None, [named, piece["words"]]))
