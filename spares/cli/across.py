"""vessels: the vessels of a store, and lists across all of them."""

from __future__ import annotations

from typing import Any

import click

from spares.cli import door, options, say, table
from spares.cli.find import places


@click.command()
@options.reading
@click.option("--has", metavar="PART", help="Which of them have this part, and can spare it.")
@click.option("--out-of-date", is_flag=True, help="What they carry that is out of date.")
@click.option("--until", metavar="DAY", help="With --out-of-date: by this day.")
@click.option("--wanted", is_flag=True, help="One order for all of them, by seller.")
def vessels(has: str | None, out_of_date: bool, until: str | None, wanted: bool) -> None:
    """List the vessels of the store, or what several of them have or want.

    PART is a number of the vessel that is meant (--vessel), or a maker's number; other vessels
    have it where maker and number are the same.

    \b
    Example:  spares vessels
              spares vessels --has P034
              spares vessels --out-of-date --until 2027-06-01
    """
    from spares.actions import across
    from spares.actions.vessels import vessels as run

    if bool(has) + out_of_date + wanted > 1 or (until and not out_of_date):
        raise click.UsageError("ask for one list at a time")
    ctx = door.context()
    if has:
        _put(across.who_has(ctx, has), _put_parts)
    elif out_of_date:
        _put(across.out_of_date(ctx, until), _put_lots)
    elif wanted:
        _put(across.wanted(ctx), _put_orders)
    else:
        _put(run(ctx.store), _put_vessels)


def _put(answer: dict[str, Any], put: Any) -> None:
    if options.asked().as_json:
        say.answer_json(answer)
    else:
        put(answer)


def _put_vessels(answer: dict[str, Any]) -> None:
    for one in answer["vessels"]:
        table.put("  ".join(filter(None, (one["mark"], one["name"], one["about"]))))


def _put_parts(answer: dict[str, Any]) -> None:
    if not answer["vessels"]:
        table.put("None of them has it.")
    for one in answer["vessels"]:
        table.put(f"{one['vessel']}  {one['name']}")
        for part in one["parts"]:
            maker = " ".join(filter(None, (part["maker"], part["number"])))
            spare = "nobody knows how many she needs" if part["can_spare"] is None else \
                f"can spare {table.number(part['can_spare'])}"
            table.put(f"{part['no']}  {part['name']} · {maker}: {table.number(part['usable'])} "
                      f"usable, {spare}", indent=4)
            places(part["where"])


def _put_lots(answer: dict[str, Any]) -> None:
    if not answer["vessels"]:
        table.put("Nothing is out of date.")
    for one in answer["vessels"]:
        table.put(f"{one['vessel']}  {one['name']}")
        table.columns([(lot["where"]["expires"], table.number(lot["where"]["quantity"]),
                        lot["no"], lot["name"], lot["where"]["locker"]) for lot in one["lots"]],
                      indent=4)


def _put_orders(answer: dict[str, Any]) -> None:
    if not answer["sellers"]:
        table.put("Nothing is wanted.")
    for one in answer["sellers"]:
        costs = ", ".join(f"{sum_['amount']} {sum_['currency']}" for sum_ in one["costs"])
        table.put(f"{one['seller'] or 'seller not known'}" + (f": {costs}" if costs else ""))
        for line in one["lines"]:
            number = " ".join(filter(None, (line["maker"], line["number"])))
            for_whom = ", ".join(f"{table.number(each['quantity'])} {each['vessel']} "
                                 f"{each['order'] or ''}".rstrip() for each in line["orders"])
            table.put(f"{table.number(line['quantity'])}  {line['name']} · {number} ({for_whom})",
                      indent=4)


COMMANDS = (vessels,)
