"""What a program needs in order to check fit by itself: sheets, named changes, tables.

One JSON object made of the sources themselves, so that nothing is typed twice.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import orjson

from spares.domain.fit import load_sheets, named_changes
from spares.domain.fit.sheets import TOOLS, TYPES, USED_RUBBER_MM
from spares.standards import table, table_ids
from spares.units import format_number


def fit_data() -> dict[str, Any]:
    """Give kind sheets, named changes, published tables and what sheets may say, as plain JSON."""
    return {
        "sheets": {kind: found.as_dict() for kind, found in load_sheets().items()},
        "changes": {code: {"name": change.name, "conditions": change.conditions,
                           "part": change.part} for code, change in named_changes().items()},
        "tables": {name: table(name).as_dict() for name in table_ids()},
        "types": {name: list(comparators) for name, comparators in TYPES.items()},
        "tools": dict(TOOLS), "used_rubber_mm": format_number(USED_RUBBER_MM),
    }


@cache
def fit_data_bytes() -> bytes:
    """Give the same as JSON text, made once: the sources change with the program only."""
    return orjson.dumps(fit_data())
