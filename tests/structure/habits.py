"""Readers of single files: sizes, docstrings, literals, names that give a machine away."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

LONGEST = 300       # lines with something on them

# Built from pieces so that this file passes its own check.
_FOLDERS = "|".join(["home", "root", "Users", "work", "farm", "mnt"])
MACHINE_PATH = re.compile(rf"(?<![\w.~/:#])(?:[A-Z]:[\\/]|/)(?:{_FOLDERS})[\\/]\w")

_INCH = "25" + ".4"
_INCH_IN_SCRIPT = re.compile(rf"(?<![\w.]){re.escape(_INCH)}0*(?![\w.])")

_TAKEN_IN = re.compile(r"^import \{([^}]*)\} from [^;]*;", re.M)


def long_file(source: str) -> int:
    """Count the lines with something on them, 0 while there are few enough."""
    count = sum(1 for line in source.splitlines() if line.strip())
    return count if count > LONGEST else 0


def machine_paths(text: str) -> list[str]:
    """Give the lines that name a folder of somebody's machine."""
    return [line.strip() for line in text.splitlines() if MACHINE_PATH.search(line)]


def public_functions(source: str) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Give functions and methods that others may call: no underscore on them or their class."""
    yield from _public(ast.parse(source).body)


def undocumented(source: str) -> list[str]:
    """Name the public functions that say nothing of what they do."""
    return [f.name for f in public_functions(source) if not ast.get_docstring(f)]


def untyped(source: str) -> list[str]:
    """Name the public functions that leave out the type of an argument or of the answer."""
    return [f.name for f in public_functions(source) if f.returns is None or any(
        a.annotation is None and a.arg not in ("self", "cls")
        for a in [*f.args.posonlyargs, *f.args.args, *f.args.kwonlyargs])]


def inch_literals(source: str) -> list[int]:
    """Give the lines of Python code (not comments) on which an inch is spelt out in mm."""
    return [node.lineno for node in ast.walk(ast.parse(source))
            if isinstance(node, ast.Constant) and _is_inch(node.value)]


def inch_literals_in_script(source: str) -> list[int]:
    """Give the lines of JavaScript code (not comments) on which an inch is spelt out in mm."""
    bare = re.sub(r"/\*.*?\*/", lambda m: "\n" * m.group().count("\n"), source, flags=re.S)
    return [n for n, line in enumerate(bare.splitlines(), 1)
            if _INCH_IN_SCRIPT.search(re.sub(r"(?<!:)//.*", "", line))]


def unused_in_script(source: str) -> list[str]:
    """Name what a module of JavaScript imports and does not use; ruff sees the same of Python."""
    names = [part.split(" as ")[-1].strip() for inner in _TAKEN_IN.findall(source)
             for part in inner.split(",") if part.strip()]
    rest = _TAKEN_IN.sub("", source)
    return [name for name in names if not re.search(rf"(?<![\w$]){re.escape(name)}(?![\w$])", rest)]


def bare_excepts_and_asserts(source: str) -> list[int]:
    """Give the lines that catch everything, or check with assert, which -O takes away."""
    return [node.lineno for node in ast.walk(ast.parse(source))
            if isinstance(node, ast.Assert)
            or isinstance(node, ast.ExceptHandler) and node.type is None]


def _is_inch(value: object) -> bool:
    if isinstance(value, str):
        return value.strip().rstrip("0") == _INCH
    return isinstance(value, float) and value == float(_INCH)


def _public(body: list[ast.stmt]) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    for node in body:
        if getattr(node, "name", "_").startswith("_"):
            continue
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node
        elif isinstance(node, ast.ClassDef):
            yield from _public(node.body)
