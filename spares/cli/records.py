"""undo, settle, same, changes, check: what was recorded, and setting it right."""

from __future__ import annotations

import click

from spares.cli import door, options, say, table
from spares.cli.stock import tell


@click.command()
@options.reading
@click.argument("change", required=False)
def undo(change: str | None) -> None:
    """Take CHANGE back, or the last one.

    An import goes back as a whole. Nothing is rubbed out: the taking back is a change of its own.

    \b
    Example:  spares undo
    """
    tell(door.do("undo", change=change))


@click.command()
@options.reading
@click.argument("change")
@click.argument("side", metavar="before|after")
@click.option("--part", metavar="PART", help="Part that was counted.")
@click.option("--locker", metavar="LOCKER", help="Where: what was moved can be in doubt twice.")
@click.option("--lot", metavar="LOT", help="Lot that was counted: its code or id.")
def settle(change: str, side: str, **place: str | None) -> None:
    """Settle a doubt: CHANGE was before or after the count.

    \b
    Example:  spares settle 0a8ec6b2-6a54-4a9e-8a7c-0f7d3a9b1c22 before
    """
    tell(door.do("settle", change=change, side=side, **place))


@click.command()
@options.reading
@click.argument("keep")
@click.argument("drop")
def same(keep: str, drop: str) -> None:
    """Record that KEEP and DROP are the same part.

    Counts add up under KEEP.

    \b
    Example:  spares same P001 P121
    """
    tell(door.do("same", keep=keep, drop=drop))


@click.command()
@options.reading
@click.option("--limit", type=click.IntRange(1, 500), default=20, help="How many.")
def changes(limit: int) -> None:
    """List what was changed, newest first.

    With the ids that `undo` and `settle` take.

    \b
    Example:  spares changes --limit 5
    """
    from spares.actions.changes import changes as run

    answer = run(door.context(), limit)
    if options.asked().as_json:
        return say.answer_json(answer)
    for one in answer["changes"]:
        back = " (taken back)" if one["undone"] else ""
        table.put(f"{one['at']}  {one['text']}{back}")
        table.put(one["id"], indent=22)
    return None


@click.command()
@options.reading
@click.option("--rebuild", is_flag=True, help="Make all tables anew from the log.")
def check(rebuild: bool) -> None:
    """Check the store, and list what cannot be right.

    \b
    Example:  spares check
              spares check --rebuild
    """
    from spares.actions.check import check as run

    if rebuild:
        answer = door.write("POST", "check", {"rebuild": True},
                            lambda: run(door.context(), rebuild=True))
    else:
        answer = run(door.context())
    if options.asked().as_json:
        say.answer_json(answer)
        return
    table.put(f"{answer['entries']} changes in the log; the chain is whole.")
    for one in answer["faults"]:
        table.put(one["text"], indent=2)
    if rebuild:
        table.put("All tables were made anew: " + (
            f"{len(answer['differences'])} differences." if answer["differences"]
            else "nothing was different."))
    return None


COMMANDS = (undo, settle, same, changes, check)
