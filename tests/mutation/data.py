"""Data mutants: each value of a kind sheet, of the named changes and of the tables, once."""

from __future__ import annotations

import copy
import functools
import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from spares.domain.fit.sheets import TOOLS, TYPES
from tests.mutation.code import ROOT, Mutant

SHEETS = "spares/domain/fit/kinds"
CHANGES = "spares/domain/fit/changes.toml"
TABLES = "spares/standards/tables"
WORDS = {"label", "measure", "why", "caution", "source", "drawing", "remark"}     # said, not judged
_SEVERITY = {"stop": "change", "change": "advisory", "advisory": "stop"}
_UNIT = {"mm": "in", "L/min": "m³/h", "bar": "psi", "°C": "°F", "kW": "hp"}
_UNSTATED = {"silent": "advise", "advise": "unknown", "unknown": "silent", "may-fail": "advise"}
_GONE = object()


def data_mutants() -> Iterator[Mutant]:
    """Give every mutant of the data, file by file."""
    for path in sorted((ROOT / TABLES).glob("*.json")):
        yield from _of_table(path)
    for path in sorted((ROOT / SHEETS).glob("*.toml")):
        yield from _of_sheet(path)
    path = ROOT / CHANGES
    text = path.read_text(encoding="utf-8")
    for code, line in tomllib.loads(text).items():
        yield _mutant(path, text, (code, "name"), line["name"] + "~", (code,))
        yield _mutant(path, text, (code, "part"), not line.get("part", False), (code,))


def _of_table(path: Path) -> Iterator[Mutant]:
    text = path.read_text(encoding="utf-8")
    given = json.loads(text)
    columns = [c["name"] for c in given["columns"]]
    for n, row in enumerate(given["rows"]):
        for m, value in enumerate(row):
            if columns[m] in WORDS or value is None:
                continue
            name = f"{_key(given, row)}.{columns[m]}"
            yield _mutant(path, text, ("rows", n, m), _nudged(value), (), name)


def _key(given: dict[str, Any], row: list[Any]) -> str:
    """Name a row by as many of its first cells as tell it from the others."""
    for n in range(1, len(row) + 1):
        if sum(other[:n] == row[:n] for other in given["rows"]) == 1:
            return ", ".join(str(cell) for cell in row[:n])
    return ", ".join(map(str, row))


def _nudged(value: Any) -> Any:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return round(value * 1.04 + (0.03 if value >= 0 else -0.03), 4) if isinstance(
            value, float) else value + 1
    return {"read": "memory", "memory": "read"}.get(value, value + "~")


def _of_sheet(path: Path) -> Iterator[Mutant]:
    text = path.read_text(encoding="utf-8")
    given = tomllib.loads(text)
    for code, line in given["attributes"].items():
        for field, new, name in _of_line(line):
            keys = ("attributes", code, *field)
            yield _mutant(path, text, keys, new, (given["kind"], code), f"{code}.{name}")
    for n, rule in enumerate(given.get("implied", [])):
        yield _mutant(path, text, ("implied", n), _GONE, (given["kind"], rule["attr"]),
                      f"implied.{rule['attr']} {_short(rule)} left out")
        yield _mutant(path, text, ("implied", n, "unstated"),
                      _UNSTATED[rule.get("unstated", "silent")], (given["kind"], rule["attr"]),
                      f"implied.{rule['attr']} {_short(rule)} unstated")
        for field in ("severity", "always"):
            if field in rule:
                yield _mutant(path, text, ("implied", n, field), _GONE,
                              (given["kind"], rule["attr"]),
                              f"implied.{rule['attr']} {_short(rule)} {field} forgotten")
        for subject, wanted in rule.get("when", {}).items():
            yield _mutant(path, text, ("implied", n, "when", subject), _GONE,
                          (given["kind"], rule["attr"]),
                          f"implied.{rule['attr']} {_short(rule)} {subject} {wanted} forgotten")


def _short(rule: dict[str, Any]) -> str:
    return json.dumps(rule.get("when", {}), ensure_ascii=False)


def _of_line(line: dict[str, Any]) -> Iterator[tuple[tuple[Any, ...], Any, str]]:
    kind = line.get("type", "quantity" if "unit" in line else "word")
    for field in ("tol", "tol_wide", "tol_percent"):
        if field in line:
            yield (field,), round(line[field] * 1.2 + 0.01, 4), f"{field} more"
            if line[field]:
                yield (field,), round(line[field] * 0.8, 4), f"{field} less"
    severity = line.get("severity", "stop")
    yield ("severity",), _SEVERITY[severity], "severity"
    if severity == "change":
        yield ("severity",), "stop", "severity stop"
    plain = kind == "quantity" and not {"tol", "tol_percent"} & set(line)
    cmp = line.get("cmp", "equal" if plain else TYPES[kind][0])
    others = [c for c in TYPES[kind] if c != cmp and not (c == "tol" and "tol" not in line)]
    if others:
        yield ("cmp",), {"at-least": "at-most", "at-most": "at-least"}.get(cmp, others[0]), "cmp"
    if line.get("unit") in _UNIT:
        yield ("unit",), _UNIT[line["unit"]], "unit"
    if line.get("unit") and TOOLS[line.get("tool", "eye")] != "0":
        yield ("tool",), "tape" if line["tool"] != "tape" else "caliper", "tool"
    for flag in ("rubber", "seat", "offered_any"):
        if flag in line:
            yield (flag,), not line[flag], flag
    if line.get("judge"):
        yield ("judge",), _GONE, "judge"
    if line.get("offered_as"):
        yield ("offered_as",), _GONE, "offered_as"
    for field in ("words", "ranks", "changes", "advisory_when"):
        for n, one in enumerate(line.get(field, ())):
            yield (field, n), _GONE, f"{field} without {json.dumps(one, ensure_ascii=False)}"
    for n, one in enumerate(line.get("changes", ())):
        if "side" in one:
            yield ("changes", n, "side"), _GONE, f"changes {one['name']} on either side"
        if "when" in one:
            told = json.dumps(one["when"], ensure_ascii=False)
            yield ("changes", n, "when"), _GONE, f"changes {one['name']} without {told}"
    for name in line.get("aliases", ()):
        yield ("aliases", name), _GONE, f"aliases without {name}"


def _mutant(path: Path, text: str, keys: tuple[Any, ...], new: Any, near: tuple[str, ...],
            name: str = "") -> Mutant:
    file = path.relative_to(ROOT).as_posix()
    shown = "" if new is _GONE or not isinstance(new, int | float | str) else f" -> {new}"
    return Mutant(f"{file}: {name or '.'.join(map(str, keys))}{shown}", (file, *near),
                  functools.partial(_apply, text, keys, new), data=True)


def _apply(text: str, keys: tuple[Any, ...], new: Any) -> None:
    """Let the readers of TOML and JSON read something else in the place of *text*."""
    changed = _changed((json if text.startswith("{") else tomllib).loads(text), keys, new)
    for module in (tomllib, json):
        module.loads = functools.partial(_loads, module.loads, text, changed)


def _changed(found: Any, keys: tuple[Any, ...], new: Any) -> Any:
    holder = found
    for key in keys[:-1]:
        holder = holder.setdefault(key, {}) if isinstance(holder, dict) else holder[key]
    if new is _GONE:
        del holder[keys[-1]]
    else:
        holder[keys[-1]] = new
    return found


def _loads(loads: Any, text: str, changed: Any, given: Any, **more: Any) -> Any:
    return copy.deepcopy(changed) if given == text else loads(given, **more)
