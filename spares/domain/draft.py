"""A change as somebody asks for it, before the door numbers and stamps it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Draft:
    """One change to be made: its kind and body, and its id if the maker chose one.

    The same id given twice is one change: that is how a doubled request or a
    file brought in twice changes nothing. `set` drafts leave `base` out; the
    door fills in the versions that it stands on.
    """

    kind: str
    body: dict[str, Any] = field(default_factory=dict)
    id: str | None = None


def setting(doc: str, /, **fields: Any) -> Draft:
    """Draft the setting of *fields* of the document named *doc* (`kind/id`).

    Example:
        >>> setting("part/x", name="Impeller").body["f"]
        {'name': 'Impeller'}
    """
    return Draft("set", {"doc": doc, "f": fields})
