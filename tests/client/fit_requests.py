"""Random requests of the fit check, made from the kinds' own sheets; seeded, so always the same.

What is offered is mostly near what is asked, so that limits are met, and sometimes something
else, badly written or missing. Numbers with a decimal part never end in `.0`: text that shows a
number as it was typed could not be compared otherwise.
"""

from __future__ import annotations

import random
from typing import Any

from spares.domain.fit import load_sheets
from spares.domain.fit.sheets import TOOLS, TYPES, Attribute
from spares.domain.fit.values import ORIGINS, PROOFS, ROLES
from spares.domain.place_fields import MEDIA
from spares.standards import table

SHEETS = load_sheets()
THREADS = ["M8", "M10", "M10x1.25", "M12x1.5 LH", "3/8-16 UNC", "8-32 UNC", "#10-24 UNC", "1/2 BSW",
           "7/16 BSF", "G 1/2", "R 1/2", "Rp 1/2", "Rc 3/4", "1/2 NPT", "1/2 BSP", "½ BSP",
           "3/4 BSPT female", "1/2-14 NPT", "1/2-12", "3/4-16 UN", "M9", "thread like a lamp",
           "none", "G 1/2 A",
           {"major": 9.93, "pitch": 1.5}, {"major": 9.93, "pitch": None, "u": 0.05},
           {"major": 20.9, "tpi": 14}, {"major": 20.9, "tpi": 14, "taper": False},
           "1/2 BSP taper", "3/4 BSP, parallel", "20,9 x 1,81 60 deg",
           {"value": "1/2 BSP", "taper": True},
           {"major": 20.9, "pitch": 1.8, "flank_deg": 55},
           {"major": 20.9, "tpi": 14, "taper": "no"},
           {"major": "0.374 in", "tpi": 16}, {"major": 17.3, "pitch": 1.1}, {"pitch": 1.5}]
CODES = {"bearing": ["6203-2RS C3", "6203 LLU", "6203ZZ", "6203", "7203", "6203-2RSC3", "6000 Q9",
                     "6305 NR", "abc"],
         "o-ring": ["AS568-214", "as568-214 NBR 70", "25x3.5", "25 x 3,5 FPM", "214", "24.99x3.53"],
         "drive-belt": ["A38", "AX38", "13x1000 Li", "SPA1000", "XPA 1000 Lw", "3V500", "6PK1200",
                        "640-8M-30", "AVX13x1000", "17x11x1200 La", "B225", "A 1000 Li", "A39"],
         "pump": ["SAE A", "82-2", "J744 101-2", "SAE B", "pad nine"],
         "pump-seal": ["16x28x7 AS", "16 × 28 × 7, AS", "16x28x7", "16-28-7 BS FPM", "17x28x7 RD",
                       "28x16x7"],
         "hose": ["25 mm", "1 in", "25x35", "1 1/4 in", "19"], "clamp": ["32-50 W4", "20-32/9 W2"],
         "fuse": ["5x20 T 2A 250V", "blade-mini 15 A", "6,3x32 F 500 mA", "15 A", "maxi 40A"]}
KEYS = ["5x5", "5x5x20", "DIN 6885 A 6x6x20", 5, "5 mm"]
RUBBERS = ["NBR", "nitrile", "EPDM", "FKM", "FPM", "CR", "neoprene", "rubber", "VMQ", "polymer X"]
METALS = ["bronze", "brass", "316", "A4", "A2", "stainless", "stainless steel 316", "steel", "zinc",
          "aluminium", "magnesium", "cast iron", "plastic", "A4 stainless", "gold"]
ROTATIONS = ["cw", "ccw", "either", {"value": "cw", "seen_from": "shaft-end"},
             {"value": "ccw", "seen_from": "cover-end"},
             {"value": "clockwise", "seen_from": "pulley"}]
CLASSES = ["8.8", "10.9", "A2-70", "A4-80", "grade 5", "SAE 5", "5.6", "12.9", "8", "10", "odd"]
SPECS = ["API CF-4", "API CF-4 or later", "CI-4", "CD", "SL", "SN; CF-4", "15W-40", "SAE 15W40",
         "10W-30", "ISO 7840 A1", "ISO 7840", "SAE J1527 A2", "SAE J2006 R2 and better"]
