"""Kind sheets as they count here: the program's, and those that a person keeps in a folder."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from spares.actions.context import Context
from spares.domain.fit.own_sheets import KindSheets, read_folder
from spares.domain.fit.sheets import KindSheet
from spares.errors import InvalidInput

Mark = tuple[tuple[str, int, int], ...]


def kind_sheets(folder: Path | None) -> KindSheets:
    """Give all sheets; those of *folder* are read again only after a file changed."""
    return _read(folder, _mark(folder))


def sheets_here(ctx: Context) -> Mapping[str, KindSheet]:
    """Give the sheets by kind that count where *ctx* is."""
    return kind_sheets(ctx.sheets_folder).sheets


def sheet_here(ctx: Context, kind: str) -> KindSheet:
    """Give the sheet of a kind.

    Raises:
        InvalidInput: there is none; where a person's own cannot be used, it says why.
    """
    known = kind_sheets(ctx.sheets_folder)
    _refuse_faulty(known, kind)
    if kind in known.sheets:
        return known.sheets[kind]
    raise InvalidInput.at("#/kind", f"there is no kind sheet {kind!r}")


def sheets_asked(folder: Path | None, request: Any) -> Mapping[str, KindSheet]:
    """Give the sheets for a computation asked as plain JSON.

    Raises:
        InvalidInput: the kind asked has only a person's own sheet, which cannot be used; why.
    """
    known = kind_sheets(folder)
    if isinstance(request, dict):
        _refuse_faulty(known, request.get("kind"))
    return known.sheets


def _refuse_faulty(known: KindSheets, kind: Any) -> None:
    why = "; ".join(one.text for one in known.faults if one.kind == kind)
    if why and kind not in known.sheets:
        raise InvalidInput.at("#/kind", f"there is no kind sheet {kind!r} that can be used: {why}")


def sheets_mark(ctx: Context) -> str:
    """Tell one state of a person's own sheets from another, for what is kept by it."""
    return str(hash(_mark(ctx.sheets_folder)))


def notes_on(ctx: Context, kind: str) -> list[str]:
    """Say where a person's own sheet of a kind could not be used, so that ours judged."""
    return [f"your own kind sheet is not used, the program's own is: {one.text}"
            for one in kind_sheets(ctx.sheets_folder).faults if one.kind == kind]


def kinds(folder: Path | None) -> dict[str, Any]:
    """List the kinds of part that there are sheets for, and what is wrong with a person's own."""
    known = kind_sheets(folder)
    return {"kinds": [{"kind": kind, "label": found.label, "file": known.own.get(kind),
                       "lines": len(found.attributes)}
                      for kind, found in sorted(known.sheets.items())],
            **faults(known), "folder": str(folder) if folder else None}


def faults(known: KindSheets) -> dict[str, Any]:
    """Give what is wrong with a person's own sheets, as plain JSON."""
    return {"faults": [{"file": one.file, "key": one.key, "detail": one.detail, "kind": one.kind}
                       for one in known.faults]}


def _mark(folder: Path | None) -> Mark:
    """Tell one state of the folder from another, without reading its files."""
    if folder is None:
        return ()
    found = []
    for path in sorted(folder.glob("*.toml")):
        try:
            seen = path.stat()
        except OSError:
            found.append((path.name, 0, -1))
            continue
        found.append((path.name, seen.st_mtime_ns, seen.st_size))
    return tuple(found)


@lru_cache(maxsize=8)
def _read(folder: Path | None, mark: Mark) -> KindSheets:
    return read_folder(folder)
