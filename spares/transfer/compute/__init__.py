"""JSON in, JSON out for each computation.

One module a computation, each with two names:

`Request`  a marshmallow schema of the request (unknown fields are refused)
`answer`   dict as loaded by the schema -> dict of the answer, raising SparesError

They are imported when called, so that the command line starts quickly.
"""

from __future__ import annotations

from importlib import import_module
from types import ModuleType

from spares.errors import NotFound

NAMES = ("fit", "stock", "service", "trip", "kit", "charge", "cooling", "torque", "history")


def computation(name: str) -> ModuleType:
    """Give the module of the computation called *name*.

    Raises:
        NotFound: if there is no such computation; `known` lists those there are.
    """
    if name not in NAMES:
        raise NotFound(f"there is no computation called {name!r}", known=list(NAMES))
    return import_module(f"spares.transfer.compute.{name}")
