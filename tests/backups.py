"""Backups taken apart and put together again by the tests, right seal and all."""

from __future__ import annotations

import hashlib
import io
import json
import sqlite3
import warnings
import zipfile
from contextlib import closing
from pathlib import Path
from typing import Any

END_BYTES = 22          # the end record of an archive without its comment (from memory)


def sealed(archive: bytes) -> bytes:
    """Put the seal on an archive that has no comment, as the program does."""
    seal = b"sha256 " + hashlib.sha256(archive[:-END_BYTES]).hexdigest().encode()
    return archive[:-2] + len(seal).to_bytes(2, "little") + seal


def member(name: str, mode: int = 0o100600, packed: int = zipfile.ZIP_STORED) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    info.external_attr, info.compress_type = mode << 16, packed
    return info


def archive(*members: tuple[zipfile.ZipInfo, bytes]) -> bytes:
    """Make a sealed archive of any members."""
    into = io.BytesIO()
    with warnings.catch_warnings(), zipfile.ZipFile(into, "w") as made:
        warnings.simplefilter("ignore")         # of names that stand twice
        for info, content in members:
            made.writestr(info, content)
    return sealed(into.getvalue())


def parts(backup: Path) -> tuple[bytes, dict[str, Any]]:
    """Give the data and the manifest of a backup."""
    with zipfile.ZipFile(backup) as opened:
        return opened.read("data.sqlite"), json.loads(opened.read("manifest.json"))


def fitting(data: bytes, manifest: dict[str, Any], **said: Any) -> bytes:
    """Make a backup whose manifest fits its data in size and hash; *said* it says besides."""
    members = [{"name": "data.sqlite", "size": len(data),
                "sha256": hashlib.sha256(data).hexdigest()}]
    text = json.dumps({**manifest, "members": members, **said}).encode()
    return archive((member("data.sqlite"), data), (member("manifest.json"), text))


def changed(data: bytes, folder: Path, *lines: str) -> bytes:
    """Run SQL on a store's bytes, as somebody with another program could."""
    path = folder / "changed.sqlite"
    path.write_bytes(data)
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA writable_schema=ON")
        for line in lines:
            connection.execute(line)
    found = path.read_bytes()
    path.unlink()
    return found
