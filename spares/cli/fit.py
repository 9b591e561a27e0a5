"""`spares fit FITPOINT PART`: does it fit, as she is fitted today?"""

from __future__ import annotations

from typing import Any

import click

from spares.cli import codes, door, options, say, table, words

_CODES = {"fits": codes.OK, "fits-with-changes": codes.SHORT, "not-known-yet": codes.NOT_KNOWN,
          "does-not-fit": codes.DOES_NOT_FIT}


@click.command()
@options.reading
@click.argument("point", metavar="FITPOINT")
@click.argument("part")
def fit(point: str, part: str) -> int:
    """Say whether PART fits FITPOINT, row by row.

    Judged as she is fitted today, with what the exchange would strand.

    Exit code 0 fits, 3 fits with changes, 4 not known yet, 5 does not fit.

    \b
    Example:  spares fit ENG-04 P008
    """
    from spares.actions.fit import fit as run

    answer = run(door.context(), point, part)
    if options.asked().as_json:
        say.answer_json(answer)
    else:
        _print(answer)
    return _CODES[answer["verdict"]]


def _print(answer: dict[str, Any]) -> None:
    point, part = answer["point"], answer["part"]
    table.put(f"{part['no']} {part['name']} at {point['no']} {point['name']}, "
              f"{point['machine_name']}:")
    table.put(words.word(words.VERDICTS, answer["verdict"]).upper())
    table.columns([(words.word(words.OUTCOMES, row["outcome"]), row["label"],
                    _row(row)) for row in answer["rows"]], indent=2)
    for title, lines in (
            ("Measure", answer["to_measure"]),
            ("Needs", [one["text"] for one in answer["needs"]]),
            ("Would be stranded", [f"{one['part']} {one['name']} "
                                   f"({table.number(one['quantity'])} aboard)"
                                   for one in answer["would_strand"]]),
            ("No longer needed", [f"{one['part']} {one['name']}"
                                  for one in answer["no_longer_needed"]]),
            ("Mind", [_plain(one) for one in answer["advisories"]]),
            ("Notes", answer["notes"])):
        for line in lines:
            table.put(f"{title}: {line}", indent=2)
    count = answer.get("count")
    if count:
        state = words.word(words.COUNTS, count["state"])
        table.put(f"Aboard: {table.number(count['usable'])} usable"
                  + (f", {state}" if state else ""), indent=2)
    for caution in answer["cautions"]:
        table.put(f"{caution['sign']}: {caution['text']}", indent=2)


def _row(row: dict[str, Any]) -> str:
    offered = row["offered"] if row["offered"] is not None else "not known"
    reason = f" - {row['reason']}" if row.get("reason") else ""
    return f"asks {row['required']}, has {offered}{reason}"


def _plain(one: Any) -> str:
    return str(one.get("text") or one.get("reason") or one) if isinstance(one, dict) else str(one)


COMMANDS = (fit,)
