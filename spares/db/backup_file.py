"""A backup as a file: one zip archive whose every bit is accounted for.

Two members, stored and not packed: `data.sqlite`, then `manifest.json`, which holds size
and SHA-256 of the first. The archive's comment holds the SHA-256 of all that stands before
the end record, so that a changed bit in any header shows too. Nothing that the archive
says of itself is believed before it is checked, and nothing is unpacked before its name,
kind and size are.
"""

from __future__ import annotations

import errno
import hashlib
import json
import shutil
import struct
import zipfile
from pathlib import Path
from typing import IO, Any

from spares.errors import DiskFull, InvalidInput
from spares.sync.strict_json import parse_json_strict

FORMAT, VERSION = "spares-backup", 1
NO_ROOM = (errno.ENOSPC, errno.EDQUOT)
DATA, MANIFEST = "data.sqlite", "manifest.json"
LARGEST_MANIFEST = 1_000_000
_BLOCK = 1 << 20
_SEAL = b"sha256 "
_END = struct.Struct("<4s4H2LH")        # the archive's end record, before its comment
_END_BYTES = _END.size + len(_SEAL) + 64
_EARLIEST = (1980, 1, 1, 0, 0, 0)


def write_backup(target: Path, data: Path, facts: dict[str, Any]) -> dict[str, Any]:
    """Write the archive *target* from the file *data*; gives the manifest.

    Raises:
        InvalidInput: the data are larger than an archive can hold (4 GiB).
        OSError: there is no room, or the file cannot be written.
    """
    manifest = {"format": FORMAT, "version": VERSION, **facts, "members": [
        {"name": DATA, "size": data.stat().st_size, "sha256": hash_of(data)}]}
    text = json.dumps(manifest, ensure_ascii=False, indent=1).encode()
    try:
        with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED, allowZip64=False) as archive:
            with data.open("rb") as source, archive.open(_member(DATA, data), "w") as into:
                shutil.copyfileobj(source, into, _BLOCK)
            archive.writestr(_member(MANIFEST), text)
    except (zipfile.LargeZipFile, RuntimeError) as err:
        raise InvalidInput.at("#/file", "the store is larger than 4 GiB") from err
    _put_seal(target)
    return manifest


def unpack_backup(source: Path, folder: Path) -> dict[str, Any]:
    """Check an archive and unpack its data to *folder*; gives the manifest.

    Raises:
        InvalidInput: it is not a backup, or something in it is not as it was written;
            `member` names what.
    """
    try:
        with source.open("rb") as file:
            _check_end(file)
            with zipfile.ZipFile(file) as archive:
                _check_members(archive, source)
                manifest = _manifest(archive)
                _unpack(archive, manifest, folder / DATA)
            file.seek(0)
            if _seal_of(file) != _kept_seal(file):
                raise damaged("the archive")
    except (zipfile.BadZipFile, EOFError, NotImplementedError, RuntimeError, ValueError) as err:
        if isinstance(err, InvalidInput):
            raise
        raise damaged("the archive") from err
    except OSError as err:
        if err.errno in NO_ROOM:
            raise DiskFull("there is no room to unpack the backup; nothing was changed") from err
        raise InvalidInput.at("#/file", f"cannot be read: {err.strerror or err}") from err
    return manifest


def hash_of(path: Path) -> str:
    """Give the SHA-256 of a file, in hex."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def damaged(member: str, why: str = "is not as it was written") -> InvalidInput:
    """Make the error for a part of a backup that cannot be trusted."""
    return InvalidInput.at("#/file", f"{member} {why}; nothing was changed", member=member)


def _member(name: str, path: Path | None = None) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, _EARLIEST)
    info.external_attr = 0o100600 << 16
    if path is not None:
        info.file_size = path.stat().st_size
    return info


def _put_seal(path: Path) -> None:
    with path.open("r+b") as file:
        file.seek(-_END.size, 2)
        end = _END.unpack(file.read(_END.size))
        seal = _seal_of(file, without=_END.size)
        file.seek(-_END.size, 2)
        file.write(_END.pack(*end[:-1], len(seal)) + seal)


def _seal_of(file: IO[bytes], without: int = _END_BYTES) -> bytes:
    file.seek(0, 2)
    left = file.tell() - without
    file.seek(0)
    found = hashlib.sha256()
    while left > 0 and (block := file.read(min(_BLOCK, left))):
        found.update(block)
        left -= len(block)
    return _SEAL + found.hexdigest().encode()


def _kept_seal(file: IO[bytes]) -> bytes:
    file.seek(-(_END_BYTES - _END.size), 2)
    return file.read()


def _check_end(file: IO[bytes]) -> None:
    """Check the end record bit by bit: two members, one disk, nothing before or after."""
    size = file.seek(0, 2)
    if size < _END_BYTES:
        raise _foreign()
    file.seek(-_END_BYTES, 2)
    mark, disk, first, here, all_, length, begin, comment = _END.unpack(file.read(_END.size))
    if mark != b"PK\x05\x06" or not _kept_seal(file).startswith(_SEAL):
        raise _foreign()
    if (disk, first, here, all_, comment) != (0, 0, 2, 2, _END_BYTES - _END.size) \
            or begin + length != size - _END_BYTES:
        raise damaged("the archive")


def _check_members(archive: zipfile.ZipFile, source: Path) -> None:
    entries = archive.infolist()
    for entry, name in zip(entries, (DATA, MANIFEST), strict=True):
        if entry.filename != name:
            raise damaged(repr(entry.filename[:60]), "does not belong in a backup")
        if entry.compress_type != zipfile.ZIP_STORED or entry.flag_bits & 1 \
                or entry.external_attr >> 16 != 0o100600 \
                or entry.file_size != entry.compress_size:
            raise damaged(name)
    if entries[1].file_size > LARGEST_MANIFEST \
            or sum(entry.file_size for entry in entries) > source.stat().st_size:
        raise damaged(MANIFEST)


def _manifest(archive: zipfile.ZipFile) -> dict[str, Any]:
    try:
        manifest = parse_json_strict(archive.read(MANIFEST))
    except (InvalidInput, zipfile.BadZipFile) as err:
        raise damaged(MANIFEST) from err
    if not isinstance(manifest, dict) or manifest.get("format") != FORMAT:
        raise _foreign()
    if manifest.get("version") != VERSION:
        raise damaged(MANIFEST, "is of a form that this version does not know: use the newer "
                                "program")
    return manifest


def _unpack(archive: zipfile.ZipFile, manifest: dict[str, Any], target: Path) -> None:
    size = archive.getinfo(DATA).file_size
    try:
        with archive.open(DATA) as source, target.open("xb") as into:
            shutil.copyfileobj(source, into, _BLOCK)
    except zipfile.BadZipFile as err:
        raise damaged(DATA) from err
    if manifest.get("members") != [{"name": DATA, "size": size, "sha256": hash_of(target)}]:
        raise damaged(DATA)


def _foreign() -> InvalidInput:
    return InvalidInput.at("#/file", "this is not a backup of this program, or its end is "
                           "missing; nothing was changed", member="the archive")
