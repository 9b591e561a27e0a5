"""Is the heat that a rubber bears in water less than in oil and air, as the trade says?

Hot water and steam eat FKM (a maker's glossary); where hot begins is from memory: 100 °C.
"""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute

MOST_C = {"NBR": 100, "CR": 100, "EPDM": 130, "FKM": 100, "VMQ": 100}


def outcome(attr: str, place: dict[str, Any], rubber: str, *asked: dict[str, Any]) -> str:
    answer = compute("fit", {"kind": "o-ring", "place": place, "requires": list(asked),
                             "offers": {"material": rubber}})
    return next(row["outcome"] for row in answer["rows"] if row["attr"] == attr)


@pytest.mark.parametrize("medium", ["fresh-water", "sea-water", "brackish", "coolant"])
@pytest.mark.parametrize("rubber", list(MOST_C))
def test_rubber_bears_less_heat_in_water(rubber: str, medium: str):
    most = MOST_C[rubber]
    hot = {"medium": medium, "temperature_c": most}
    assert outcome("material", hot, rubber) != "stop"
    assert outcome("material", {**hot, "temperature_c": most + 1}, rubber) == "stop"
    for asked, found in ((most, "unknown"), (most + 1, "stop")):
        assert outcome("temperature_c", {"medium": medium}, rubber,
                       {"attr": "temperature_c", "value": asked}) == found


def test_rubber_bears_more_heat_in_oil():
    assert outcome("material", {"medium": "engine-oil", "temperature_c": 200}, "FKM") == "match"
