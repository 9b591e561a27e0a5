"""Steps of trails that server and phone are both asked to make."""

from __future__ import annotations

from typing import Any

TRAIL = {"trail": "HBR-T1"}
PLACES = [{"name": "oil cooler", "opens": " hose "}, {
    "name": "cap", "point": "HBR-06", "seal": "gasket"}, {"name": "elbow", "part": "P040"}]
TRAILED: list[tuple[str, dict[str, Any]]] = [
    ("trail-begin", {"machine": "HBR", "what": " blade ", "missing": 2, "of_pieces": 6,
                     "point": "HBR-04", "by": "Ole", "places": PLACES}),
    ("trail-begin", {"machine": "ENG", "what": "vane", "places": [], "at": "2027-03-01"}),
    ("trail-begin", {"machine": "ENG", "what": "vane", "missing": 7, "of_pieces": 6,
                     "places": []}),
    ("trail-begin", {"machine": "ENG", "what": " ", "places": []}),
    ("trail-look", {**TRAIL, "place": "1"}),
    ("trail-look", {**TRAIL, "place": "2", "found": 1, "by": "Tove", "at": "2027-03-14"}),
    ("trail-look", {**TRAIL, "place": "2", "taken_back": True}),
    ("trail-place", {**TRAIL, "name": "water lock", "opens": "plug"}),
    ("trail-place", {**TRAIL, "name": "thermostat", "before": "2", "point": "HBR-07"}),
    ("trail-place", {**TRAIL, "place": "3", "before": "1"}),
    ("trail-place", {**TRAIL, "place": "3", "gone": True}),
    ("trail-place", {**TRAIL, "place": "3", "seal": "O-ring", "part": "P041"}),
    ("trail-place", {**TRAIL, "place": "3"}), ("trail-place", {**TRAIL, "opens": "plug"}),
    ("trail-count", {**TRAIL, "missing": 3}), ("trail-count", {**TRAIL, "what": "two blades"}),
    ("trail-count", {**TRAIL, "missing": 7}),
    ("trail-accept", {**TRAIL, "by": "Tove", "why": " seen to leave "}),
    ("trail-accept", {**TRAIL, "by": "Tove"}), ("trail-accept", {**TRAIL, "taken_back": True}),
    ("trail-first-run", {**TRAIL, "flow": " as before ", "temperature_c": 82.5, "by": "Ole"}),
    ("trail-first-run", {**TRAIL, "temperature_c": "79,5", "at": "2027-03-16"}),
    ("trail-first-run", {**TRAIL, "flow": "as before"}),
    ("trail-first-run", {**TRAIL, "by": "Ole"}),
    ("trail-accept", {"trail": "AIR-T1", "taken_back": True}),
    ("trail-accept", {"trail": "WIN-T1", "by": "Tove", "why": "none is missing"}),
]
