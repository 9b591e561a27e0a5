"""took, put, landed, counted, moved, lent: the movements."""

from __future__ import annotations

from typing import Any

import click

from spares.cli import door, options, say, table, words
from spares.cli.find import places

# So that a wrong quantity such as -1 is told as one, not taken for an option.
_NEGATIVE = {"ignore_unknown_options": True}
_LOT = click.option("--lot", metavar="LOT", help="Lot they come from: its code or id.")
_NOTE = click.option("--note", metavar="TEXT", help="A remark.")
_AT = click.option("--at", metavar="DATE", help="The day, if it is typed in later.")
_SINCE = click.option("--counted-since", type=click.Choice(["before", "after"]), metavar="SIDE",
                      help="before or after the counts made since that day.")


def _pieces(command: Any) -> Any:
    return click.argument("quantity", metavar="[N]", default="1")(command)


def tell(answer: dict[str, Any]) -> None:
    """Print what was recorded, and what is left."""
    if options.asked().as_json:
        say.answer_json(answer)
        return
    table.put(answer["text"] + ("." if answer.get("was_new", True) else " (was recorded before)."))
    part = answer.get("part")
    if part:
        state = words.word(words.COUNTS, part.get("state"))
        usable = f"{table.number(part['usable'])} usable"
        table.put(f"{part['no']}  {part['name']}: " + ", ".join(filter(None, (usable, state))))
        places(part["where"])


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@_pieces
@_LOT
@click.option("--machine", metavar="MACHINE", help="Machine it was for.")
@_AT
@_SINCE
@_NOTE
def took(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record pieces taken out of LOCKER to be used (1).

    \b
    Example:  spares took P034 L17
              spares took P034 EMJR 2 --machine HBR
    """
    tell(door.do("took", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@_pieces
@_LOT
@click.option("--condition", metavar="WORD", help="new, used-good or suspect.")
@click.option("--expires", metavar="DATE", help="Until when it is good: 2031-06 will do.")
@click.option("--batch", metavar="MARK", help="The mark of the batch on it.")
@_AT
@_SINCE
@_NOTE
def put(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record pieces stowed in LOCKER (1): bought or back.

    \b
    Example:  spares put P034 L17 2
              spares put P037 L03 --expires 2033-06
    """
    tell(door.do("put", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@_pieces
@_LOT
@_AT
@_SINCE
@_NOTE
def landed(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record pieces that are gone for good (1).

    \b
    Example:  spares landed P056 L13 3
    """
    tell(door.do("landed", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@click.argument("quantity", metavar="N")
@_LOT
@_NOTE
def counted(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record that N pieces are in LOCKER.

    \b
    Example:  spares counted P034 L17 2
    """
    tell(door.do("counted", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("from_", metavar="FROM")
@click.argument("to")
@_pieces
@_LOT
@click.option("--to-condition", metavar="WORD", help="new, used-good or suspect from now on.")
@_AT
@_SINCE
@_NOTE
def moved(part: str, from_: str, to: str, quantity: str, **more: Any) -> None:
    """Record pieces moved to another locker (1).

    \b
    Example:  spares moved P034 L17 L01
              spares moved P037 L03 L03 --to-condition suspect
    """
    tell(door.do("moved", **{"part": part, "from": from_, "to": to, "quantity": quantity}, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@click.argument("who")
@_pieces
@_LOT
@click.option("--back-by", metavar="DATE", help="The day by which it is to be back.")
@_NOTE
def lent(part: str, locker: str, who: str, quantity: str, **more: Any) -> None:
    """Record pieces lent to WHO (1), until moved back.

    \b
    Example:  spares lent P034 L17 "launch HRE" --back-by 2027-05-01
    """
    tell(door.do("lent", part=part, locker=locker, who=who, quantity=quantity, **more))


@click.command()
@options.reading
@click.argument("part")
@click.argument("locker")
@click.option("--by", metavar="WHO", help="Who doubts it.")
@click.option("--taken-back", is_flag=True, default=None, help="It is not doubted any more.")
@_NOTE
def doubt(part: str, locker: str, **more: Any) -> None:
    """Call the count of PART in LOCKER doubtful, without counting.

    \b
    Example:  spares doubt P034 L17 --note "taken in a hurry"
    """
    tell(door.do("doubt", part=part, locker=locker, **more))


@click.command()
@options.reading
def counts() -> None:
    """List what is to be counted, the oldest counts first.

    The number expected is not shown: count first, then record it with `counted`.

    \b
    Example:  spares counts
    """
    from spares.actions.counts import counts as run

    answer = run(door.context())
    if options.asked().as_json:
        return say.answer_json(answer)
    for one in answer["lockers"]:
        table.put(f"{one['locker']}  {one['name']}: counted since {one['oldest'] or 'never'}")
        for line in one["lines"]:
            marks = ", ".join(filter(None, (line["counted_on"] or "never counted",
                                            "DOUBTFUL" if line["doubted"] else "")))
            table.put(f"{line['part']}  {line['name']}: {marks}", indent=4)
    return None


@click.command()
@options.reading
@click.argument("mark")
def batch(mark: str) -> None:
    """Look for a batch by its MARK.

    Where its pieces lie, and where one was fitted.

    \b
    Example:  spares batch "LOT 4711"
    """
    from spares.actions.batches import batch as run

    answer = run(door.context(), mark)
    if options.asked().as_json:
        return say.answer_json(answer)
    for one in answer["where"]:
        table.put(f"{one['part']}  {one['part_name']}: {table.number(one['quantity'])} in "
                  f"{one['locker']} ({one['condition']})")
    for one in answer["fitted"]:
        now = "sits at" if one["still"] else "was fitted at"
        table.put(f"{one['part']}  {now} {one['point']} {one['name']} since {one['on']}")
    if not answer["lots"]:
        table.put("No lot bears this mark.")
    return None


COMMANDS = (took, put, landed, counted, moved, lent, doubt, counts, batch)
