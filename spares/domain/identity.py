"""Names of documents: what every device would call the same thing.

Things that people number (`no`) get an id made from vessel, kind and number, so
that bringing in the same file twice changes nothing. Link-like documents get
theirs from both ends, so that two phones that add the same link make one.
"""

from __future__ import annotations

import re
from uuid import UUID, uuid5

# Made once, at random, for this program; never to be changed.
NAMESPACE = UUID("5a7e3c0b-7d3d-4e5a-9f0e-1d2b6a94c8f1")
#: The name of a document, as changes use it.
REF = re.compile(r"[a-z][a-z-]*/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\Z")


def numbered_id(vessel: str, kind: str, no: str) -> str:
    """Give the id of the thing of this kind that bears number *no* on *vessel*.

    Example:
        >>> numbered_id("v", "part", "P034") == numbered_id("v", "part", "P034")
        True
    """
    return str(uuid5(NAMESPACE, f"{vessel}/{kind}/{no}"))


def joined_id(kind: str, *ends: str) -> str:
    """Give the id of a document that joins the documents or values *ends*.

    Example:
        >>> joined_id("keep", "part/a") != joined_id("keep", "part/b")
        True
    """
    return str(uuid5(NAMESPACE, "/".join((kind, *ends))))


def occurrence_id(parent_point: str, inner: str) -> str:
    """Give the id of the fit point that exists where a part with *inner* is fitted.

    Both are names of documents (`point/...`, `inner/...`).

    Example:
        >>> occurrence_id("p", "i") == occurrence_id("p", "i")
        True
    """
    return str(uuid5(NAMESPACE, f"occurrence/{parent_point}/{inner}"))


def ref(kind: str, ident: str) -> str:
    """Write a document's name as changes use it.

    Example:
        >>> ref("part", "x")
        'part/x'
    """
    return f"{kind}/{ident}"


def kind_of(name: str) -> str:
    """Give the kind in a document's name.

    Example:
        >>> kind_of("part/x")
        'part'
    """
    return name.partition("/")[0]


def id_of(name: str) -> str:
    """Give the id in a document's name.

    Example:
        >>> id_of("part/x")
        'x'
    """
    return name.partition("/")[2]
