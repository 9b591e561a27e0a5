"""Readers of tables that lie in packages which are installed for their data alone."""

from __future__ import annotations

import csv
import re
from importlib.util import find_spec
from pathlib import Path

import pytest


def package_file(package: str, *path: str) -> Path:
    """Give a file of an installed package without importing it; skips where it is missing."""
    spec = find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        pytest.skip(f"{package} is not installed: it is wanted for its tables alone")
    return Path(next(iter(spec.submodule_search_locations))).joinpath(*path)


def bd_rows(name: str) -> list[dict[str, str]]:
    """Give the rows of a table of the package bd-warehouse."""
    path = package_file("bd_warehouse", "data", name)
    with path.open(encoding="utf-8-sig", newline="") as stream:
        return list(csv.DictReader(stream))


def bosl2_text(name: str) -> str:
    """Give a file of the BOSL2 library that lies in the package solidpython2."""
    return package_file("solid2", "extensions", "bosl2", "BOSL2", name).read_text("utf-8")


def bosl2_bearings() -> dict[str, tuple[float, float, float]]:
    """Give bore, outside diameter and width by designation, open bearings only."""
    found = re.findall(r'\[\s*"(\d+)",\s*([\d.]+),\s*([\d.]+),\s*([\d.]+), false, false',
                       bosl2_text("ball_bearings.scad"))
    return {name: (float(d), float(D), float(b)) for name, d, D, b in found}
