"""label, import, export: files that go out and come in."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import click

from spares.cli import door, options, say, table
from spares.errors import InvalidInput

_KINDS = {".json": "application/json", ".csv": "text/csv"}


@click.command()
@options.common
@click.argument("kind", metavar="lockers|machines|bags")
@click.option("--size", default="M", metavar="S|M|L", help="40x20, 70x36 or 100x60 mm.")
@click.option("--sheet", default="single", metavar="NAME",
              help="single (a page a label), a4, a5 or letter.")
@click.option("--rows", type=click.IntRange(1, 100), help="Labels down the sheet.")
@click.option("--columns", type=click.IntRange(1, 100), help="Labels across.")
@click.option("--margin-left", "margin_left_mm", type=click.FloatRange(0, 300), metavar="MM",
              help="Of the first label; centred unless said.")
@click.option("--margin-top", "margin_top_mm", type=click.FloatRange(0, 300), metavar="MM")
@click.option("--gap-x", "gap_x_mm", type=click.FloatRange(0, 300), metavar="MM")
@click.option("--gap-y", "gap_y_mm", type=click.FloatRange(0, 300), metavar="MM")
@click.option("--start", type=click.IntRange(1, 10_000), metavar="N",
              help="First free place of a sheet that was begun.")
@click.option("--outline", is_flag=True, help="Draw a thin line to cut along.")
@click.option("--only", metavar="A,B,...", default="", help="Only these.")
@click.option("--dpi", type=int, default=300, metavar="203|300|600", help="Of the printer.")
@click.option("--address", metavar="URL", help="Put this address into the symbol.")
@options.language
@click.option("--out", metavar="FILE", help="Where to write; labels-KIND.pdf unless said.")
def label(kind: str, only: str, dpi: int, address: str | None, language: str | None,
          out: str | None, **sheet: Any) -> None:
    """Print labels as a PDF whose outer size is exact.

    \b
    Example:  spares label lockers --sheet a4 --size M --outline
    """
    from spares.actions.label_sheet import label_sheet
    from spares.actions.labels import labels, labels_there

    if kind == "bags":
        door.do("code-lots")        # a bag is labelled by its lot's code
    said = {name: value for name, value in sheet.items() if value not in (None, False)}
    names = [one.strip() for one in only.split(",") if one.strip()]
    ctx = door.context()
    data = labels(ctx, kind, size=sheet["size"], only=names, dpi=dpi, address=address,
                  sheet=label_sheet(**said), language=language or "en")
    write_file(data, out or f"labels-{kind}.pdf")
    if lacking := labels_there(ctx)["cannot_show"]:
        click.echo(f"labels cannot show these characters; ? stands there: {' '.join(lacking)}",
                   err=True)


@click.command("import")
@options.reading
@click.argument("file")
@click.option("--look", is_flag=True, help="Only say what would happen.")
@click.option("--day-zero", metavar="DATE",
              help="The day that the files' own day zero stands for now.")
def import_(file: str, look: bool, day_zero: str | None) -> None:
    """Bring in FILE, all of it or nothing.

    A folder or zip of CSV tables, one CSV, or JSON. Brought in twice, nothing changes. A fault is
    named by file, row and column. `spares undo ID`, with the id that it prints, takes an import
    back as a whole.

    \b
    Example:  spares import vessel.zip --look
              spares import parts.csv --vessel TGL
    """
    answer = _bring_in(existing(file), look, day_zero)
    if options.asked().as_json:
        say.answer_json(answer)
        return
    verb = "would come in" if look else "came in"
    table.put(f"{answer['changes']} changes {verb} for {answer['vessel']}"
              + (f", {answer['known_already']} were known already." if answer["known_already"]
                 else "."))
    table.columns([(count, kind) for kind, count in answer["things"].items()], indent=2)
    if answer.get("batch"):
        table.put(f"To take all of it back: spares undo {answer['batch']}")


def _bring_in(path: Path, look: bool, day_zero: str | None) -> dict[str, Any]:
    from datetime import date
    from urllib.parse import urlencode

    from spares.actions.bring_in import bring_in
    from spares.db.engine import open_store
    from spares.web.running import find_server

    zero = date.fromisoformat(_day(day_zero)) if day_zero else None
    settings = options.settings()
    mark = find_server(settings)
    if mark is not None and not look:
        query = urlencode({key: value for key, value in (
            ("name", path.name), ("day_zero", day_zero)) if value})
        data = _packed(path) if path.is_dir() else path.read_bytes()
        kind = "application/zip" if path.is_dir() else _KINDS.get(path.suffix.lower(),
                                                                  "application/zip")
        return door.send(mark, "POST", f"import?{query}", data, kind)
    door.leave_to_older_server()
    store = open_store(settings.store, beside=settings.beside)
    click.get_current_context().call_on_close(store.close)
    return bring_in(store, path, vessel=options.asked().vessel, look=look, day_zero=zero)


def _packed(folder: Path) -> bytes:
    """Pack the files of a folder, as a server takes one file."""
    import io
    import zipfile

    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(folder.iterdir()):
            if path.is_file() and not path.name.startswith("."):
                archive.write(path, path.name)
    return packed.getvalue()


@click.command()
@options.common
@click.argument("form", metavar="csv|ics|json|photos")
@click.option("--out", metavar="FILE", help="Where to write; standard output for json and ics.")
@click.option("--semicolons", is_flag=True, help="CSV with semicolons and decimal commas.")
@click.option("--events", is_flag=True, help="Calendar of all-day events, not of to-dos.")
def export(form: str, out: str | None, semicolons: bool, events: bool) -> None:
    """Write tables (csv), calendar (ics), all (json), or the photos.

    \b
    Example:  spares export csv --out vessel.zip
              spares export ics --out services.ics
    """
    import json

    from spares.actions.export import export_csv, export_ics, export_json
    from spares.actions.photos import export_photos

    if form == "csv":
        write_file(export_csv(door.context(), semicolons=semicolons), out or "vessel.zip")
        return
    if form == "photos":
        write_file(export_photos(door.context()), out or "photos.zip")
        return
    if form not in ("ics", "json"):
        raise InvalidInput.at("#/form", "one of csv, ics, json, photos is needed")
    text = export_ics(door.context(), as_events=events) if form == "ics" else json.dumps(
        export_json(door.context()), ensure_ascii=False, indent=1) + "\n"
    if out:
        write_file(text.encode(), out)
    else:
        click.echo(text, nl=False)


def write_file(data: bytes, out: str) -> None:
    """Write *data* to the file *out*, whole or not at all, and say so.

    Raises:
        InvalidInput: the file cannot be written.
    """
    path = Path(out)
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(data)
        os.replace(beside, path)
    except (OSError, ValueError) as err:
        raise InvalidInput.at("#/out", f"{out} cannot be written: "
                              f"{getattr(err, 'strerror', None) or err}") from err
    click.echo(f"wrote {path} ({len(data)} bytes)", err=True)


def existing(file: str) -> Path:
    """Give the path of a file or folder that is there.

    Raises:
        InvalidInput: it is not, or the text is no path.
    """
    try:
        if Path(file).exists():
            return Path(file)
    except (OSError, ValueError) as err:
        raise InvalidInput.at("#/file", "this is no file name") from err
    raise InvalidInput.at("#/file", f"there is no {file}")


def _day(text: str) -> str:
    from spares.actions.amounts import day

    return day(text, "day_zero")


COMMANDS = (label, import_, export)
