"""Who may import whom, and the reading of imports out of a syntax tree."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]

_GROUND = {"errors", "source", "units", "standards"}
_BELOW_ACTIONS = _GROUND | {"config", "domain", "sync", "db", "paper", "transfer"}

# Folder or module of ours -> what of ours it may import, itself always included.
MAY_IMPORT: dict[str, set[str]] = {
    "__init__": set(),
    "__main__": {"cli", "environment", "selftest", "made_from"},
    "environment": {"made_from"},
    "made_from": set(),
    "selftest": set(),
    "errors": set(),
    "source": {"errors"},
    "units": {"errors", "source"},
    "standards": {"errors", "source", "units"},
    "config": {"errors"},
    "domain": _GROUND,
    "sync": {"errors", "domain"},
    "db": {"errors", "domain", "sync"},
    "paper": _GROUND | {"domain"},
    "transfer": _GROUND | {"domain"},
    "actions": _BELOW_ACTIONS,
    "web": {"actions", "errors", "domain", "config", "db.engine"},
    "cli": {"actions", "errors", "domain", "config", "db.engine", "web", "selftest"},
}

# Package from outside -> the only places of ours that may import it.
ONLY_IN: dict[str, set[str]] = {
    "flask": {"web"},
    "flask_smorest": {"web"},
    "werkzeug": {"web"},
    "marshmallow": {"web", "transfer", "actions.compute"},
    "openpyxl": {"transfer"},
    "sqlmodel": {"db"},
    "sqlalchemy": {"db"},
    "alembic": {"db"},
    "sqlite3": {"db"},
    "psycopg": {"db"},
    "qrcode": {"paper"},
    "reportlab": {"paper"},
    "svglib": {"paper"},
    "PIL": {"actions.photos"},
    "click": {"cli"},
}

# These stand on the standard library alone; the canonical JSON of RFC 8785 is the exception.
PURE = {"__init__", "__main__", "environment", "made_from", "selftest", "errors", "source", "units",
        "standards", "domain", "sync"}
PURE_EXCEPT = {"sync": {"orjson", "rfc8785"}}

# What would fetch time, chance or the world into a computation, where these are arguments.
WORLDLY_MODULES = {"http", "os", "random", "secrets", "socket", "sqlite3", "subprocess", "time",
                   "urllib.request"}
WORLDLY_CALLS = {"now", "today", "utcnow", "uuid1", "uuid4", "urandom", "getenv", "input"}
UNWORLDLY = {"units", "standards", "domain", "sync"}


def modules() -> dict[str, Path]:
    """Give every module of the package by its dotted name within it."""
    top = TOP / "spares"
    found = {}
    for path in sorted(top.rglob("*.py")):
        steps = path.relative_to(top).with_suffix("").parts
        if steps[-1] == "__init__" and len(steps) > 1:
            steps = steps[:-1]
        found[".".join(steps)] = path
    return found


def imported(source: str, module: str, is_package: bool = False) -> Iterator[str]:
    """Give the full dotted name of all that *source* imports, however deep or relative."""
    here = ["spares", *module.split(".")] if module != "__init__" else ["spares"]
    folder = here if is_package or module == "__init__" else here[:-1]
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                up = folder[:len(folder) - node.level + 1]
                base = ".".join([*up, *filter(None, [base])])
            if base == "spares":            # `from spares import config`
                yield from (f"spares.{alias.name}" for alias in node.names)
            else:
                yield from (f"{base}.{alias.name}" for alias in node.names)


def layer_faults(source: str, module: str, is_package: bool = False) -> list[str]:
    """Say which imports of *source*, as the module *module* of ours, the table forbids."""
    layer = module.split(".")[0]
    faults = []
    for name in imported(source, module, is_package):
        root, _, rest = name.partition(".")
        if root == "spares":
            faults += _own_fault(layer, rest)
        elif root in ONLY_IN:
            if not any(_within(module, place) for place in ONLY_IN[root]):
                faults.append(f"{module} imports {root}")
        elif (layer in PURE and root not in sys.stdlib_module_names
                and root not in PURE_EXCEPT.get(layer, ())):
            faults.append(f"{module} imports {root} and should stand on the standard library")
        if layer in UNWORLDLY and any(_within(name, worldly) for worldly in WORLDLY_MODULES):
            faults.append(f"{module} imports {name}: time, chance and the world are arguments")
    return sorted(set(faults))


def worldly_calls(source: str, module: str) -> list[str]:
    """Say where a pure module asks the clock, chance or the surroundings itself."""
    if module.split(".")[0] not in UNWORLDLY:
        return []
    called = [node.func for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    names = {f.attr if isinstance(f, ast.Attribute) else getattr(f, "id", "") for f in called}
    return [f"{module} calls {name}()" for name in sorted(names & WORLDLY_CALLS)]


def _own_fault(layer: str, target: str) -> list[str]:
    if target in ("", "__version__") or _within(target, layer):
        return []
    if any(_within(target, allowed) for allowed in MAY_IMPORT.get(layer, ())):
        return []
    return [f"{layer} imports spares.{target}"]


def _within(name: str, place: str) -> bool:
    return name == place or name.startswith(place + ".")
