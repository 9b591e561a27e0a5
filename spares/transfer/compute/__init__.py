"""JSON in, JSON out for each computation.

Two names for each computation:

`Request`  a marshmallow schema of the request (unknown fields are refused)
`answer`   dict as loaded by the schema -> dict of the answer, raising SparesError

They are imported when called, so that the command line starts quickly. Of those that commands
ask of their own vessel, the schema is a module of its own: see `own_requests.py`.
"""

from __future__ import annotations

from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING

from spares.errors import NotFound

if TYPE_CHECKING:
    from marshmallow import Schema

OF_OWN_VESSEL = ("fit", "service", "trip")
NAMES = ("fit", "stock", "service", "trip", "kit", "charge", "cooling", "torque", "history")


def computation(name: str) -> ModuleType:
    """Give the module of the computation called *name*.

    Raises:
        NotFound: if there is no such computation; `known` lists those there are.
    """
    if name not in NAMES:
        raise NotFound(f"there is no computation called {name!r}", known=list(NAMES))
    return import_module(f"spares.transfer.compute.{name}")


def request_shape(name: str) -> type[Schema]:
    """Give the shape of a request to the computation called *name*.

    Raises:
        NotFound: as `computation`.
    """
    apart = name in OF_OWN_VESSEL
    module = import_module(f"spares.transfer.compute.{name}_shape") if apart else computation(name)
    shape: type[Schema] = module.Request
    return shape
