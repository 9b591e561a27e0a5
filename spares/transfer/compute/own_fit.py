"""The request of a fit check as this program writes it: see `own_requests.py`.

Unlike in those of a trip or a service, null is a value here: an attribute that decides and that
nobody knows.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from spares.domain.fit.values import COMPARATORS, ORIGINS, PROOFS, ROLES, SEVERITIES
from spares.domain.place_fields import ATTITUDES, DRIVERS, MEDIA
from spares.transfer.compute.own_rows import (
    ABSENT,
    NEEDED,
    Fields,
    NotPlain,
    Read,
    by_name,
    day,
    flag,
    rows,
    text,
)


def or_null(read: Read) -> Read:
    """Give what reads null as well."""
    return lambda value: None if value is None else read(value)


def one_of(known: Collection[str]) -> Read:
    """Give what reads one of some words."""
    def read(value: Any) -> str:
        if text(value) not in known:
            raise NotPlain
        return value
    return read


def number(value: Any) -> Any:
    """Read a number, or number text: the check itself says what is none."""
    if type(value) not in (int, float, str):
        raise NotPlain
    return value


def anything(value: Any) -> Any:
    """Read whatever is there."""
    return value


def told(fields: Fields) -> Read:
    """Give what reads an object with *fields* and no others; what is left out may have a value."""
    def read(value: Any) -> dict[str, Any]:
        if type(value) is not dict or not value.keys() <= fields.keys():
            raise NotPlain
        found: dict[str, Any] = {}
        for name, (reads, default) in fields.items():
            if name in value:
                found[name] = reads(value[name])
            elif default is NEEDED:
                raise NotPlain
            elif default is not ABSENT:
                found[name] = default() if callable(default) else default
        return found
    return read


TEXT, NUMBER, FLAG = ((or_null(read), ABSENT) for read in (text, number, flag))
origin = told({"how": (or_null(one_of(ORIGINS)), ABSENT), "when": TEXT, "by": TEXT, "tool": TEXT})
PLACE: Fields = {
    **dict.fromkeys(("wet", "petrol_space", "below_waterline", "above_waterline"), FLAG),
    "medium": (or_null(one_of(MEDIA)), ABSENT), "attitude": (or_null(one_of(ATTITUDES)), ABSENT),
    "driven_by": (or_null(one_of(DRIVERS)), ABSENT), "mating_metal": TEXT,
    "rotation": (anything, ABSENT),
    **dict.fromkeys(("temperature_c", "wire_mm2", "wire_insulation_c", "engine_speed_rpm",
                     "drive_pulley_mm", "driven_pulley_mm", "slip"), NUMBER)}
FIT = told({
    "kind": (text, NEEDED), "place": (or_null(told(PLACE)), dict),
    "requires": (rows(told({
        "attr": (text, NEEDED), "value": (anything, None), "unit": TEXT, "tol": NUMBER,
        "u": NUMBER, "cmp": (or_null(one_of(COMPARATORS)), ABSENT),
        "severity": (or_null(one_of(SEVERITIES)), ABSENT), "origin": (or_null(origin), ABSENT)})),
        list),
    "offers": (by_name(anything), dict), "recorded_as": (or_null(text), None),
    "links": (rows(told({"role": (one_of(ROLES), "takes"), "proof": (one_of(PROOFS), NEEDED)})),
              list),
    "companions": (by_name(rows(text)), dict), "today": (or_null(day), ABSENT)})
