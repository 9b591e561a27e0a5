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
SEAL_BYTES = len("sha256 ") + 64


def sealed(archive: bytes) -> bytes:
    """Put the seal on an archive that has no comment, as the program does."""
    seal = b"sha256 " + hashlib.sha256(archive[:-END_BYTES]).hexdigest().encode()
    return archive[:-2] + len(seal).to_bytes(2, "little") + seal


def _unsealed(archive: bytearray) -> bytes:
    bare = archive[:-SEAL_BYTES]
    bare[-2:] = b"\x00\x00"
    return bytes(bare)


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


def crafted(data: bytes, manifest: dict[str, Any]) -> dict[str, bytes]:
    """Archives with the right seal and something in them that does not belong there."""
    text, link = json.dumps(manifest).encode(), 0o120777
    locked = bytearray(fitting(data, manifest))
    locked[locked.index(b"PK\x01\x02") + 8] |= 1      # its first member is encrypted, it says
    data_, manifest_ = (member("data.sqlite"), data), (member("manifest.json"), text)
    return {
        "climbs out": archive((member("../data.sqlite"), data), manifest_),
        "absolute": archive((member("/data.sqlite"), data), manifest_),
        "backslash": archive((member("..\\data.sqlite"), data), manifest_),
        "link": archive((member("data.sqlite", link), b"/etc/passwd"), manifest_),
        "folder": archive((member("data.sqlite/"), b""), manifest_),
        "twice": archive(data_, data_), "other order": archive(manifest_, data_),
        "one more": archive(data_, (member("x"), b""), manifest_),
        "one alone": archive(data_),
        "packed": archive((member("data.sqlite", packed=zipfile.ZIP_DEFLATED), data), manifest_),
        "swells": archive((member("data.sqlite", packed=zipfile.ZIP_DEFLATED), bytes(10**7)),
                          manifest_),
        "locked": sealed(_unsealed(locked)), "many": archive(
            data_, *((member(f"photos/{n:064x}"), b"") for n in range(1000)), manifest_),
        "nested": fitting(archive(data_, manifest_), manifest),
        "no SQLite": fitting(b"not a store", manifest), "empty": fitting(b"", manifest),
        "no JSON": archive(data_, (member("manifest.json"), b"{")),
        "twice in JSON": archive(data_, (member("manifest.json"), b'{"a":1,"a":2}')),
        "a list": archive(data_, (member("manifest.json"), b"[]")),
        "huge": archive(data_, (member("manifest.json"), b" " * 2_000_000 + text)),
        "size lie": fitting(data, manifest, members=[{**manifest["members"][0], "size": 5}]),
        "hash lie": fitting(data, manifest, members=[{**manifest["members"][0],
                                                      "sha256": "0" * 64}]),
        "no members": fitting(data, manifest, members=[]),
        "foreign format": fitting(data, manifest, format="other"),
        "newer format": fitting(data, manifest, version=2),
        "seq lie": fitting(data, manifest, vessels=[{**manifest["vessels"][0], "seq": 1}]),
        "vessels lie": fitting(data, manifest, vessels=[])}
