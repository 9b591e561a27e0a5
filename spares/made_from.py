"""What an environment was made from: the text beside it that every start compares.

A start reads this before anything else, so it needs no module but `os` and `sys`: reading JSON,
hashing and paths as objects take longer than all the rest of it.
"""

from __future__ import annotations

import os
import sys


def python_of(top: str) -> str:
    """Give the Python of the environment of the checkout at *top*."""
    return os.path.join(_folder(top), *(("Scripts", "python.exe") if os.name == "nt" else
                                        ("bin", "python")))


def file_of(top: str) -> str:
    """Give the file that says what the environment was made from."""
    return os.path.join(_folder(top), "spares-made-from.txt")


def text_of(top: str, extras: list[str]) -> str:
    """Write what an environment with *extras* is made from now: another text means it is stale.

    Its Python, the folder and the whole project file; the extras stand in the first line.
    """
    with open(os.path.join(top, "pyproject.toml"), encoding="utf-8") as project:
        return f"{' '.join(extras)}\n{top}\n{os.path.realpath(python_of(top))}\n{project.read()}"


def is_fresh(top: str, extras: list[str]) -> bool:
    """Tell whether there is an environment made from what stands here now, with *extras*."""
    try:
        with open(file_of(top), encoding="utf-8") as file:
            there = file.read()
        return set(extras) <= set(extras_of(top)) and there == text_of(top, extras_of(top))
    except (OSError, ValueError):
        return False


def extras_of(top: str) -> list[str]:
    """Give the extras that were installed, none where nobody knows."""
    try:
        with open(file_of(top), encoding="utf-8") as file:
            return file.readline().split()
    except (OSError, ValueError):
        return []


def is_this(top: str) -> bool:
    """Tell whether this very Python is the one of the environment."""
    return os.path.realpath(sys.prefix) == os.path.realpath(_folder(top))


def _folder(top: str) -> str:
    return os.path.join(top, ".venv")
