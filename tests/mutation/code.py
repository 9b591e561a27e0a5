"""Code mutants: one small change in one function or constant, swapped in without a reload."""

from __future__ import annotations

import ast
import functools
import gc
import importlib
import sys
import types
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
FILES = ("spares/domain/fit", "spares/domain/cooling.py", "spares/domain/torque.py")

_COMPARE = {ast.Lt: (ast.LtE,), ast.LtE: (ast.Lt,), ast.Gt: (ast.GtE,), ast.GtE: (ast.Gt,),
            ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.Is: (ast.IsNot,),
            ast.IsNot: (ast.Is,), ast.In: (ast.NotIn,), ast.NotIn: (ast.In,)}
_ARITHMETIC = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
               ast.Pow: ast.Mult}
_NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
_TEXTS = {"unknown", "match", "differs", "caution", "at", "InvalidInput", "OutOfRange", "wrong"}


@dataclass(frozen=True)
class Mutant:
    """One change: its name, the place it is in, and how to make it in this process."""

    id: str
    place: tuple[str, ...]          # (file, function) of code; (file, kind, attribute) of data
    make: Callable[[], None]
    data: bool = False


class CannotBeMade(Exception):
    """A constant that cannot even be worked out: the import fails, which everybody notices."""


def code_mutants() -> Iterator[Mutant]:
    """Give every mutant of the code, file by file."""
    for name in FILES:
        path = ROOT / name
        for file in sorted(path.rglob("*.py")) if path.is_dir() else [path]:
            yield from _of_file(file)


def _of_file(path: Path) -> Iterator[Mutant]:
    name = path.relative_to(ROOT).as_posix()
    module = name.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
    seen: Counter[str] = Counter()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for owner, statement in _owners(tree.body):
        for found in _changes(statement):
            node, field, at, new = found
            old = _text(node, field, at)
            _put(node, field, at, new, (before := _get(node, field, at)))
            label = f"{name}::{owner}: {old} -> {_text(node, field, at)}"
            source = ast.unparse(statement)
            _put(node, field, at, before, new)
            seen[label] += 1
            tail = f" #{seen[label]}" if seen[label] > 1 else ""
            yield Mutant(label + tail, (name, owner),
                         functools.partial(_apply, module, owner, source, str(path)))


def _owners(body: list[ast.stmt], prefix: str = "") -> Iterator[tuple[str, ast.stmt]]:
    """Give functions, methods and constants of a module with their names."""
    for statement in body:
        if isinstance(statement, ast.FunctionDef):
            yield prefix + statement.name, statement
        elif isinstance(statement, ast.ClassDef):
            yield from _owners(statement.body, f"{prefix}{statement.name}.")
        elif not prefix and isinstance(statement, ast.Assign) and len(statement.targets) == 1 \
                and isinstance(statement.targets[0], ast.Name) \
                and statement.targets[0].id != "__all__":
            yield statement.targets[0].id, statement


def _changes(statement: ast.stmt) -> Iterator[tuple[ast.AST, str, int | None, object]]:
    """Give (node, field, index, new value) for each change inside a statement."""
    parts = statement.body if isinstance(statement, ast.FunctionDef) else [statement.value]
    for part in parts:
        if isinstance(part, ast.Expr) and isinstance(part.value, ast.Constant):
            continue        # a docstring
        yield from _walk(part, told=False, names=not isinstance(statement, ast.FunctionDef))


def _walk(node: ast.AST, *, told: bool, names: bool):
    yield from _here(node, told, names)
    silent = told or (isinstance(node, ast.Call) and _called(node) in _TEXTS) \
        or isinstance(node, ast.JoinedStr)
    compared = names or isinstance(node, ast.Compare) or (
        names and isinstance(node, ast.Dict | ast.Tuple | ast.List | ast.Set))
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Constant) and isinstance(child.value, str) and not compared:
            continue
        inside = compared and isinstance(child, ast.Tuple | ast.List | ast.Set | ast.Constant) \
            and isinstance(node, ast.Compare)
        yield from _walk(child, told=silent, names=names or inside)


def _called(node: ast.Call) -> str:
    return getattr(node.func, "attr", getattr(node.func, "id", ""))