SPELLINGS = {       # how one thing is written in the trade; some of it nonsense
    "thread": ["1/2-20 UNEF", "3/8-24 UNF", "1/4-20", "5/16-18 UNC LH", "M10 right-hand", "M10 RH",
               "M10 left hand", "#8-32", "No. 10-32 UNF", "no 6-32", "3/8 BSF", "3/8 Whitworth",
               "1 1/8-8 UN", "1-1/2-12 UNF", "1/2-28 UNS", "0-80 UNF", "M10 x 1,0", "M10-LH",
               "LH M10", "left-hand M8", "M8 right", "m8", "M 8", "M8x1,25-6g", "G1/2",
               "G 1 1/4 B", "G 3/8 LH", "R1/2", "Rc1/2",
               "Rp 3/4", "M10 LH thread", "1/4-28 UNF port", "12-24 UNC", "5-40", "3-48 UNC",
               "2-56", "4-40", "6-32", "8-36 UNF", "10-24", "7-11",
               "BSPP 1/2", "1/2 BSPP", "BSPT 3/8", "NPTF 1/4", "1/4 NPS", "1/8 NPT", "G 1/8",
               "1/8-27 NPT", "3/8 gas", {"major": 0.5, "tpi": 13, "unit": "in"},
               {"major": 12.7, "tpi": 12, "flank_deg": 55}, {"major": 12.7, "tpi": 13},
               {"major": 7.9, "pitch": 1.25, "taper": False}, {"major": 13.1, "tpi": 19},
               {"major": 26.3, "tpi": 14, "flank_deg": 60}, {"major": 33.2, "tpi": 11},
               {"major": 21.3, "tpi": 14, "taper": True}, {"major": 9.8, "pitch": 1.5, "u": 0.02}],
    "section": ["A", "AX", "SPA", "XPA", "A/13", "13", "13x8", "17", "Z", "10", "SPZ", "3V", "3L",
                "5V", "8V", "B", "BX", "C", "22", "PJ", "PK", "PL", "PM", "PH", "9.5", "AVX10",
                "CX", "DX", "ZX"],
    "length": [{"value": 1000, "system": name} for name in (
        "datum", "Ld", "li", "Li", "Lw", "lp", "pitch", "outside", "la", "La", "inside",
        "effective", "Le", "outer", "inner", "odd")],
    "property_class": ["8.8", "10.9", "12.9", "5.6", "4.8", "A2-70", "A4-80", "A4-50", "SAE 2",
                       "SAE 5", "SAE 8", "grade 8", "C4-70", "8", "10", "5", "316", "8.8 zinc"],
    "nut_class": ["8", "10", "12", "5", "04", "05", "A2-70", "A4-80", "SAE 5", "grade 8", "80"],
    "material": ["NBR", "HNBR", "nitrile", "EPDM", "FKM", "polymer Y", "CR", "neoprene", "VMQ",
                 "silicone", "A2", "A4", "304", "316", "316L", "brass", "DZR", "bronze", "gunmetal",
                 "aluminium", "cast iron", "mild steel", "galvanized steel", "zinc plated steel",
                 "zinc-free bronze", "without copper", "no zinc", "non ferrous", "NBR except FKM",
                 "nickel", "steel stainless", "stainless", "brass or bronze", "NBR/brass",
                 "brass/NBR",
                 "titanium", "acetal", "nylon", "PTFE", "graphite", "copper", "paper", "cork"],
    "metal": ["zinc", "aluminium", "magnesium", "iron", "zinc alloy", "Al-Zn-In"],
    "standard": ["ISO 7840 A1", "ISO 7840 A2", "ISO 7840 B1", "ISO 8469", "ISO 13363", "SAE J2006",
                 "SAE J1527 A1", "SAE J1527 B1-15", "SAE J1942", "EN 1765", "SAE J2006 R3",
                 "DIN EN ISO 7840", "BS EN ISO 7840 type A1", "SAE J1527 type A1-15",
                 "EN ISO 7840 A1", "ISO 7840-A1 and ISO 8469-A1", "no ISO 7840",
                 "ISO 7840 or better"],
    "rotation": ["cw", "ccw", "either", "clockwise", "anticlockwise", "left", "right", "both",
                 {"value": "ccw", "seen_from": "shaft-end"}, {"value": "cw", "seen_from": "front"},
                 {"value": "cw", "seen_from": "cover-end"}],
    "port_direction": ["12", "3 o'clock", "3:30", "6", "9 o'clock", "90", "90°", "45 deg", "up",
                       "270", "12 o'clock", "left"],
    "inlet_port": ["G 1/2", "1/2 NPT", "R 1/2", "Rc 1/2", "19 mm hose", "barb 19", "3/4 hose",
                   "flange", "none", "25", "1 in"],
    "speed": ["FF", "F", "M", "T", "TT", "fast", "slow", "time-lag", "quick"],
    "viscosity": ["15W-40", "SAE 15W40", "10W-30", "SAE 30", "ISO VG 32", "75W-90", "5W40",
                  "SAE 90"],
    "specification": ["API CF-4", "CI-4", "CD", "SL", "GL-4", "GL-5", "ACEA E7", "API CK-4",
                      "FA-4"],
    "clearance": ["C3", "CN", "normal", "C2", "C4", "C0"],
    "closure": ["2RS", "2RS1", "ZZ", "2Z", "RS", "Z", "LLU", "open", "seal-one", "shield-one",
                "shield-both", "seal-both", "DDU"],
    "place mating_metal": ["aluminium", "brass", "steel", "stainless", "A4", "cast iron", "bronze"],
    "place medium": list(MEDIA),
}
BARE = ["", "  ", "??", "1/0", "-3", "9" * 90, True]


