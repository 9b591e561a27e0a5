"""gauges, gauge, gauged, test-run, daily-run, days, tightened: what is read beside the hours."""

from __future__ import annotations

import re
from typing import Any

import click

from spares.cli import door, options, say, table
from spares.cli.stock import tell
from spares.errors import InvalidInput

_AT = click.option("--at", metavar="DATE", help="The day; today unless said.")
_BY = click.option("--by", metavar="WHO", help="Who read it.")
_NOTE = click.option("--note", metavar="TEXT", help="A remark.")
_UNIT = click.option("--unit", metavar="UNIT", help="Such as °C, bar, V, A, l/min.")
_NEGATIVE = {"ignore_unknown_options": True}
_FIGURE = re.compile(r"(?P<name>.+?)\s+(?P<minute>\d+)\s+(?P<value>-?[\d.,]+)(\s+(?P<unit>\S+))?")
_STATES = {"over": "ABOVE THE LIMIT", "under": "BELOW THE LIMIT", "within": "within the limits",
           "no-limit": "no limit recorded", "not-read": "not read yet"}


@click.command()
@options.reading
@click.argument("machine", required=False)
def gauges(machine: str | None) -> None:
    """List gauges with the last reading, the book's limits and the trend.

    A trend is the median of the slopes between all pairs of readings since the last cleaning.

    \b
    Example:  spares gauges
              spares gauges HBR
    """
    from spares.actions.gauges import gauges as run

    answer = run(door.context(), machine)
    if options.asked().as_json:
        return say.answer_json(answer)
    for one in answer["gauges"]:
        last = one["last"]
        read = f"{table.number(last['value'])} {one['unit'] or ''} on {last['on']}, " \
            if last else ""
        table.put(f"{one['gauge']}  {read}{_STATES[one['state']]}")
        table.put(one["says"], indent=4)
        if one["source"]:
            by = f", entered by {one['by']}" if one["by"] else ""
            table.put(f"limits: {one['source']}{by}", indent=4)
    if not answer["gauges"]:
        table.put("No gauges yet: spares gauged HBR coolant 82 --unit °C")
    return None


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("machine")
@click.argument("name")
@_UNIT
@click.option("--low", metavar="N", help="Lower limit of the maker's book.")
@click.option("--high", metavar="N", help="Upper limit of the maker's book.")
@click.option("--source", metavar="TEXT", help="Where the limits stand: book and page.")
@click.option("--place", metavar="TEXT", help="Where on the machine it is read.")
@click.option("--cleaned-by", metavar="SERVICE", help="Service after which a trend begins anew.")
@click.option("--by", metavar="WHO", help="Who entered the limits.")
@_AT
@_NOTE
def gauge(machine: str, name: str, **more: Any) -> None:
    """Write down a gauge, and its limits by the maker's book.

    \b
    Example:  spares gauge HBR coolant --high 95 --source "maker's book, page 31"
    """
    tell(door.do("gauge", machine=machine, name=name, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("machine")
@click.argument("name")
@click.argument("value")
@_UNIT
@click.option("--hours", metavar="H", help="What the hour counter shows.")
@click.option("--rpm", type=click.IntRange(0), help="Speed at which it was read.")
@click.option("--load", "load_percent", type=click.IntRange(0), help="Load in percent.")
@click.option("--place", metavar="TEXT", help="Where on the machine it was read.")
@_AT
@_BY
@_NOTE
def gauged(machine: str, name: str, value: str, **more: Any) -> None:
    """Record what a gauge of a machine shows, other than hours.

    The unit is needed the first time; the gauge is begun by it.

    \b
    Example:  spares gauged HBR coolant 82,5 --unit °C --hours 3112 --load 40
    """
    tell(door.do("gauged", machine=machine, name=name, value=value, **more))


@click.command("test-run")
@options.reading
@click.argument("machine")
@click.option("--service", metavar="SERVICE", help="The job that it followed.")
@click.option("--read", "read", multiple=True, metavar="'NAME MIN VALUE UNIT'",
              help="A figure at a minute mark; may be given several times.")
@click.option("--leaks", metavar="TEXT", help="Where leaks were looked for, and what was seen.")
@click.option("--accepted-by", metavar="WHO", help="Who takes the machine as good.")
@_AT
@_BY
@_NOTE
def test_run(machine: str, read: tuple[str, ...], **more: Any) -> None:
    """Record the first run of a machine after work.

    \b
    Example:  spares test-run HBR --service S20 --read "coolant 5 78 °C" \\
                --read "coolant 15 82 °C" --leaks none --accepted-by Anna
    """
    tell(door.do("test-run", machine=machine, readings=[_figure(one) for one in read], **more))


def _figure(text: str) -> dict[str, Any]:
    found = _FIGURE.fullmatch(text.strip())
    if found is None:
        raise InvalidInput.at("#/readings", f"{text!r}: write name, minute, value and unit")
    return {**{key: one for key, one in found.groupdict().items() if one},
            "minute": int(found["minute"])}


@click.command("daily-run")
@options.reading
@click.argument("machine")
@click.option("--trip", metavar="TRIP", help="The trip whose plan it is held to.")
@click.option("--hours", metavar="H", help="How long it ran that day.")
@click.option("--litres", metavar="L", help="Fuel burned that day.")
@click.option("--charge", "charge_ah", metavar="AH", help="Charge put back.")
@click.option("--amps", metavar="A", help="Current while it charged.")
@_AT
@_BY
@_NOTE
def daily_run(machine: str, **more: Any) -> None:
    """Record what a machine that charges ran, burned and put back on one day.

    \b
    Example:  spares daily-run HBR --trip T2 --hours 2,1 --litres 2,9 --charge 140
    """
    tell(door.do("daily-run", machine=machine, **more))


@click.command()
@options.reading
@click.argument("trip")
def days(trip: str) -> None:
    """List the recorded days of a TRIP beside its daily balance.

    \b
    Example:  spares days T2
    """
    from spares.actions.daily_run import COMPARED, days_of_trip

    answer = days_of_trip(door.context(), trip)
    if options.asked().as_json:
        return say.answer_json(answer)
    planned, real = answer["planned"] or {}, answer["real"]
    table.put(f"{real['days']} days recorded")
    for key, word, unit in zip(COMPARED, ("running", "fuel", "charge put back"),
                               ("h", "L", "Ah"), strict=True):
        told = [f"{name} {table.number(round(figures[key], 2))} {unit} a day"
                for name, figures in (("real", real), ("planned", planned))
                if figures.get(key) is not None]
        table.put(f"{word}: {', '.join(told) or 'not recorded'}"
                  f" ({answer['beside'][key].replace('-', ' ')})", indent=2)
    for one in answer["days"]:
        said = [f"{table.number(one[key])} {unit}" for key, unit in (
            ("hours", "h"), ("litres", "L"), ("charge_ah", "Ah"), ("amps", "A"))
            if one[key] is not None]
        table.put(f"{one['on']}  {one['machine']}  {', '.join(said)}", indent=2)
    return None


@click.command()
@options.reading
@click.argument("joint")
@click.argument("torque_used", metavar="TORQUE")
@click.option("--again-on", metavar="DATE", help="Day on which it is tightened again.")
@click.option("--again-at", metavar="H", help="Counter's hours at which it is tightened again.")
@_AT
@_BY
@_NOTE
def tightened(joint: str, torque_used: str, **more: Any) -> None:
    """Record the TORQUE used at a JOINT, and when it is to be tightened again.

    \b
    Example:  spares tightened J1 "45 N·m" --again-at 1925
    """
    tell(door.do("tightened", joint=joint, torque_used=torque_used, **more))


@click.command()
@options.reading
@click.argument("service")
@click.argument("learner")
@click.option("--seen", metavar="TEXT", help="What was seen, in the learner's words.")
@click.option("--confirmed-by", metavar="WHO", help="The adult who was there.")
@_AT
@_NOTE
def lesson(service: str, learner: str, **more: Any) -> None:
    """Record that a LEARNER looked at a job, and who confirms it.

    \b
    Example:  spares lesson S20 Mia --seen "the filter" --confirmed-by Anna
    """
    tell(door.do("lesson", service=service, learner=learner, **more))


COMMANDS = (gauges, gauge, gauged, test_run, daily_run, days, tightened, lesson)
