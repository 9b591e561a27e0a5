"""Readers of README.md and DEVELOPERS.md: what they name has to be there."""

from __future__ import annotations

import re
from pathlib import Path

from spares.cli.main import GROUPS
from spares.config import SETTINGS
from tests.structure.layers import TOP

VERBS = {verb for verbs in GROUPS.values() for verb in verbs}
NAMES = {setting.name for setting in SETTINGS} | {"SPARES_LONG"}

_CODE = re.compile(r"```.*?```|`[^`\n]+`", re.S)
_VERB = re.compile(r"(?:python3? -m |py -m |bin/|^\s*)spares ([a-z][a-z-]*)", re.M)
_PATH = re.compile(r"(?<![\w./~-])(?:spares|static|tests|seed|\.ci)/[\w./*-]*|"
                   r"(?<![\w./~*-])[\w-]+\.(?:md|toml)\b")
_LINK = re.compile(r"\]\((?!https?:|#)([^)#]+)")


def code_of(text: str) -> list[str]:
    """Give what stands in backticks or in a block of code."""
    return [piece.strip("`") for piece in _CODE.findall(text)]


def unknown_verbs(text: str) -> set[str]:
    """Give the commands that are named and do not exist."""
    return {verb for piece in code_of(text) for verb in _VERB.findall(piece)} - VERBS


def unknown_settings(text: str) -> set[str]:
    """Give the settings that are named and do not exist."""
    return set(re.findall(r"\bSPARES_[A-Z_]*[A-Z]\b", text)) - NAMES


def lost_paths(text: str, top: Path = TOP) -> set[str]:
    """Give the files and folders that are named, or linked to, and are not there."""
    named = {path.rstrip(".") for piece in code_of(text) for path in _PATH.findall(piece)}
    named |= {link.strip() for link in _LINK.findall(text)}
    return {path for path in named if not any(top.glob(path.rstrip("/")))}
