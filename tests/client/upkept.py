"""Answers of the walk-round and records of drain points, as a phone and the server take them."""

from __future__ import annotations

from typing import Any

UPKEPT: list[tuple[str, dict[str, Any]]] = [
    ("found", {"question": "plate", "about": "WIN", "origin": "seen", "maker": " Yttermoor ",
               "serial": "YM 12-9", "by": "Anna", "at": "2027-03-10"}),
    ("found", {"question": "plate", "about": "WIN", "origin": "seen", "answer": "no plate"}),
    ("found", {"question": "history", "about": "S15", "origin": "told", "done_on": "2026-06"}),
    ("found", {"question": "history", "about": "S01", "origin": "guessed", "done_on": "2026-06-01",
               "hours": "1700", "answer": "by the soot", "note": "ask the yard"}),
    ("found", {"question": "history", "about": "S01", "origin": "told", "done_on": "2026-06-01",
               "hours": "9000"}),
    ("found", {"question": "history", "about": "S01", "origin": "told", "hours": "1700"}),
    ("found", {"question": "fit", "about": "WIN-01", "origin": "told", "answer": " "}),
    ("found", {"question": "counter", "about": "HBR", "origin": "told", "serial": "x"}),
    ("baseline", {"at": "2027-03-01"}), ("baseline", {"at": "2027-03-16"}),
    ("baseline", {"taken_back": True}),
    ("drained", {"turn": "lay-up", "point": "D02", "done": "drained", "seen_to_run": True,
                 "cock": "shut", "by": " Anna "}),
    ("drained", {"turn": "lay-up", "point": "D10", "done": "treated", "protects_to_c": "-25,5"}),
    ("drained", {"turn": "lay-up", "point": "D10", "done": "treated", "protects_to_c": "cold"}),
    ("drained", {"turn": "lay-up", "machine": "TND", "done": "treated", "at": "2027-03-01"}),
    ("drained", {"turn": "lay-up", "machine": "HBR", "name": "Water lock", "done": "not-done"}),
    ("drained", {"turn": "fitting-out", "point": "D01", "plug_in": True, "at": "2027-03-16"}),
    ("drained", {"turn": "fitting-out", "point": "D01", "plug_in": True, "no_leak": True}),
]
