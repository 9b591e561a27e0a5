"""`spares compute NAME FILE`: one computation on a JSON file, without a store."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from spares.cli import say
from spares.errors import InvalidInput

MAX_BYTES = 64 * 1024 * 1024


@click.command()
@click.argument("name")
@click.argument("file")
def compute(name: str, file: str) -> None:
    """Run the computation NAME on a JSON file.

    NAME is one of fit, stock, service, trip, kit, charge, cooling, torque, history;
    FILE `-` is standard input. The answer is JSON; an error is one problem object on
    standard error, and exit code 2.

    \b
    Example:  spares compute torque torque.json
              echo '{"thread": "M8", "class": "8.8"}' | spares compute torque -
    """
    from spares.actions.compute import compute as run
    from spares.actions.kind_sheets import sheets_asked
    from spares.actions.read_json import read_json
    from spares.config import read_settings

    asked = read_json(_bytes_of(file))
    sheets = sheets_asked(read_settings().sheets_folder, asked) if name == "fit" else None
    say.answer_json(run(name, asked, sheets))


def _bytes_of(file: str) -> bytes:
    try:
        if file == "-":
            data = sys.stdin.buffer.read(MAX_BYTES + 1)
        else:
            with Path(file).open("rb") as stream:
                data = stream.read(MAX_BYTES + 1)
    except OSError as err:
        raise InvalidInput.at("#/file", f"{file} cannot be read: {err.strerror}") from err
    except ValueError as err:
        raise InvalidInput.at("#/file", "this is no file name") from err
    if len(data) > MAX_BYTES:
        raise InvalidInput.at("#/file", f"{file} is larger than {MAX_BYTES} bytes")
    return data


COMMANDS = (compute,)