def requests(count: int, seed: int) -> list[dict[str, Any]]:
    """Give *count* requests, always the same for a seed."""
    rng = random.Random(seed)
    return [_request(rng) for _ in range(count)]


def _request(rng: random.Random) -> dict[str, Any]:
    kind = rng.choice(sorted(SHEETS))
    lines = list(SHEETS[kind].attributes.values())
    asked = rng.sample(lines, min(len(lines), rng.randint(1, 7)))
    request: dict[str, Any] = {"kind": kind, "requires": [], "offers": {}, "today": "2027-03-15"}
    for line in asked:
        value = _value(rng, kind, line)
        request["requires"].append(_requirement(rng, line, value))
        if rng.random() < 0.08:
            request["requires"].append(_requirement(rng, line, _near(rng, kind, line, value)))
        if rng.random() < 0.9:
            request["offers"][line.code] = _offer(rng, kind, line, value)
    for line in rng.sample(lines, min(len(lines), 3)):
        if rng.random() < 0.5:
            more = _value(rng, kind, line)
            request["offers"].setdefault(line.code, more[0] if isinstance(more, list) else more)
    if rng.random() < 0.7:
        request["place"] = _place(rng)
    if rng.random() < 0.1:
        request["recorded_as"] = rng.choice(("", "o-ring", "general", request["kind"]))
    if rng.random() < 0.2:
        request["links"] = [{"role": rng.choice(ROLES), "proof": rng.choice(PROOFS)}]
    if rng.random() < 0.3:
        request["companions"] = {line.code: ["P9"] for line in rng.sample(asked, 1)}
    return request


def _requirement(rng: random.Random, line: Attribute, value: Any) -> dict[str, Any]:
    asked = {"attr": line.code, "value": value}
    if rng.random() < 0.06:
        asked["value"] = None
    if isinstance(value, list) and "one-of" in TYPES[line.type]:
        asked["cmp"] = "one-of"
    elif not isinstance(value, dict) and rng.random() < 0.15:
        asked["cmp"] = rng.choice([c for c in TYPES[line.type] if c != "range"])
    if rng.random() < 0.2:
        asked["tol"] = rng.choice([0, 0.1, "0,25", 0.5, "1/64 in", 3])
    if rng.random() < 0.1:
        asked["severity"] = rng.choice(["stop", "change", "advisory"])
    return {**asked, **_beside(rng, line)}


def _beside(rng: random.Random, line: Attribute) -> dict[str, Any]:
    more: dict[str, Any] = {}
    if line.unit == "mm" and rng.random() < 0.08:
        more["unit"] = rng.choice(["in", "mm", "cm"])
    if rng.random() < 0.12:
        more["u"] = rng.choice([0, 0.05, 0.1, 0.5, "0.02"])
    if rng.random() < 0.15:
        more["origin"] = {"how": rng.choice(ORIGINS), "when": "2025"}
        if rng.random() < 0.3:
            more["origin"]["tool"] = rng.choice(sorted(TOOLS))
    return more


def _offer(rng: random.Random, kind: str, line: Attribute, value: Any) -> Any:
    have = _near(rng, kind, line, value)
    if isinstance(have, list):
        have = rng.choice(have)
    if line.type == "quantity" and isinstance(have, dict):
        have = have.get("min", have.get("max"))
    roll = rng.random()
    if roll < 0.04:
        return "none"
    if roll < 0.07:
        return None
    if roll < 0.075:
        return rng.choice(BARE)
    if roll < 0.1:
        return [{"value": have}, {"value": value}] if not isinstance(have, dict) else have
    parts = have if isinstance(have, dict) else {"value": have}
    return {**parts, **_beside(rng, line)} if rng.random() < 0.5 else have


def _near(rng: random.Random, kind: str, line: Attribute, value: Any) -> Any:
    roll = rng.random()
    if isinstance(value, list) or roll < 0.25:
        return rng.choice(value) if isinstance(value, list) and roll < 0.7 else _value(
            rng, kind, line)
    if isinstance(value, float | int) and not isinstance(value, bool) and roll < 0.75:
        step = rng.choice([0, 0.04, 0.05, 0.1, 0.11, 0.3, 0.5, 0.6, 1, 2, 12])
        return _plain(value + rng.choice([-1, 1]) * step)
    return value


