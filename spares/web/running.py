"""The mark of a running server: a file beside the store with its address and a token.

There is one writer to a store. While a server runs it holds this file locked, so the mark
of one that died (power cut, killed) is told from a living one even when its process number
is in use again. A command that writes reads the mark and hands its change to that server.
"""

from __future__ import annotations

import contextlib
import json
import os
import secrets
import sys
import time
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from spares.config import Settings
from spares.errors import StoreBusy

if sys.platform == "win32":
    import msvcrt

    _FAR = 1 << 30          # locked bytes cannot be read there, so one beyond the text is taken

    def _lock(descriptor: int, alone: bool) -> None:
        os.lseek(descriptor, _FAR, os.SEEK_SET)
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(descriptor: int, alone: bool) -> None:
        fcntl.flock(descriptor, (fcntl.LOCK_EX if alone else fcntl.LOCK_SH) | fcntl.LOCK_NB)


@dataclass(frozen=True)
class Mark:
    """Where the server of a store answers, and the secret that shows one may use it."""

    address: str
    token: str
    pid: int


def mark_path(settings: Settings) -> Path:
    """Give the path of the mark of the store's server."""
    return settings.mark


def new_token() -> str:
    """Make the secret of one run."""
    return secrets.token_urlsafe(32)


@contextlib.contextmanager
def marked(settings: Settings, address: str, token: str) -> Iterator[None]:
    """Hold the mark while the server runs.

    Raises:
        StoreBusy: another server runs on this store; `address` says where.
    """
    if not settings.store_is_file:      # a database has its own locks, and several servers
        yield
        return
    path = mark_path(settings)
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor = _take(path, settings)
    try:
        os.ftruncate(descriptor, 0)
        text = json.dumps(asdict(Mark(address, token, os.getpid())))
        os.lseek(descriptor, 0, os.SEEK_SET)
        os.write(descriptor, text.encode())
        yield
    finally:
        with contextlib.suppress(OSError):
            path.unlink()
        os.close(descriptor)


def find_server(settings: Settings) -> Mark | None:
    """Give the mark of the server that runs on this store, None where none does."""
    if not settings.store_is_file:
        return None
    path = mark_path(settings)
    try:
        descriptor = os.open(path, os.O_RDWR)
    except OSError:
        return None
    try:
        if _try_lock(descriptor, alone=False):
            return None                 # nobody holds it: the server has gone without a word
        return _read(path)
    finally:
        os.close(descriptor)


def _take(path: Path, settings: Settings) -> int:
    """Open and lock the file; a reader that looks at it this moment is waited for."""
    for _ in range(5):
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        if _try_lock(descriptor, alone=True):
            if _same_file(descriptor, path):
                os.chmod(path, 0o600)
                return descriptor
        os.close(descriptor)
        time.sleep(0.02)
    raise served_already(settings, _read(path))


def served_already(settings: Settings, mark: Mark | None) -> StoreBusy:
    """Make the error that says where the other server is."""
    where = mark.address if mark else "an address it has not told yet"
    return StoreBusy(f"this store is served already, at {where}", store=settings.shown,
                     address=where)


def _same_file(descriptor: int, path: Path) -> bool:
    """Tell whether the locked file is still the one that the name stands for."""
    try:
        return os.path.samestat(os.fstat(descriptor), path.stat())
    except FileNotFoundError:
        return False


def _try_lock(descriptor: int, alone: bool) -> bool:
    try:
        _lock(descriptor, alone)
    except OSError:
        return False
    return True


def _read(path: Path) -> Mark | None:
    try:
        return Mark(**json.loads(path.read_text("utf-8")))
    except (OSError, ValueError, TypeError):
        return None
