"""backup, restore: the whole store as one file, and back."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import click

from spares.cli import door, options, say, table
from spares.cli.files import existing
from spares.errors import Conflict, InvalidInput

NOWHERE = "http://127.0.0.1:0"      # nothing is served while a store is put back


@click.command()
@options.whole_store
@click.argument("file")
def backup(file: str) -> None:
    """Write all vessels with their history to FILE.

    One zip file, checked and read back before it gets its name. FILE may be a folder; then
    the name carries the date. It also works while the server runs. Keep a copy off the
    vessel, and to yourself: the keys of the store are in it.

    \b
    Example:  spares backup ours.zip
    """
    from spares.actions.backup import backup as run
    from spares.db.engine import open_store

    settings = options.settings()
    door.leave_to_older_server()
    store = open_store(settings.store, beside=settings.beside)
    click.get_current_context().call_on_close(store.close)
    answer = run(store, Path(file))
    if options.asked().as_json:
        say.answer_json(answer)
        return
    table.put(f"Backup done and read back: {answer['file']} ({answer['size']} bytes).")
    _vessels(answer["vessels"])
    if answer["photos_not_inside"]:
        table.put(f"{answer['photos_not_inside']} photos are named but are not in the store.")


@click.command()
@options.whole_store
@click.argument("file")
@click.option("--look", is_flag=True, help="Only say what is in it and what would be lost.")
@click.option("--yes", is_flag=True, help="Do not ask before a store is replaced.")
def restore(file: str, look: bool, yes: bool) -> None:
    """Put the backup FILE in the place of the store.

    All of it is checked first; a file that is damaged anywhere is refused. What is in the
    store now is kept beside it. The server must not run.

    \b
    Example:  spares restore ours.zip --look
              spares restore ours.zip
    """
    path = existing(file)
    if not path.is_file():
        raise InvalidInput.at("#/file", f"{file} is no file")
    answer = _restored(path, look, yes)
    if options.asked().as_json:
        say.answer_json(answer)
        return
    table.put(f"Backup of {answer['made']}:" if look else
              f"Put back from {answer['file']}, made {answer['made']}:")
    _vessels(answer["vessels"])
    if answer["kept"]:
        table.put(f"What was there before is kept in {answer['kept']}.")


def _restored(path: Path, look: bool, yes: bool) -> dict[str, Any]:
    from spares.actions.backup import restore as run
    from spares.web import running

    settings = options.settings()
    if look:
        return run(settings, path, look=True)
    with running.marked(settings, NOWHERE, running.new_token()):
        if not yes and sys.stdin.isatty():
            _ask(run(settings, path, look=True))
        return run(settings, path)


def _ask(found: dict[str, Any]) -> None:
    """Ask once more where something is replaced; what is there is kept beside all the same."""
    only = sum(one["only_here"] for one in found["vessels"])
    what = "The store is damaged" if found["present_damaged"] else \
        f"{only} changes in the store came after this backup" if only else ""
    if what and not click.confirm(f"{what}; it will be set aside. Go on?", err=True):
        raise Conflict("nothing was changed")


def _vessels(lines: list[dict[str, Any]]) -> None:
    for one in lines:
        more = one.get("only_here")
        table.put(f"{one['mark']}  {one['name']}: {one['changes']} changes"
                  + (f", the newest of {one['newest']}" if one["newest"] else "")
                  + (f"; not in it: {more} of the store's changes" if more else ""), indent=2)


COMMANDS = (backup, restore)
