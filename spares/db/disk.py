"""Files and folders written through to the disk."""

from __future__ import annotations

import contextlib
import os
import sys
from pathlib import Path

OWNER_ONLY = 0o600


def sync_folder(folder: Path) -> None:
    """Write a folder's names through to the disk, where the system can."""
    if sys.platform != "win32":
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            with contextlib.suppress(OSError):      # not every file system can
                os.fsync(descriptor)
        finally:
            os.close(descriptor)


def sync_file(path: Path) -> None:
    """Write a file through to the disk."""
    with path.open("r+b") as file:
        os.fsync(file.fileno())