def _value(rng: random.Random, kind: str, line: Attribute) -> Any:
    if line.code in ("code", "flange_code"):
        return rng.choice(CODES.get("pump" if line.code == "flange_code" else kind, ["no code"]))
    if line.code == "key_width" and rng.random() < 0.5:
        return rng.choice(KEYS)
    value = _one(rng, line)
    if isinstance(value, str) and line.type != "day" and rng.random() < 0.15:
        return [value, _one(rng, line)]
    return value


def _one(rng: random.Random, line: Attribute) -> Any:
    if line.words and rng.random() < 0.9:
        return rng.choice([*line.words, *line.aliases])
    return _BY_TYPE.get(line.type, _word)(rng, line)


def _quantity(rng: random.Random, line: Attribute) -> Any:
    size = rng.choice([rng.randint(1, 60), rng.randint(10, 9000) / 100, rng.randint(500, 4000)])
    roll = rng.random()
    if roll < 0.1:
        return {"min": _plain(size), "max": _plain(size + rng.randint(0, 9))}
    if roll < 0.15:
        return {"min": _plain(size), "max": None} if roll < 0.12 else {"max": _plain(size)}
    if roll < 0.2:
        return [_plain(size), _plain(size + 1.5)]
    if roll < 0.3 and line.unit == "mm":
        return rng.choice(["5/8 in", "1 1/4\"", "16,5", "½ in", "15.875 mm", "1.6 cm", "2-1/2 in"])
    return _plain(size)


def _word(rng: random.Random, line: Attribute) -> Any:
    if line.judge in ("viscosity", "specification", "standard"):
        return rng.choice(SPECS)
    if line.judge == "belt_section":
        return rng.choice([r["section"] for r in table("belt_sections").records()] + ["AX", "XPA"])
    if line.judge == "seal_form":
        return rng.choice(["A", "AS", "B", "bs", "C", "X"])
    if line.judge == "closure":
        return rng.choice(["open", "seal-both", "shield-both", "2RS", "ZZ", "seal one"])
    return rng.choice(["male", "female", "left", "right", "Yes", "none", "PJ", "pk", "as it was"])


def _length(rng: random.Random, line: Attribute) -> Any:
    size = rng.randint(8000, 14000) / 10
    system = rng.choice(["datum", "inside", "outside", "effective", "Li", None])
    return {"value": _plain(size), "system": system} if system else _plain(size)


def _flow(rng: random.Random, line: Attribute) -> Any:
    more = {name: rng.choice(values) for name, values in
            (("at_rpm", [1500, 1750, 2600]), ("at_bar", [0.3, 0.5, 1])) if rng.random() < 0.5}
    size = rng.randint(20, 90)
    return {"value": size, **more} if more else size


def _span(rng: random.Random, line: Attribute) -> Any:
    low = rng.randint(10, 50)
    return rng.choice([{"min": low, "max": low + rng.randint(2, 20)}, f"{low}-{low + 12}", low])


def _any(rng: random.Random, line: Attribute) -> Any:
    return rng.choice([_quantity, _word, _thread])(rng, line)


def _thread(rng: random.Random, line: Attribute) -> Any:
    return rng.choice(THREADS)


def _material(rng: random.Random, line: Attribute) -> Any:
    likely = RUBBERS if line.judge == "rubber" and rng.random() < 0.9 else METALS + RUBBERS
    return rng.choice(likely)


_BY_TYPE = {
    "quantity": _quantity, "material": _material, "thread": _thread, "length": _length,
    "flow": _flow, "span": _span, "any": _any,
    "flag": lambda rng, line: rng.choice([True, False, "yes", "no", "maybe"]),
    "rank": lambda rng, line: rng.choice([*(line.ranks or CLASSES), *CLASSES]),
    "day": lambda rng, line: rng.choice(["2015", "2019-05", "2023-05-14", "2026", "2024-02-30"]),
    "rotation": lambda rng, line: rng.choice(ROTATIONS),
}


def _place(rng: random.Random) -> dict[str, Any]:
    choices: dict[str, list[Any]] = {
        "wet": [True, False], "medium": list(MEDIA), "petrol_space": [True, False],
        "below_waterline": [True, False], "above_waterline": [True, False],
        "attitude": ["upright", "horizontal", "inverted"], "mating_metal": METALS,
        "temperature_c": [20, 95, 130.5], "wire_mm2": [0.5, 1.5, 6],
        "wire_insulation_c": [50, 60, 70.5, 105], "rotation": ROTATIONS,
        "driven_by": ["belt", "gear", "tang", "electric"], "slip": [0, 0.02]}
    place = {name: rng.choice(values) for name, values in choices.items() if rng.random() < 0.35}
    if rng.random() < 0.4:
        place |= {"engine_speed_rpm": rng.choice([1800, 2600, 3600]), "drive_pulley_mm": 110,
                  "driven_pulley_mm": rng.choice([90, 100, 120.5])}
    return place


def _plain(size: float) -> float | int:
    size = round(size, 2)
    return int(size) if size == int(size) else size
