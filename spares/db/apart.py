"""Fields of which several versions stand side by side, and whose hand wrote each.

The pure rule is `spares/sync/merge.py`; the tables keep of each version whether it is a head.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, NamedTuple

import orjson

from spares.db.asking import ask, is_in, listed, reads_json

if TYPE_CHECKING:
    from spares.db.asking import Reader

Apart = dict[str, dict[str, list["Head"]]]


class Head(NamedTuple):
    """A version that nobody replaced: the change that wrote it, its stamp, its value."""

    change: str
    at: str
    value: Any


def heads_apart(reader: Reader, vessel: str, docs: Iterable[str] | None = None) -> Apart:
    """Give, by document and field, the heads that disagree, in the order of their stamps.

    Args:
        reader: What is asked.
        vessel: The vessel's id [-].
        docs: Documents that are asked about; without them all of the vessel's [-].
    """
    named = None if docs is None else list(docs)
    if named == []:
        return {}
    # of all documents only fields that were set more than once: their index says that alone
    among = (f"doc {is_in(reader, 'named')}" if named is not None else
             "(doc, field) IN (SELECT doc, field FROM field_version WHERE vessel = :vessel "
             "GROUP BY doc, field HAVING count(*) > 1)")
    standing: Apart = {}
    read = reads_json(reader)
    for doc, name, change, at, text in ask(
            reader, "SELECT doc, field, change_id, at, value FROM field_version "
            f"WHERE vessel = :vessel AND is_head AND {among} ORDER BY at", vessel=vessel,
            **({} if named is None else {"named": listed(named)})):
        standing.setdefault(doc, {}).setdefault(name, []).append(Head(change, at, read(text)))
    apart = {doc: {name: heads for name, heads in fields.items() if _disagree(heads)}
             for doc, fields in standing.items()}
    return {doc: fields for doc, fields in apart.items() if fields}


def authors(reader: Reader, vessel: str, changes: Iterable[str]) -> dict[str, tuple[str, str]]:
    """Give, by change, the number and the name of the device that made it.

    What never had a token, as the server's own number, has the name "".
    """
    names = names_of_devices(reader, vessel)
    return {change: (dev, names.get(dev, "")) for change, dev in ask(
        reader, f"SELECT id, dev FROM log WHERE vessel = :vessel AND id {is_in(reader, 'ids')}",
        vessel=vessel, ids=listed(changes))}


def names_of_devices(reader: Reader, vessel: str) -> dict[str, str]:
    """Give, by each number that a device has or had, the name of the device itself."""
    read, names = reads_json(reader), {}
    for dev, name, was in ask(reader, "SELECT dev, name, was FROM device WHERE vessel = :vessel "
                              "AND token_hash <> '' ORDER BY paired_ms, dev", vessel=vessel):
        names |= dict.fromkeys((*(read(was) or ()), dev), name)     # the numbers it had before
    return names


def _disagree(heads: list[Head]) -> bool:
    return len({orjson.dumps(one.value, option=orjson.OPT_SORT_KEYS) for one in heads}) > 1
