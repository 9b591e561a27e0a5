"""`spares fit FITPOINT PART`: does it fit, as she is fitted today?"""

from __future__ import annotations

from typing import Any

import click

from spares.cli import codes, door, options, say, table, words

_CODES = {"fits": codes.OK, "fits-with-changes": codes.SHORT, "not-known-yet": codes.NOT_KNOWN,
          "does-not-fit": codes.DOES_NOT_FIT}
_FIRST = ("stop", "unknown", "change", "advisory", "match")


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
    how_many = f" ({len(answer['changes'])})" if answer["changes"] else ""
    table.put(words.word(words.VERDICTS, answer["verdict"]).upper() + how_many)
    for row in sorted(answer["rows"], key=lambda row: _FIRST.index(row["outcome"])):
        _print_row(row)
    for title, lines in (
            ("Measure", _labels(answer)),
            ("Change", _changes(answer)),
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
        tags = ", ".join(words.word(words.TAGS, one) for one in count["tags"])
        table.put(f"Aboard: {table.number(count['usable'])} usable"
                  + (f", {state}" if state else "") + (f" ({tags})" if tags else ""), indent=2)
    _print_cautions(answer["cautions"])


def _labels(answer: dict[str, Any]) -> list[str]:
    """Give what is to be measured by its words, in the order that rules out soonest."""
    rows = {row["attr"]: row["label"] for row in answer["rows"]}
    return [rows.get(attr, attr) for attr in answer["to_measure"]]


def _changes(answer: dict[str, Any]) -> list[str]:
    """Give each named change, with the part that it takes and how many of it are aboard."""
    takes = {one["attr"]: one["text"] for one in answer["needs"]}
    return [takes.get(one["attr"], one["change"] + (f": {one['detail']}" if one["detail"] else ""))
            for one in answer["changes"]]


def _print_row(row: dict[str, Any]) -> None:
    head = f"{words.word(words.OUTCOMES, row['outcome'])}: {row['label']}"
    asks = f"asks {row['required']}" if row["required"] is not None else ""
    has = f"has {row['offered']}" if row["offered"] is not None else ""
    said = ", ".join(filter(None, (asks, has)))
    table.put(f"{head}, {said}" if said else head, indent=2)
    if row.get("reason") and row["outcome"] != "match":
        table.put(row["reason"], indent=6)


def _print_cautions(cautions: list[dict[str, Any]]) -> None:
    """Name the cautions of the work; their words stand on the job card and with the service."""
    marks = [one["mark"] for one in cautions if one["mark"]]
    if marks:
        table.put(f"Before any work, read the cautions: {'; '.join(marks)}.", indent=2)
    for one in cautions:
        if not one["mark"]:
            table.put(one["text"], indent=2)


def _plain(one: Any) -> str:
    return str(one.get("advisory") or one) if isinstance(one, dict) else str(one)


@click.command()
@options.reading
def kinds() -> None:
    """List the kinds of part that fit is judged by, your own among them.

    A file KIND.toml in the folder that is named at the end makes a kind of your own, or goes
    before the program's. One that cannot be used is told with the key that is wrong.

    \b
    Example:  spares kinds
    """
    from spares.actions.kind_sheets import kinds as run

    answer = run(options.settings().sheets_folder)
    if options.asked().as_json:
        return say.answer_json(answer)
    table.columns([(one["kind"], one["label"], one["file"] or "") for one in answer["kinds"]])
    for one in answer["faults"]:
        table.put(f"Not used: {one['file']}, {one['key'] or 'the file'}: {one['detail']}")
    table.put(f"Your own: {answer['folder']}")
    return None


COMMANDS = (fit, kinds)
