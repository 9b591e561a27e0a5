"""Fields of a trip between people and records: short names and numbers, documents and text."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.domain.aboard import Aboard, Record
from spares.domain.documents import DOCUMENTS, fault
from spares.domain.shapes import DAY, Renamed
from spares.domain.trip_fields import shown, stored, wrongs
from spares.errors import InvalidInput, NotFound

PLAIN = ("name", "hours_before_departure", "ready_days", "note", "border", "crew",
         "count_failures")
#: Fields of a trip that hold more than one value, and the shape of each.
LISTED = {name: spec.among[0] for name, spec in DOCUMENTS["trip"].items()
          if spec.type == "shaped"}


def read_fields(ctx: Context, given: dict[str, Any]) -> dict[str, Any]:
    """Bring what people said of a trip into the stored form; None empties a field.

    Raises:
        InvalidInput: with every field that is wrong, as JSON Pointers.
        NotFound, Ambiguous: a machine or part that is named cannot be told.
    """
    kept, errors = {}, []
    for name, value in given.items():
        if name in LISTED and value is not None:
            kept[name] = value = stored(LISTED[name], _levels(name, value), finder(ctx, name))
            errors += [{"pointer": f"#/{name}{path}", "detail": detail}
                       for path, detail in wrongs(LISTED[name], value)]
        elif name not in PLAIN and name not in LISTED:
            errors.append({"pointer": f"#/{name}", "detail": "there is no such field"})
        elif wrong := fault("trip", name, value):
            errors.append({"pointer": f"#/{name}", "detail": wrong})
        else:
            kept[name] = value
    refuse(errors)
    return kept


def refuse(errors: list[dict[str, str]]) -> None:
    """Refuse a request for all that is wrong in it, if anything is.

    Raises:
        InvalidInput: *errors* is not empty.
    """
    if errors:
        first = errors[0]
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        raise InvalidInput(f"{first['pointer'].removeprefix('#/')}: {first['detail']}{more}",
                           errors=errors)


def shown_fields(aboard: Aboard, trip: Record) -> dict[str, Any]:
    """Give a trip's lists as people read them: short names, plain numbers."""
    def name(value: Any, kinds: tuple[str, ...], path: str) -> Any:
        return aboard.label(aboard.kept_parts.get(value, value))
    return {field: shown(shape, getattr(trip, field), name) for field, shape in LISTED.items()}


def _levels(name: str, value: Any) -> Any:
    """One level may stand alone."""
    alone = name == "protection" and isinstance(value, (int, float, str)) and not isinstance(
        value, bool)
    return {"level": value} if alone else value


def finder(ctx: Context, field: str) -> Renamed:
    """Give what finds the documents that a list in *field* names.

    Raises (when called):
        InvalidInput: nothing is called so.
        Ambiguous: several things are.
    """
    def name(value: Any, kinds: tuple[str, ...], path: str) -> Any:
        if kinds == DAY:
            return value
        pointer = f"{field}{path}"
        if not isinstance(value, str) or not value.strip():
            raise InvalidInput.at(f"#/{pointer}", f"the {kinds[0]} is missing")
        try:
            return ctx.named(value, pointer, *kinds)
        except NotFound as err:
            raise InvalidInput.at(f"#/{pointer}", f"no {kinds[0]} is called {value[:60]!r}") \
                from err
    return name
