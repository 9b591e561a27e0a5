"""What a kind sheet may look like, before anything in it is read: names, and sorts of values."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from spares.domain.fit.values import COMPARATORS, SEVERITIES
from spares.errors import InvalidInput

_NUMBER: Final = (int, float, str)
TOP: Final[Mapping[str, Any]] = {
    "kind": str, "label": str, "source": dict, "attributes": dict, "implied": list}
LINE: Final[Mapping[str, Any]] = {
    **dict.fromkeys(("label", "type", "unit", "cmp", "severity", "tool", "offered_as", "judge",
                     "measure", "drawing", "why", "caution"), str),
    **dict.fromkeys(("tol", "tol_wide", "tol_percent"), _NUMBER),
    **dict.fromkeys(("rubber", "seat", "signed", "offered_any"), bool),
    **dict.fromkeys(("words", "ranks", "advisory_when", "changes"), list), "aliases": dict}
IMPLIED: Final[Mapping[str, Any]] = {
    "attr": str, "when": dict, "value": (str, int, float, bool, list), "value_of": str,
    "cmp": str, "unstated": str, "severity": str, "always": bool}
CHANGE: Final[Mapping[str, Any]] = {"name": str, "side": str, "when": dict}
LISTS_OF: Final[Mapping[str, Any]] = {"words": str, "ranks": str, "advisory_when": dict,
                                      "changes": dict}
# may-fail: unknown where something of that sort would not do at this place, else advise
UNSTATED: Final = ("silent", "advise", "unknown", "may-fail")
_NAME: Final = re.compile(r"[a-z][a-z0-9-]{0,39}\Z")
_CODE: Final = re.compile(r"[a-z][a-z0-9_]{0,59}\Z")
_WORDS: Final[Mapping[Any, str]] = {str: "words in quotes", dict: "a table", list: "a list",
                                    bool: "true or false", _NUMBER: "a number"}


def check_shape(given: Mapping[str, Any], owner: str) -> None:
    """Refuse a sheet whose keys or sorts of values cannot be.

    Args:
        given: The sheet as TOML gives it [-].
        owner: Name of its file, for messages [-].

    Raises:
        InvalidInput: `sheet` names the file, `errors` the key.

    Source:
        Counting rule of this project; no standard applies.
    """
    _table(owner, "", given, TOP)
    if not _NAME.match(given.get("kind", "")):
        raise wrong(owner, "kind", "needs small letters, digits and hyphens, such as winch-pawl")
    for name, value in given.get("source", {}).items():
        if not isinstance(value, str):
            raise wrong(owner, f"source/{name}", "needs words in quotes")
    for code, line in given.get("attributes", {}).items():
        where = f"attributes/{code}"
        if not _CODE.match(code):
            raise wrong(owner, where, "needs small letters, digits and underscores as its name")
        _table(owner, where, line, LINE)
        _lists(owner, where, line)
    for n, rule in enumerate(given.get("implied", [])):
        _table(owner, f"implied/{n}", rule, IMPLIED)
        if rule.get("unstated", "silent") not in UNSTATED:
            raise wrong(owner, f"implied/{n}/unstated", f"is one of {', '.join(UNSTATED)}")
        if rule.get("severity", "stop") not in SEVERITIES:
            raise wrong(owner, f"implied/{n}/severity", f"is one of {', '.join(SEVERITIES)}")
        if rule.get("cmp", "equal") not in COMPARATORS:
            raise wrong(owner, f"implied/{n}/cmp", f"is one of {', '.join(COMPARATORS)}")


def wrong(owner: str, key: str, what: str) -> InvalidInput:
    """Make the error that names file and key."""
    return InvalidInput(f"kind sheet {owner}, {key or 'the file'}: {what}", sheet=owner,
                        errors=[{"pointer": f"#/{key}", "detail": what}])


def _table(owner: str, where: str, given: Any, known: Mapping[str, Any]) -> None:
    if not isinstance(given, dict):
        raise wrong(owner, where, "needs a table")
    for name, value in given.items():
        key = f"{where}/{name}".lstrip("/")
        if name not in known:
            raise wrong(owner, key, "is a key that no sheet has")
        wanted = known[name]
        if not isinstance(value, wanted) or (isinstance(value, bool) and wanted is _NUMBER):
            raise wrong(owner, key, f"needs {_WORDS.get(wanted, 'another sort of value')}")


def _lists(owner: str, where: str, line: Mapping[str, Any]) -> None:
    for name, wanted in LISTS_OF.items():
        for n, value in enumerate(line.get(name, [])):
            if not isinstance(value, wanted):
                raise wrong(owner, f"{where}/{name}/{n}", f"needs {_WORDS[wanted]}")
    for n, change in enumerate(line.get("changes", [])):
        _table(owner, f"{where}/changes/{n}", change, CHANGE)
    for alias, word in line.get("aliases", {}).items():
        if not isinstance(word, str):
            raise wrong(owner, f"{where}/aliases/{alias}", "needs words in quotes")
