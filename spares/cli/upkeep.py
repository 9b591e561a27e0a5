"""walk-round, found, baseline: taking over a vessel whose history nobody knows."""

from __future__ import annotations

from typing import Any

import click

from spares.cli import door, options, say, table
from spares.cli.stock import tell

_AT = click.option("--at", metavar="DATE", help="The day; today unless said.")
_STEPS = {"read-plate": "find and read the plate", "read-counter": "read the hour counter",
          "measure": "read its number, or measure it", "first-look": "look at it first"}


@click.command("walk-round")
@options.reading
@click.argument("machine", required=False)
def walk_round(machine: str | None) -> None:
    """List what is not known of each machine, and the next step.

    What was seen, told and guessed stays apart. With MACHINE also what is known.

    \b
    Example:  spares walk-round
              spares walk-round ENG
    """
    from spares.actions.walk_round import walk_round as run

    answer = run(door.context(), machine)
    if options.asked().as_json:
        return say.answer_json(answer)
    table.put(_progress(answer["progress"]))
    if answer["baseline_on"]:
        table.put(f"What nobody can date is counted from {answer['baseline_on']}.")
    for one in answer["machines"]:
        table.put()
        table.put(f"{one['machine']}  {one['name']}: {_progress(one['progress'])}")
        for asked in one["questions"]:
            if machine or asked["next_step"]:
                _show(asked)
    return None


def _progress(count: dict[str, int]) -> str:
    split = ", ".join(f"{count[key]} {key.replace('_', ' ')}" for key in (
        "seen", "on_record", "told", "guessed", "open") if count[key])
    return f"{count['answered']} of {count['asked']} answered ({split})"


def _show(asked: dict[str, Any]) -> None:
    state = "not known" if asked["state"] == "open" else asked["state"].replace("-", " ")
    step = f": {_STEPS[asked['next_step']]}" if asked["next_step"] else ""
    table.put(f"{asked['about']} {asked['question']}, {asked['what']}, {state}{step}", indent=4)
    for one in asked["answers"]:
        by = f" ({one['by']})" if one["by"] else ""
        table.put(f"{one['origin']}: {one['answer']}{by}", indent=8)


@click.command()
@options.reading
@click.argument("question", metavar="plate|counter|fit|history")
@click.argument("about")
@click.argument("origin", metavar="seen|told|guessed")
@click.argument("answer", required=False)
@click.option("--by", metavar="WHO", help="Who saw or said it.")
@click.option("--done-on", metavar="DATE", help="history: when it was last done, as far as known.")
@click.option("--hours", metavar="H", help="history: what the hour counter showed then.")
@click.option("--maker", metavar="TEXT", help="plate: the maker.")
@click.option("--model", metavar="TEXT", help="plate: the model.")
@click.option("--serial", metavar="TEXT", help="plate: the serial.")
@_AT
@click.option("--note", metavar="TEXT", help="A remark.")
def found(question: str, about: str, origin: str, answer: str | None, **more: Any) -> None:
    """Record an answer of the walk-round, and how it is known.

    ABOUT is a machine, a fit point or a service.

    \b
    Example:  spares found plate WIN seen --serial "YM 12-9"
              spares found history S15 told --done-on 2026-06 --by "the yard"
              spares found fit WIN-01 guessed "6 mm, by the old box"
    """
    tell(door.do("found", question=question, about=about, origin=origin, answer=answer, **more))


@click.command()
@options.reading
@_AT
@click.option("--taken-back", is_flag=True, default=None, help="Count from no day any more.")
def baseline(**more: Any) -> None:
    """Set the day from which services are counted that nobody can date.

    They get a day and can fall due; their history stays unknown.

    \b
    Example:  spares baseline --at 2027-03-01
    """
    tell(door.do("baseline", **more))


COMMANDS = (walk_round, found, baseline)
