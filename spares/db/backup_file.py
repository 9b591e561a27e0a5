"""A backup as a file: one zip archive whose every bit is accounted for.

Members, stored and not packed: `data.sqlite`, photos as `photos/<sha256>` where there are
any, then `manifest.json`, which holds size and SHA-256 of the others. The archive's comment
holds the SHA-256 of all that stands before the end record, so that a changed bit in any
header shows too. Nothing that the archive says of itself is believed before it is checked,
and nothing is unpacked before its name, kind and size are.
"""

from __future__ import annotations

import errno
import hashlib
import json
import re
import shutil
import struct
import zipfile
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import IO, Any

from spares.errors import DiskFull, InvalidInput
from spares.sync.strict_json import parse_json_strict

FORMAT = "spares-backup"
VERSION, VERSION_WITH_PHOTOS = 1, 2
NO_ROOM = (errno.ENOSPC, errno.EDQUOT)
DATA, MANIFEST = "data.sqlite", "manifest.json"
PHOTOS = "photos"
_PHOTO = re.compile(rf"{PHOTOS}/[0-9a-f]{{64}}")
LARGEST_MANIFEST, MORE_FOR_A_PHOTO = 1_000_000, 300
_BLOCK = 1 << 20
_SEAL = b"sha256 "
_END = struct.Struct("<4s4H2LH")        # the archive's end record, before its comment
_END_BYTES = _END.size + len(_SEAL) + 64
_EARLIEST = (1980, 1, 1, 0, 0, 0)


def write_backup(target: Path, data: Path, facts: dict[str, Any],
                 photos: Mapping[str, Path] = MappingProxyType({})) -> dict[str, Any]:
    """Write the archive *target* from the file *data* and photos by hash; gives the manifest.

    Raises:
        InvalidInput: the data are larger than an archive can hold (4 GiB).
        OSError: there is no room, or the file cannot be written.
    """
    files = {DATA: data, **{f"{PHOTOS}/{name}": photos[name] for name in sorted(photos)}}
    manifest = {"format": FORMAT, "version": VERSION_WITH_PHOTOS if photos else VERSION, **facts,
                "members": [{"name": name, "size": path.stat().st_size, "sha256": hash_of(path)}
                            for name, path in files.items()]}
    text = json.dumps(manifest, ensure_ascii=False, indent=1).encode()
    try:
        with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED, allowZip64=False) as archive:
            for name, path in files.items():
                with path.open("rb") as source, archive.open(_member(name, path), "w") as into:
                    shutil.copyfileobj(source, into, _BLOCK)
            archive.writestr(_member(MANIFEST), text)
    except (zipfile.LargeZipFile, RuntimeError) as err:
        raise InvalidInput.at("#/file", "the store is larger than 4 GiB") from err
    _put_seal(target)
    return manifest


def unpack_backup(source: Path, folder: Path) -> dict[str, Any]:
    """Check an archive and unpack its data and photos to *folder*; gives the manifest.

    Raises:
        InvalidInput: it is not a backup, or something in it is not as it was written;
            `member` names what.
    """
    try:
        with source.open("rb") as file:
            count = _check_end(file)
            with zipfile.ZipFile(file) as archive:
                _check_members(archive, source, count)
                manifest = _manifest(archive)
                _unpack(archive, manifest, folder)
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


def _check_end(file: IO[bytes]) -> int:
    """Check the end record bit by bit: one disk, nothing before or after; gives its count."""
    size = file.seek(0, 2)
    if size < _END_BYTES:
        raise _foreign()
    file.seek(-_END_BYTES, 2)
    mark, disk, first, here, all_, length, begin, comment = _END.unpack(file.read(_END.size))
    if mark != b"PK\x05\x06" or not _kept_seal(file).startswith(_SEAL):
        raise _foreign()
    if (disk, first, comment) != (0, 0, _END_BYTES - _END.size) or here != all_ or all_ < 2 \
            or begin + length != size - _END_BYTES:
        raise damaged("the archive")
    return int(all_)


def _check_members(archive: zipfile.ZipFile, source: Path, count: int) -> None:
    entries = archive.infolist()
    names = [entry.filename for entry in entries]
    photos = names[1:-1]
    if len(names) != count or photos != sorted(set(photos)):
        raise damaged("the archive")
    for entry, name in zip(entries, (DATA, *photos, MANIFEST), strict=True):
        if entry.filename != name or not (name in (DATA, MANIFEST) or _PHOTO.fullmatch(name)):
            raise damaged(repr(entry.filename[:60]), "does not belong in a backup")
        if entry.compress_type != zipfile.ZIP_STORED or entry.flag_bits & 1 \
                or entry.external_attr >> 16 != 0o100600 \
                or entry.file_size != entry.compress_size:
            raise damaged(name)
    if entries[-1].file_size > LARGEST_MANIFEST + MORE_FOR_A_PHOTO * len(photos) \
            or sum(entry.file_size for entry in entries) > source.stat().st_size:
        raise damaged(MANIFEST)


def _manifest(archive: zipfile.ZipFile) -> dict[str, Any]:
    try:
        manifest = parse_json_strict(archive.read(MANIFEST))
    except (InvalidInput, zipfile.BadZipFile) as err:
        raise damaged(MANIFEST) from err
    if not isinstance(manifest, dict) or manifest.get("format") != FORMAT:
        raise _foreign()
    has_photos = len(archive.infolist()) > 2
    if manifest.get("version") != (VERSION_WITH_PHOTOS if has_photos else VERSION):
        raise damaged(MANIFEST, "is of a form that this version does not know: use the newer "
                                "program")
    return manifest


def _unpack(archive: zipfile.ZipFile, manifest: dict[str, Any], folder: Path) -> None:
    (folder / PHOTOS).mkdir()
    found = []
    for entry in archive.infolist()[:-1]:
        name, target = entry.filename, folder / entry.filename
        try:
            with archive.open(name) as source, target.open("xb") as into:
                shutil.copyfileobj(source, into, _BLOCK)
        except zipfile.BadZipFile as err:
            raise damaged(name) from err
        found.append({"name": name, "size": entry.file_size, "sha256": hash_of(target)})
        if name != DATA and not name.endswith(found[-1]["sha256"]):
            raise damaged(name)
    said = manifest.get("members")
    if said != found:
        wrong = [one["name"] for one in found if not isinstance(said, list) or one not in said]
        raise damaged(wrong[0] if wrong else MANIFEST)


def _foreign() -> InvalidInput:
    return InvalidInput.at("#/file", "this is not a backup of this program, or its end is "
                           "missing; nothing was changed", member="the archive")
