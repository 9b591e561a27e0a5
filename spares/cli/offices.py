"""let-in-office, meet, answer-office: a vessel's own server and an office keep one log."""

from __future__ import annotations

import json
import os
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import click

from spares.cli import door, options, say, table
from spares.cli.codes import ERROR, OK
from spares.cli.files import existing
from spares.errors import InvalidInput

LARGEST_PAPER = 100_000
NOWHERE = "http://127.0.0.1:0"      # nothing is served while a file's store meets
OWNER_ONLY = 0o600


@click.command("let-in-office")
@options.reading
@click.argument("name")
@click.argument("file")
@click.option("--address", metavar="URL", help="Where the office reaches this server; its name "
                                               "on the vessel's net unless said.")
def let_in_office(name: str, file: str, address: str | None) -> None:
    """Let the office NAME keep this vessel too, and write its paper to FILE.

    The office takes FILE in by `spares meet FILE`. The key of the log is in it: give it to
    nobody else. To let the office go, revoke it in the list of devices.

    \b
    Example:  spares let-in-office "Quay office" for-the-office.json
    """
    from spares.actions.offices import let_in

    path = Path(file)
    if path.exists():
        raise InvalidInput.at("#/file", f"{file} is there already")
    paper = let_in(door.context(), options.settings(), name, address)
    _write(path, json.dumps(paper, indent=1) + "\n")
    if options.asked().as_json:
        say.answer_json({"file": str(path), "address": paper["address"]})
        return
    table.put(f"{name} may keep {paper['mark']} too, from {paper['address']}.")
    table.put(f"Its paper is {path}; the key of the log is in it, so give it to nobody else.")


@click.command()
@options.reading
@click.argument("file", required=False)
@click.option("--at", metavar="HOST:PORT", help="Connect there: the end of a tunnel, say.")
@click.option("--write", metavar="FILE", help="No net: write a letter for her to FILE.")
@click.option("--read", metavar="FILE", help="No net: take in her answer to the last letter.")
def meet(file: str | None, at: str | None, write: str | None, read: str | None) -> int:
    """Meet the vessels' own servers, until each and this office have the same.

    FILE is the paper that a vessel wrote by `spares let-in-office`, for the first meeting. Later
    all vessels are met whose paper was taken in, or the one of --vessel. Each may have been
    away for weeks. What was written here stays in force if a vessel does not answer.

    Where no net leads to her, a letter goes there and her answer comes back
    (`spares answer-office`). The times of what a letter brings are doubtful to her.

    \b
    Example:  spares meet for-the-office.json
              spares meet
              spares meet --vessel TGL --at 127.0.0.1:9443
              spares meet --vessel TGL --write to-tgl.json
    """
    from spares.actions import letters, offices
    from spares.db.engine import open_store

    settings = options.settings()
    with ExitStack() as stack:
        if settings.store_is_file:
            _alone(stack)
        store = open_store(settings.store, beside=settings.beside)
        stack.callback(store.close)
        only = offices.take_paper(store, _read(existing(file))) if file else None
        mark = options.asked().vessel
        if write:
            _write(Path(write), json.dumps(letters.write_letter(store, offices.home_of_one(
                store, only, mark))) + "\n")
            table.put(f"Her own server answers it: spares answer-office {write} ANSWER")
            return OK
        answers = [letters.take_answer(store, _json(existing(read)))] if read else \
            offices.meet_all(store, only=only, mark=mark, at=at)
    if options.asked().as_json:
        say.answer_json({"met": answers})
    for one in [] if options.asked().as_json else answers:
        _put(one)
    return ERROR if any(one["fault"] for one in answers) else OK


@click.command("answer-office")
@options.reading
@click.argument("letter")
@click.argument("answer")
def answer_office(letter: str, answer: str) -> None:
    """Take in an office's LETTER, aboard, and write the ANSWER that goes back.

    Taken in twice nothing changes. The letter has the office's token in it.

    \b
    Example:  spares answer-office to-tgl.json from-tgl.json
    """
    from spares.actions.letters import answer_letter
    from spares.web.running import find_server

    mark = find_server(options.settings())
    done = answer_letter(_json(existing(letter)), door.context(),
                         served_at=mark.address if mark else None)
    _write(Path(answer), json.dumps(done) + "\n")
    table.put(f"Bring {answer} to the office: spares meet --read {answer}")


def _alone(stack: ExitStack) -> None:
    """See that nobody else writes to a store that is a file."""
    from spares.web import running

    settings = options.settings()
    if mark := running.find_server(settings):
        raise running.served_already(settings, mark)
    stack.enter_context(running.marked(settings, NOWHERE, running.new_token()))


def _put(one: dict[str, Any]) -> None:
    if one["fault"]:
        table.put(f"{one['mark']}: not met: {one['fault']}")
        return
    table.put(f"{one['mark']}: {one['taken']} of her changes came here, {one['brought']} of ours "
              f"went to her; both have the same {one['rows']}.")
    if one["waiting"]:
        table.put(f"{len(one['waiting'])} of ours wait for her skipper, or were refused; they "
                  "count here and not there.", indent=2)
    if any(one.get("photos", {}).values()):
        table.put(f"Photos: {one['photos']['came']} came, {one['photos']['went']} went.", indent=2)
    if one.get("photos_fault"):
        table.put(f"Not all photos: {one['photos_fault']}", indent=2)
    if one["doubted"]:
        table.put("Her clock and ours disagree: the times of what was written here are doubtful "
                  "there. Set the wrong one right.", indent=2)


def _write(path: Path, text: str) -> None:
    try:
        with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, OWNER_ONLY), "w") as out:
            out.write(text)
    except (OSError, ValueError) as err:
        raise InvalidInput.at("#/file", f"{path} cannot be written: "
                              f"{getattr(err, 'strerror', None) or err}") from err


def _json(path: Path) -> Any:
    from spares.actions.read_json import read_json

    return read_json(path.read_bytes())


def _read(path: Path) -> Any:
    if not path.is_file() or path.stat().st_size > LARGEST_PAPER:
        raise InvalidInput.at("#/file", "this is no paper of a vessel that lets an office in")
    return _json(path)


COMMANDS = (let_in_office, meet, answer_office)
