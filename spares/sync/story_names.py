"""The short names that a story uses, and the ids and references they stand for."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any
from uuid import UUID, uuid5

from spares.domain.movements import CellKey, Entry
from spares.errors import InvalidInput
from spares.sync.bodies import check_body
from spares.sync.checks import REF
from spares.sync.merge import base_for_next, versions_of
from spares.sync.phone import Phone

_NAMES = UUID("5d7c3a34-6f0e-5a8e-9b61-0c9a4d1b7e22")

#: Where a name stands in the body of a step, and what kind of thing it names.
_THINGS = {"part": "part", "keep": "part", "drop": "part", "locker": "locker", "from": "locker",
           "to": "locker", "machine": "machine", "lot": "lot", "to_lot": "lot"}
#: About 190 years [min].
FURTHEST_MIN = 10**8
_HAS_LOT = ("put", "took", "landed", "moved", "counted")


class Names:
    """Ids of changes by name, names of changes by id, names of things by reference."""

    def __init__(self) -> None:
        self.ids: dict[str, str] = {}
        self.labels: dict[str, str] = {}
        self._things: dict[str, str] = {}

    def record(self, phone: Phone, who: str, kind: str, args: Mapping[str, Any],
               clock_ms: int) -> None:
        """Let a phone record a change, under the name that the step gives it.

        Raises:
            InvalidInput, KeyError, Refused: the step has not what such a change needs.
        """
        ident = str(uuid5(_NAMES, f"change {len(self.labels)}"))
        label = text_of(args, "as") if "as" in args else f"{who}{phone.made + 1}"
        body = self._body(phone, kind, {k: v for k, v in args.items() if k != "as"})
        check_body(kind, body)
        phone.record(ident, kind, body, clock_ms)
        self.ids[label], self.labels[ident] = ident, label

    def name_of(self, key: CellKey) -> str:
        """Name a cell as part@locker, with @lot if it is not the plain one."""
        return "@".join(self._things[ref] for ref in key if ref)

    def _body(self, phone: Phone, kind: str, args: dict[str, Any]) -> dict[str, Any]:
        if kind == "set":
            name, fields = text_of(args, "doc"), args["f"]
            doc = self._ref(*name.split("/", 1)) if "/" in name else self._ref("part", name)
            return {**args, "doc": doc, "base": _base(phone, doc, fields)}
        body = {name: self._value(name, value) for name, value in args.items()}
        return {"lot": "", **body} if kind in _HAS_LOT else body

    def _value(self, name: str, value: Any) -> Any:
        if name in ("out", "in", "lines") and isinstance(value, list):
            return [{"lot": "", **{k: self._value(k, v) for k, v in line.items()}}
                    if isinstance(line, dict) else line for line in value]
        if name in ("of", "count"):
            return self.ids[text_of({name: value}, name)]
        if name in _THINGS and value != "":
            return self._ref(_THINGS[name], text_of({name: value}, name))
        return value

    def _ref(self, kind: str, name: str) -> str:
        ref = f"{kind}/{name}"
        if not REF.fullmatch(ref):
            ref = f"{kind}/{uuid5(_NAMES, ref)}"
        self._things[ref] = name
        return ref


def text_of(args: Mapping[str, Any], name: str) -> str:
    """Take a text out of a step.

    Raises:
        InvalidInput: it is none. KeyError: it is missing.
    """
    if not isinstance(args[name], str):
        raise InvalidInput(f"{name}: a text is needed")
    return args[name]


def minutes_of(args: Mapping[str, Any], name: str) -> Fraction:
    """Take a number of minutes [min] out of a step.

    Raises:
        InvalidInput: it is none. KeyError: it is missing.
    """
    value = args[name]
    if type(value) not in (int, float) or not abs(value) <= FURTHEST_MIN:
        raise InvalidInput(f"{name}: a number of minutes is needed")
    return Fraction(str(value))


def _base(phone: Phone, doc: str, fields: Any) -> dict[str, list[str]]:
    """Name the versions that a new one stands on: all heads that the phone knows of."""
    unsent = [Entry(change.id, phone.dev, change.n, change.kind, f"~{change.n:016d}", 0,
                    change.seen, {}, change.body) for change in phone.outbox.values()]
    versions = versions_of([*phone.copy.entries(), *unsent], doc)
    if not isinstance(fields, dict):
        return {}
    return {name: base_for_next(versions[name]) for name in fields if name in versions}
