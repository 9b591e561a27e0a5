"""A disk that is watched: a layer under SQLite, between it and the file system.

SQLite reaches files through a table of functions (its VFS: sqlite.org/vfs.html). Here the
default one is copied and what writes is routed past `listener`, in the very process whose
`sqlite3` module is used. A listener sees every write, cut, sync and deletion before it is done,
and may refuse it with one of SQLite's result codes, let half of a write be done, or kill the
process.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable
from dataclasses import dataclass

FULL, IOERR_WRITE, IOERR_FSYNC = 13, 10 | 3 << 8, 10 | 4 << 8     # sqlite.org/rescode.html
#: The system writes a part of it and no more, which SQLite's own layer calls a full disk.
SHORT = -FULL

_P, _I, _L = ctypes.c_void_p, ctypes.c_int, ctypes.c_longlong
_OPEN = ctypes.CFUNCTYPE(_I, _P, _P, _P, _I, _P)
_DELETE = ctypes.CFUNCTYPE(_I, _P, ctypes.c_char_p, _I)
_CLOSE = ctypes.CFUNCTYPE(_I, _P)
_WRITE = ctypes.CFUNCTYPE(_I, _P, _P, _I, _L)
_TRUNCATE = ctypes.CFUNCTYPE(_I, _P, _L)
_SYNC = ctypes.CFUNCTYPE(_I, _P, _I)


class _Vfs(ctypes.Structure):
    _fields_ = [("version", _I), ("file_bytes", _I), ("longest_path", _I), ("next", _P),
                ("name", ctypes.c_char_p), ("own", _P), ("open", _P), ("delete", _P),
                *((f"other{place}", _P) for place in range(14))]


class _Methods(ctypes.Structure):
    _fields_ = [("version", _I), ("close", _P), ("read", _P), ("write", _P), ("truncate", _P),
                ("sync", _P), *((f"other{place}", _P) for place in range(13))]


@dataclass(frozen=True)
class Act:
    """One thing that is to be done to a file: write, truncate, sync, delete or open."""

    what: str
    path: str
    at: int = 0
    data: bytes = b""


Listener = Callable[[Act], int]
listener: Listener | None = None
_kept: list[object] = []            # what SQLite points to must outlive it
_tables: dict[int, int] = {}
_paths: dict[int, str] = {}


def why_not() -> str:
    """Say why the disk cannot be watched here, "" if it can."""
    try:
        return "" if _library().sqlite3_vfs_find(None) else "SQLite has no file system here"
    except (OSError, AttributeError):
        return "SQLite is not a library of its own here"


def watch() -> None:
    """Route all files that are opened from now on past the listener; once for a process."""
    if _kept:
        return
    library = _library()
    default = ctypes.cast(library.sqlite3_vfs_find(None), ctypes.POINTER(_Vfs)).contents
    ours = _Vfs.from_buffer_copy(default)
    ours.name, ours.next = b"watched", None
    open_file = _OPEN(default.open)
    delete = _DELETE(default.delete)

    def opened(_: int, name: int, file: int, flags: int, out: int) -> int:
        code = open_file(ctypes.addressof(default), name, file, flags, out)
        if code == 0 and name:
            _paths[file] = ctypes.string_at(name).decode()
            _tell(Act("open", _paths[file]))
            methods = ctypes.cast(file, ctypes.POINTER(_P)).contents
            methods.value = _routed(methods.value or 0)
        return code

    def deleted(_: int, name: bytes, sync_folder: int) -> int:
        refused = _tell(Act("delete", name.decode(), sync_folder))
        return refused or delete(ctypes.addressof(default), name, sync_folder)
    callbacks = _OPEN(opened), _DELETE(deleted)
    ours.open, ours.delete = (ctypes.cast(one, _P) for one in callbacks)
    _kept.extend((library, default, ours, open_file, delete, *callbacks))
    assert library.sqlite3_vfs_register(ctypes.byref(ours), 1) == 0


def _routed(table: int) -> int:
    """Give the table of functions that routes past the listener, for the file system's own."""
    if table not in _tables:
        real = _Methods.from_address(table)
        known = {1: _Methods.other7.offset, 2: _Methods.other11.offset}
        ours = _Methods()
        ctypes.memmove(ctypes.byref(ours), table,
                       known.get(real.version, ctypes.sizeof(_Methods)))
        close, write = _CLOSE(real.close), _WRITE(real.write)
        truncate, sync = _TRUNCATE(real.truncate), _SYNC(real.sync)

        def closed(file: int) -> int:
            _paths.pop(file, None)
            return close(file)

        def written(file: int, data: int, size: int, at: int) -> int:
            act = Act("write", _paths[file], at, ctypes.string_at(data, size))
            refused = _tell(act)
            if refused == SHORT:
                write(file, data, size // 2, at)
                return FULL
            return refused or write(file, data, size, at)

        def cut(file: int, size: int) -> int:
            return _tell(Act("truncate", _paths[file], size)) or truncate(file, size)

        def synced(file: int, flags: int) -> int:
            return _tell(Act("sync", _paths[file])) or sync(file, flags)
        callbacks = _CLOSE(closed), _WRITE(written), _TRUNCATE(cut), _SYNC(synced)
        ours.close, ours.write, ours.truncate, ours.sync = (
            ctypes.cast(one, _P) for one in callbacks)
        _kept.extend((ours, close, write, truncate, sync, *callbacks))
        _tables[table] = ctypes.addressof(ours)
    return _tables[table]


def _tell(act: Act) -> int:
    return listener(act) if listener is not None else 0


def _library() -> ctypes.CDLL:
    """Give the library that the `sqlite3` module of this process uses, whichever that is."""
    import _sqlite3

    library = ctypes.CDLL(_sqlite3.__file__)        # looks a name up in what it is linked to, too
    library.sqlite3_vfs_find.restype = _P
    library.sqlite3_vfs_find.argtypes = [ctypes.c_char_p]
    return library