def _here(node: ast.AST, told: bool, names: bool):
    if isinstance(node, ast.Compare):
        for n, op in enumerate(node.ops):
            for new in _COMPARE.get(type(op), ()):
                yield node, "ops", n, new()
    elif isinstance(node, ast.BoolOp):
        yield node, "op", None, ast.Or() if isinstance(node.op, ast.And) else ast.And()
    elif isinstance(node, ast.BinOp) and type(node.op) in _ARITHMETIC and not _is_text(node):
        yield node, "op", None, _ARITHMETIC[type(node.op)]()
    elif isinstance(node, ast.Constant):
        yield from _constant(node, told, names)
    elif isinstance(node, ast.Return) and node.value is not None \
            and not (isinstance(node.value, ast.Constant) and node.value.value is None):
        yield node, "value", None, ast.Constant(None)
    elif isinstance(node, ast.Name) and node.id in _NAMES and isinstance(node.ctx, ast.Load):
        yield node, "id", None, _NAMES[node.id]
    for field, value in ast.iter_fields(node):
        for n, one in enumerate(value if isinstance(value, list) else [value]):
            if isinstance(one, ast.UnaryOp) and isinstance(one.op, ast.Not | ast.USub):
                yield node, field, n if isinstance(value, list) else None, one.operand


def _constant(node: ast.Constant, told: bool, names: bool):
    value = node.value
    if isinstance(value, bool):
        yield node, "value", None, not value
    elif isinstance(value, int | float) and not told:
        yield node, "value", None, value + 1
    elif isinstance(value, str) and names and not told and value:
        try:
            yield node, "value", None, str(float(value) * 1.5 + 0.5)
        except ValueError:
            yield node, "value", None, value + "~"


def _is_text(node: ast.BinOp) -> bool:
    return any(isinstance(n, ast.JoinedStr) or isinstance(n, ast.Constant)
               and isinstance(n.value, str) for n in (node.left, node.right))


def _get(node: ast.AST, field: str, at: int | None) -> object:
    value = getattr(node, field)
    return value if at is None else value[at]


def _put(node: ast.AST, field: str, at: int | None, new: object, _old: object) -> None:
    if at is None:
        setattr(node, field, new)
    else:
        getattr(node, field)[at] = new


def _text(node: ast.AST, field: str, at: int | None) -> str:
    value = _get(node, field, at)
    shown = node if isinstance(node, ast.Compare | ast.BoolOp | ast.BinOp | ast.Name
                               | ast.Constant | ast.Return) else value
    text = " ".join(ast.unparse(shown).split()) if isinstance(shown, ast.AST) else repr(shown)
    return text if len(text) <= 90 else f"{text[:70]}...{text[-17:]}"


def _apply(module_name: str, owner: str, source: str, file: str) -> None:
    """Put the changed function's code, or the constant's value, in the place of the present."""
    module = importlib.import_module(module_name)
    holder, *rest = owner.split(".")
    present = vars(module)[holder]
    if not rest and not isinstance(_function(present), types.FunctionType):
        space = dict(vars(module))
        code = compile(source, file, "exec")
        try:
            exec(code, space)
        except Exception as err:
            raise CannotBeMade(type(err).__name__) from err
        for other in [m for n, m in sys.modules.items() if n.startswith("spares") and m]:
            for name, value in list(vars(other).items()):
                if value is present and name == holder:
                    setattr(other, name, space[holder])
        _put_where_it_is_kept(present, space[holder])
        return
    for name in rest:
        present = vars(present)[name]
    flags = __import__("__future__").annotations.compiler_flag
    code = compile(_bare(source), file, "exec", flags=flags)
    found = next(c for c in code.co_consts if isinstance(c, types.CodeType))
    _function(present).__code__ = found.replace(co_qualname=owner)


def _put_where_it_is_kept(present: object, new: object) -> None:
    """Change it also in objects that took the constant over, such as the check of a field."""
    if not isinstance(present, tuple | dict | list | frozenset):
        return      # a small number or word lies in too many places
    gc.unfreeze()   # what was there before the fork is looked through as well
    for keeper in gc.get_referrers(present):
        space = keeper if isinstance(keeper, dict) else getattr(keeper, "__dict__", {})
        if not isinstance(space, dict) or "__name__" in space:
            continue
        for name, value in list(space.items()):
            if value is present and isinstance(name, str):
                space[name] = new


def _bare(source: str) -> str:
    tree = ast.parse(source)
    tree.body[0].decorator_list = []
    return ast.unparse(tree)


def _function(found: object) -> object:
    for name in ("fget", "__func__", "func", "__wrapped__"):
        while isinstance(inner := getattr(found, name, None), types.FunctionType | property) \
                or (name == "__wrapped__" and inner is not None):
            found = inner
    return found
