"""restock and trip: what a trip needs, and when it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import click

from spares.cli import codes, door, options, say, table, words
from spares.cli.find import show_trip
from spares.errors import InvalidInput, SparesError

_SHORT = ("short", "order-by", "too-late")
_FIRST = ("too-late", "order-by", "short", "cannot-say")


@click.command()
@options.reading
@click.argument("trip")
@click.option("--why", "part", metavar="PART", help="Only this part, with every reason.")
def restock(trip: str, part: str | None) -> int:
    """Say what TRIP needs, what is short, when to order.

    Exit code 0 all aboard, 3 something is short, 4 a count is missing.

    \b
    Example:  spares restock T1
              spares restock T1 --why P034
    """
    from spares.actions.trip.restock import restock as run
    from spares.actions.trip.restock import why

    if part is not None:
        answer = why(door.context(), trip, part)
        lines = [answer["line"]]
    else:
        answer = run(door.context(), trip)
        lines = answer["lines"]
    if options.asked().as_json:
        say.answer_json(answer)
    elif part is not None:
        _print_why(answer["line"])
    else:
        _print_plan(answer)
    states = {line["state"] for line in lines}
    if states & set(_SHORT):
        return codes.SHORT
    return codes.NOT_KNOWN if "cannot-say" in states else codes.OK


def _print_why(line: dict[str, Any]) -> None:
    table.put(f"{line['part']}  {line['name']}: {words.line_state(line)}")
    if line["state"] == "accepted":
        table.put(_accepted(line), indent=2)
    table.columns([(name.replace("_", " "), line[name]) for name in (
        "for_service", "for_failure", "set_aside", "keep", "minimum", "usable", "short", "buy")
        if line.get(name) is not None], indent=2)
    for reason in (*line["why"], *line["remarks"]):
        table.put(f"- {reason}", indent=2)


def _print_plan(plan: dict[str, Any]) -> None:
    show_trip(plan["trip"])
    _print_figures(plan)
    short = [one for one in plan["lines"] if one["state"] not in ("enough", "accepted")]
    table.put()
    short.sort(key=lambda one: (_FIRST.index(one["state"]), one["order_by"] or "", one["part"]))
    table.columns([(one["part"], words.line_state(one), one["minimum"], one["usable"],
                    one["buy"], one["name"]) for one in short],
                  heads=("", "state", "need", "usable", "buy", "part"))
    accepted = [one for one in plan["lines"] if one["state"] == "accepted"]
    table.put(_sum(len(plan["lines"]), len(short), len(accepted)))
    for one in accepted:
        table.put(f"- {one['part']} {one['name']}: {_accepted(one)}")
    for stop in plan["stops"]:
        _print_stop(stop)
    _print_lists(plan)
    for remark in plan["remarks"]:
        table.put(f"- {remark}")


def _sum(lines: int, short: int, accepted: int) -> str:
    """Say how many lines ask for something; what was accepted as missing is not aboard."""
    if short:
        return f"{short} of {lines} lines ask for something."
    if accepted:
        return f"{lines - accepted} of {lines} lines are aboard; {accepted} accepted as missing."
    return f"All {lines} lines are aboard."


def _accepted(line: dict[str, Any]) -> str:
    """Say who accepted to sail without a part, when and why."""
    told = line.get("accepted") or {}
    return ", ".join(filter(None, (
        "accepted as missing" + (f" by {told['by']}" if told.get("by") else ""),
        told.get("on"), told.get("note"))))


def _print_figures(plan: dict[str, Any]) -> None:
    """Print hours that are worked out rather than given, fuel, and how well she is protected."""
    given = plan["trip"]["hours"]
    worked = {name: value for name, value in plan["hours"].items() if value and name not in given}
    if worked:
        table.put("hours worked out: " + "  ".join(
            f"{name} {round(value, 1):g}" for name, value in worked.items()), indent=6)
    fuel = plan["fuel"] or {}
    for text in _unknown_fuel(fuel):
        table.put(f"fuel: what {text}, and not counted", indent=6)
    if fuel.get("why"):
        short = fuel.get("state") == "short"
        table.put("fuel: " + fuel["why"] + (f"; the tank gives only {fuel['tank_l']:g} L"
                                            if short else ""), indent=6)
    from spares.actions.papers.protection import protection_words
    if plan["protection"]:
        for sentence in protection_words(plan):
            table.put(sentence, indent=6)


def _unknown_fuel(fuel: dict[str, Any]) -> Iterator[str]:
    """Name the engines of which nobody knows the litres, and the legs beyond their tables."""
    too_fast = fuel.get("too_fast", ())
    legs = {one["machine"] for one in too_fast}
    if others := [one for one in fuel.get("missing", ()) if one not in legs]:
        named = " and ".join(filter(None, (", ".join(others[:-1]), others[-1])))
        yield f"{named} {'burn' if len(others) > 1 else 'burns'} is not known"
    for one in too_fast:
        yield (f"{one['machine']} burns at {one['speed_kn']:g} kn on leg {one['leg']} is not known "
               f"(its table ends at {one['table_ends_kn']:g} kn)")


def _print_stop(stop: dict[str, Any]) -> None:
    buy = [one for one in stop["lines"] if one["buy"]]
    where = f"At {stop.get('name') or 'day ' + str(stop['day'])}, {stop['on']}"
    if not buy:
        table.put(f"{where}: nothing to buy")
        return
    table.put(f"{where}, to buy:")
    table.columns([(one["part"], table.number(one["buy"]), one.get("name") or "")
                   for one in buy], indent=2)


def _print_lists(plan: dict[str, Any]) -> None:
    dated = plan["out_of_date"]
    for title, items in (
            ("Due before leaving", plan["due_before_leaving"]),
            ("History unknown, so due before leaving", plan["history_unknown"]),
            ("Out of date today", [_piece(one) for one in dated["today"]]),
            ("Out of date before the return", [_piece(one) for one in dated["before_return"]]),
            ("Not reachable under way", [_piece(one) for one in plan["not_reachable"]]),
            ("Ashore", [_piece(one) for one in plan["ashore"]]),
            ("Lent", [_piece(one) for one in plan["lent"]]),
            ("Stranded", [_piece(one) for one in plan["stranded"]])):
        if items:
            table.put(f"{title}: {', '.join(items)}")
    if plan["earliest_departure"]:
        table.put(f"Earliest leaving with everything aboard: {plan['earliest_departure']}")


def _piece(one: dict[str, Any]) -> str:
    where = f" in {one['locker']}" if one.get("locker") else ""
    until = f" ({one['expires']})" if one.get("expires") else ""
    return f"{table.number(one['quantity'])} x {one['part']}{where}{until}"


@click.group()
def trip() -> None:
    """Show, plan or change a trip.

    \b
    Example:  spares trip show
              spares trip new "Summer round" 2027-08-01 2027-08-20
    """


@trip.command("show")
@options.reading
@click.argument("name", metavar="[TRIP]", required=False)
def show_one(name: str | None) -> None:
    """Show TRIP, or all of them.

    \b
    Example:  spares trip show T1
    """
    from spares.actions.show import show
    from spares.actions.trip.stored import trips

    answer = show(door.context(), name, "trip") if name else trips(door.context())
    if options.asked().as_json:
        say.answer_json(answer)
        return
    for one in [answer] if name else answer["trips"]:
        show_trip(one)
    if name:
        _print_worked_out(name)


def _print_worked_out(name: str) -> None:
    """Print what legs, energy and water come to; a trip that cannot be planned is shown bare."""
    from spares.actions.trip.restock import restock as run

    try:
        plan = run(door.context(), name)
    except SparesError as err:
        table.put(f"hours cannot be worked out: {err}", indent=6)
        return
    _print_figures(plan)


_HOURS = click.option("--hours", multiple=True, metavar="MACHINE=H",
                      help="Running hours of the whole trip; may be given several times.")
_READY = click.option("--ready-days", type=click.IntRange(0, 365), metavar="N",
                      help="Days before leaving by which all must be aboard.")
_BEFORE = click.option("--hours-before-departure", metavar="none|as-usual",
                       help="Whether machines run on as usual until then.")
_NOTE = click.option("--note", metavar="TEXT", help="A remark.")


@trip.command("new")
@options.reading
@click.argument("name")
@click.argument("departs_on", metavar="LEAVES")
@click.argument("returns_on", metavar="RETURNS")
@_HOURS
@_READY
@_BEFORE
@_NOTE
def new(name: str, departs_on: str, returns_on: str, hours: tuple[str, ...], **more: Any) -> None:
    """Plan a trip; hours that are left out are those of the last one, a day.

    \b
    Example:  spares trip new "Summer round" 2027-08-01 2027-08-20 --hours ENG=60
    """
    body = _body(hours, name=name, departs_on=departs_on, returns_on=returns_on, **more)
    from spares.actions.trip.write import usual_running

    told = usual_running(door.context(), departs_on, returns_on) | body.get("hours", {})
    body |= {"hours": told} if told else {}
    _tell(door.write("POST", "trips", body, lambda: _here(None, body)))


@trip.command("edit")
@options.reading
@click.argument("trip_name", metavar="TRIP")
@click.option("--name", metavar="TEXT", help="What it is called.")
@click.option("--leaves", "departs_on", metavar="DATE", help="The leaving day.")
@click.option("--returns", "returns_on", metavar="DATE", help="The day of the return.")
@_HOURS
@_READY
@_BEFORE
@_NOTE
def edit(trip_name: str, hours: tuple[str, ...], **more: Any) -> None:
    """Change a trip; what is not named stays.

    \b
    Example:  spares trip edit T1 --leaves 2027-05-06 --hours HBR=200
    """
    from urllib.parse import quote

    body = _body(hours, **more)
    _tell(door.write("PATCH", f"trips/{quote(trip_name, safe='')}", body,
                     lambda: _here(trip_name, body)))


def _here(trip_name: str | None, body: dict[str, Any]) -> dict[str, Any]:
    from spares.web.verbs import write_trip

    return write_trip(door.context(), trip_name, body)


def _body(hours: tuple[str, ...], **fields: Any) -> dict[str, Any]:
    run = {}
    for one in hours:
        machine, equals, value = one.partition("=")
        if not (machine and equals and value):
            raise InvalidInput.at("#/hours", f"{one!r}: write it as ENG=60")
        run[machine] = value
    given = {name: value for name, value in fields.items() if value is not None}
    return {**given, **({"hours": run} if run else {})}


def _tell(answer: dict[str, Any]) -> None:
    if options.asked().as_json:
        say.answer_json(answer)
    else:
        show_trip(answer)


COMMANDS = (restock, trip)
