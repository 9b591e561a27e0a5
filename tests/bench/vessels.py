"""Vessels of any size, made up from a seed and brought in as anybody's files are."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

from spares.actions.bring_in import bring_in
from spares.db.engine import Store, open_store

NOUNS = ("impeller", "filter", "seal", "belt", "gasket", "bolt", "hose", "clamp", "bearing",
         "anode", "thermostat", "fuse", "ring", "valve", "nozzle", "washer")
WORDS = ("fuel", "oil", "sea-water", "coolant", "spin-on", "brass", "stainless", "cover", "pump",
         "shaft", "drive", "return", "suction", "pressure", "small", "long")
LINES_AT_ONCE = 50_000
MAKERS = ("Krustrand", "Pellwick", "Fennholt", "Ostrel", "Quillsund", "Valkmose", "Lyskaer")


def vessel_tables(parts: int, machines: int = 20, lockers: int = 100,
                  seed: int = 7) -> dict[str, str]:
    """Give the tables of a vessel with that many part lines, by name, as texts."""
    rng = random.Random(seed)
    tables: dict[str, list[list[object]]] = {
        "vessel": [["mark", "name"], ["BIG", "MADE UP"]],
        "machines": [["no", "name", "counter"]],
        "points": [["no", "name", "machine", "kind"]],
        "lockers": [["no", "name", "aboard", "reachable"]],
        "parts": [["no", "name", "maker", "number", "kind", "lead_days"]],
        "links": [["part", "to", "role", "proof"]],
        "stock": [["part", "locker", "quantity"]],
        "services": [["no", "what", "machine", "point", "every_h", "every_months"]],
        "kits": [["service", "part", "quantity"]],
        "readings": [["machine", "date", "hours"]],
        "done": [["service", "date", "hours"]],
        "trips": [["no", "name", "departs_on", "returns_on", "hours_before_departure"],
                  ["T1", "Round", "2027-04-01", "2027-06-30", "none"]],
        "trip_hours": [["trip", "machine", "hours"]],
    }
    for i in range(lockers):
        tables["lockers"].append([f"L{i:03}", f"Locker {i}", "yes", "yes"])
    for i in range(parts):
        name = f"{rng.choice(WORDS)} {rng.choice(NOUNS)} {rng.randint(5, 99)} mm"
        maker = rng.choice(MAKERS)
        tables["parts"].append([f"P{i:05}", name, maker, f"{maker[:2].upper()} {i:05}-"
                                f"{rng.randint(10, 99)}", "", rng.randint(2, 40)])
        tables["stock"].append([f"P{i:05}", f"L{rng.randrange(lockers):03}", rng.randint(1, 9)])
    for m in range(machines):
        tables["machines"].append([f"M{m:03}", f"Machine {m}", "own"])
        tables["readings"] += [[f"M{m:03}", "2026-03-01", 100], [f"M{m:03}", "2027-03-01", 700]]
        tables["trip_hours"].append(["T1", f"M{m:03}", rng.randint(50, 400)])
        for k in range(10):
            part, service = f"P{(m * 10 + k) % parts:05}", f"S{m:03}{k}"
            point = f"M{m:03}-{k:02}"
            tables["points"].append([point, f"{NOUNS[k]} place", f"M{m:03}", ""])
            tables["links"].append([part, point, "takes", "makers-list"])
            tables["services"].append([service, f"change {NOUNS[k]}", f"M{m:03}", point,
                                       rng.randint(50, 600), rng.choice([6, 12, 24])])
            tables["kits"].append([service, part, rng.randint(1, 4)])
            tables["done"].append([service, "2026-09-01", 400])
    return {name: "\n".join(";".join(map(str, row)) for row in rows) + "\n"
            for name, rows in tables.items()}


def made_up_store(folder: Path, parts: int, machines: int = 20) -> Store:
    """Make a store with such a vessel in *folder*, through the importer and the door."""
    store = open_store(folder / "spares.sqlite")
    for place, tables in enumerate(_in_pieces(vessel_tables(parts, machines))):
        files = folder / f"files{place}"
        files.mkdir()
        for name, text in tables.items():
            (files / f"{name}.csv").write_text(text, "utf-8")
        bring_in(store, files)
    return store


def _in_pieces(tables: dict[str, str]) -> Iterator[dict[str, str]]:
    """Cut the long tables: a file may only be so large. The first piece has all the others."""
    cut = {name: tables[name].splitlines(keepends=True) for name in ("parts", "stock")}
    rows = len(cut["parts"]) - 1
    for at in range(0, rows, LINES_AT_ONCE):
        some = {name: lines[0] + "".join(lines[at + 1:at + 1 + LINES_AT_ONCE])
                for name, lines in cut.items()}
        yield {**(tables if at == 0 else {"vessel": tables["vessel"]}), **some}
