"""due, done, reading, exchange: the work and what it leaves behind."""

from __future__ import annotations

from typing import Any

import click

from spares.cli import door, options, say, table, words
from spares.cli.stock import tell

_NEGATIVE = {"ignore_unknown_options": True}
_AT = click.option("--at", metavar="DATE", help="The day; today unless said.")
_NOTE = click.option("--note", metavar="TEXT", help="A remark.")


@click.command()
@options.reading
@click.option("--until", metavar="DATE", help="Only what comes due by this day.")
def due(until: str | None) -> None:
    """List the services by urgency.

    Those whose history nobody knows are told as such, never as done.

    \b
    Example:  spares due
              spares due --until 2027-07-05
    """
    from spares.actions.due import due as run

    answer = run(door.context(), until)
    if options.asked().as_json:
        return say.answer_json(answer)
    wanted = [one for one in answer["services"] if one["state"] != "not-wanted"]
    for one in wanted:
        points = ", ".join(one["points"]) or one["machine"] or ""
        state = words.word(words.SERVICES, one["state"])
        table.put(f"{one['service']}  {state}: {one['what']} ({points})")
        stop = f"DO NOT RUN {one['machine']}: {', '.join(one['do_not_run'])} is open" \
            if one["do_not_run"] else ""
        for line in (stop, _when(one), *one["remarks"]):
            if line:
                table.put(line, indent=6)
    if not wanted:
        table.put("Nothing is due.")
    return None


def _when(one: dict[str, Any]) -> str:
    hours, days, at = one["hours_left"], one["days_left"], one["due_at_hours"]
    said = [f"due {one['due_on']}" if one["due_on"] else "", f"at {at:g} h" if at else "",
            _left(hours, "h"), _left(days, "days")]
    return ", ".join(filter(None, said))


def _left(amount: float | None, unit: str) -> str:
    if amount is None:
        return ""
    return f"{-amount:g} {unit} over" if amount < 0 else f"{amount:g} {unit} left"


@click.command()
@options.reading
@click.argument("service")
@_AT
@click.option("--hours", metavar="H", help="What the hour counter showed.")
@click.option("--no-kit", is_flag=True, help="Leave the kit in the lockers.")
@click.option("--by", metavar="WHO", help="Who did it.")
@_NOTE
def done(service: str, no_kit: bool, **more: Any) -> None:
    """Record that SERVICE was done, and take its kit.

    The parts of the kit are taken out of the lockers, unless --no-kit is given.

    \b
    Example:  spares done S22
              spares done S01 --at 2027-03-12 --hours 1840
    """
    answer = door.do("done", service=service, kit=False if no_kit else None, **more)
    tell(answer)
    if not options.asked().as_json:
        for one in answer.get("used", ()):
            table.put(f"took {table.number(one['quantity'])} of {one['part']} from "
                      f"{one['locker']}", indent=6)
        for one in answer.get("missing", ()):
            table.put(f"not aboard: {table.number(one['quantity'])} of {one['part']}", indent=6)


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("machine")
@click.argument("value")
@_AT
@click.option("--because", metavar="REASON",
              help="Why an unlikely figure is right; `new counter` begins a new count, "
                   "`last entry was a slip` puts it in that one's place.")
def reading(machine: str, value: str, **more: Any) -> None:
    """Record what an hour counter shows.

    \b
    Example:  spares reading HBR 3112.4
              spares reading HYD 2 --because "new counter"
    """
    tell(door.do("reading", machine=machine, hours=value, **more))


@click.command()
@options.reading
@click.argument("point", metavar="FITPOINT")
@click.argument("part")
@click.option("--from", "from_", metavar="LOCKER", help="Where the new part lay.")
@click.option("--old-to", metavar="LOCKER", help="Where the old one went, or `landed`.")
@click.option("--old-condition", metavar="WORD", help="suspect unless said: new, used-good.")
@click.option("--lot", metavar="LOT", help="Lot of the new part.")
@_AT
@_NOTE
def exchange(point: str, part: str, from_: str | None, **more: Any) -> None:
    """Record that PART sits at FITPOINT now.

    \b
    Example:  spares exchange HBR-04 P037 --from L17 --old-to landed
    """
    answer = door.do("exchange", point=point, part=part, **{"from": from_}, **more)
    tell(answer)
    if not options.asked().as_json:
        for key, said in (("retired", "no longer there"), ("appeared", "now there"),
                          ("stranded", "stranded now"), ("fits_again", "fits again")):
            for one in answer.get(key, ()):
                table.put(f"{said}: {one['no']} {one['name']}", indent=6)


@click.command("left-over")
@options.reading
@click.argument("part")
@click.argument("choice", metavar="keep|give|sell|open")
@_NOTE
def left_over(part: str, choice: str, **more: Any) -> None:
    """Record what shall become of a PART that fits nothing any more.

    No count changes by it; `open` is for not decided any more.

    \b
    Example:  spares left-over P056 give --note "the boatyard at the fjord"
    """
    tell(door.do("left-over", part=part, choice=choice, **more))


@click.command()
@options.reading
@click.argument("service")
@click.argument("because")
@click.option("--hours", "every_hours", metavar="H", help="Every so many hours; 0 takes it out.")
@click.option("--months", "every_months", type=int, metavar="N", help="Every so many months.")
@click.option("--not-wanted/--wanted", default=None, help="Whether it is wanted on this vessel.")
@_AT
def interval(service: str, because: str, **more: Any) -> None:
    """Record that SERVICE comes round sooner or later from now on, and why.

    \b
    Example:  spares interval S24 "growth in the tubes after 400 h" --hours 300
              spares interval S28 "no boiler any more" --not-wanted
    """
    tell(door.do("interval", service=service, because=because, **more))


@click.command()
@options.reading
@click.argument("service")
def pick(service: str) -> None:
    """Gather the kit of SERVICE into its bag, as far as it is aboard.

    The bag is a place of its own, BAG-S22 for S22; what lies in it counts as aboard.

    \b
    Example:  spares pick S22
    """
    _bagged(door.do("pick", service=service))


@click.command("put-back")
@options.reading
@click.argument("service")
def put_back(service: str) -> None:
    """Put what lies in the bag of SERVICE back to where it came from.

    The bag's own number or code can be given too.

    \b
    Example:  spares put-back S22
              spares put-back BAG-S22
    """
    _bagged(door.do("put-back", service=service))


def _bagged(answer: dict[str, Any]) -> None:
    tell(answer)
    if not options.asked().as_json and answer["bag"]:
        state = answer["bag"]["state"].replace("-", " ")
        inside = ", ".join(f"{one['quantity']:g} x {one['part']} {one['name']}"
                           for one in answer["bag"]["lines"]) or "nothing"
        table.put(f"{state}; in the bag: {inside}", indent=6)


COMMANDS = (due, done, reading, exchange, left_over, interval, pick, put_back)
