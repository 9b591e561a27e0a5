"""What a program needs in order to check fit by itself: sheets, named changes, tables.

One JSON object made of the sources themselves, so that nothing is typed twice.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import orjson

from spares.actions.kind_sheets import faults, kind_sheets
from spares.domain.fit import named_changes
from spares.domain.fit.own_sheets import KindSheets
from spares.domain.fit.sheets import TOOLS, TYPES, USED_RUBBER_MM
from spares.standards import table, table_ids
from spares.units import format_number


def fit_data(known: KindSheets | None = None) -> dict[str, Any]:
    """Give kind sheets, named changes, published tables and what sheets may say, as plain JSON.

    `known` are the sheets that count here; the program's own when left out.
    """
    known = known or kind_sheets(None)
    return {
        "sheets": {kind: found.as_dict() for kind, found in known.sheets.items()},
        **faults(known),
        "changes": {code: {"name": change.name, "conditions": change.conditions,
                           "part": change.part} for code, change in named_changes().items()},
        "tables": {name: table(name).as_dict() for name in table_ids()},
        "types": {name: list(comparators) for name, comparators in TYPES.items()},
        "tools": dict(TOOLS), "used_rubber_mm": format_number(USED_RUBBER_MM),
    }


@lru_cache(maxsize=4)
def fit_data_bytes(known: KindSheets | None = None) -> bytes:
    """Give the same as JSON text, made once for each state of a person's own sheets."""
    return orjson.dumps(fit_data(known))
