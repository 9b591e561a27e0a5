"""Files that came in: one file, a folder, or a zip archive of unknown origin.

Nothing is unpacked to disk. An archive is believed in nothing: names that climb
out, links, locked or doubled entries and what swells beyond the limits when
unpacked are refused by name.
"""

from __future__ import annotations

import io
import lzma
import stat
import struct
import zipfile
import zlib
from pathlib import Path, PurePosixPath

from spares.errors import InvalidInput

#: Largest file, unpacked [bytes].
LARGEST_FILE = 10_000_000
#: Most files in a folder or archive, and how much they may hold together, unpacked [bytes].
MOST_FILES = 100
LARGEST_TOTAL = 50_000_000
#: What the library raises at a damaged archive: each way of packing and each header its own.
_DAMAGED = (zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, OSError, ValueError,
            NotImplementedError, EOFError, RuntimeError)


def read_files(source: Path | bytes, name: str = "") -> dict[str, bytes]:
    """Give the content of each CSV file, by its name in lower case without folders.

    *source* is a folder, a zip archive or one CSV file; *name* is the file's name
    where only its content is given. Hidden files are passed over.

    Raises:
        InvalidInput: not readable, too large, or an entry that is not accepted.
    """
    if isinstance(source, Path):
        if source.is_dir():
            return _folder(source)
        name, source = source.name, _file(source)
    if len(source) > LARGEST_TOTAL:
        raise InvalidInput(f"{name or 'the file'}: larger than {LARGEST_TOTAL // 1_000_000} MB")
    if source[:4] in (b"PK\x03\x04", b"PK\x05\x06"):
        return _archive(source)
    return {_table_file(name): _within(source, name)}


def _folder(folder: Path) -> dict[str, bytes]:
    paths = sorted(p for p in folder.iterdir() if not p.name.startswith("."))
    if len(paths) > MOST_FILES:
        raise InvalidInput(f"{folder.name}: more than {MOST_FILES} files")
    found: dict[str, bytes] = {}
    for path in paths:
        _add(found, path.name, _within(_file(path), path.name))
    return found


def _file(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(LARGEST_TOTAL + 1)
    except OSError as err:
        raise InvalidInput(f"{path.name}: cannot be read ({err.strerror})") from err


def _archive(content: bytes) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            entries = archive.infolist()
            if len(entries) > MOST_FILES:
                raise InvalidInput(f"the archive holds more than {MOST_FILES} entries")
            for entry in entries:
                if not _passed_over(entry):
                    path = _safe_path(entry)
                    _add(found, path.name, _unpacked(archive, entry))
    except InvalidInput:
        raise
    except _DAMAGED as err:
        raise InvalidInput(f"the archive is damaged or of a kind that is not read: {err}") from err
    return found


def _passed_over(entry: zipfile.ZipInfo) -> bool:
    parts = PurePosixPath(entry.filename).parts
    hidden = any(part.startswith(".") and part != ".." for part in parts)
    return entry.is_dir() or hidden or "__MACOSX" in parts


def _safe_path(entry: zipfile.ZipInfo) -> PurePosixPath:
    path = PurePosixPath(entry.filename)
    if path.is_absolute() or ".." in path.parts or "\\" in entry.filename or ":" in entry.filename:
        raise InvalidInput(f"{entry.filename!r}: such a path in an archive is not accepted")
    if stat.S_ISLNK(entry.external_attr >> 16):
        raise InvalidInput(f"{entry.filename!r}: links in an archive are not accepted")
    if entry.flag_bits & 0x1:
        raise InvalidInput(f"{entry.filename!r}: the archive is locked with a password")
    return path


def _unpacked(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    # The size that the archive states may be a lie; only so much is unpacked.
    with archive.open(entry) as file:
        return _within(file.read(LARGEST_FILE + 1), entry.filename)


def _within(content: bytes, name: str) -> bytes:
    if len(content) > LARGEST_FILE:
        raise InvalidInput(f"{name or 'the file'}: larger than {LARGEST_FILE // 1_000_000} MB")
    return content


def _add(found: dict[str, bytes], name: str, content: bytes) -> None:
    key = _table_file(name)
    if key in found:
        raise InvalidInput(f"{key} is there twice")
    found[key] = content
    if sum(map(len, found.values())) > LARGEST_TOTAL:
        raise InvalidInput(f"more than {LARGEST_TOTAL // 1_000_000} MB in all")


def _table_file(name: str) -> str:
    key = Path(name).name.lower()
    if not key.endswith(".csv"):
        raise InvalidInput(f"{name or 'the file'}: a file of a table ends in .csv")
    return key
