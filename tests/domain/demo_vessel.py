"""The demo vessel written down once more, by hand, as a request for a trip.

Her services, readings, stock and voyage are invented; they are kept apart from the data
files so that the two can be held against each other.
"""

from __future__ import annotations

import re
from typing import Any

# no; locker=count (expiry, condition); lead days; euro each
PARTS = """
P001; L01=2; 7; 18,50 || P002; L01=1; 3; 11,00 || P003; L01=3; 7; 14,20 || P004; L01=2; 3; 8,90
P005; L01=4; 3; 12,40 || P006; L03=2; 3; 6,00 || P007; L05=1 used good; 28; 640,00
P008; none; 10; 385,00 || P009; L03=1; 14; 46,00 || P010; L02=2; 3; 13,70
P011; L02=1; 3; 13,90 || P012; L04=1; 7; 39,00 || P013; L04=2; 7; 4,10
P014; L14=2 used good; 52; 92,00 || P015; L04=14; 5; 0,40 || P016; L04=1; 14; 31,00
P017; L07=10; 5; 1,80 || P018; L07=22; 5; 0,30 || P019; L07=30; 5; 0,20
P020; L01=1; 21; 44,00 || P021; L03=1 exp 2026-05-31; 4; 17,00 || P022; L04=4; 5; 0,60
P023; L01=1; 10; 27,00 || P024; none; 10; 33,00 || P025; L03=2 exp 2034-03-31; 4; 9,50
P026; L19=1; 6; 78,00 || P027; L03=8; 4; 0,90 || P028; L19=1; 30; 120,00
P029; L08=20; 5; 0,50 || P030; L01=2; 12; 9,00 || P031; L14=1; 12; 66,00
P032; L04=1; 12; 14,00 || P033; L14=1; 12; 58,00 || P034; L17=2; 7; 12,00
P035; L17=2; 7; 9,80 || P036; none; 10; 210,00
P037; L17=1 exp 2031-06-30, L03=1 exp 2031-06-30; 5; 24,00 || P038; L04=2; 5; 2,20
P039; L03=1 exp 2030-02-28; 4; 6,50 || P040; L04=1; 14; 7,40 || P041; L17=3; 5; 5,60
P042; L17=1; 3; 9,10 || P043; L22=2; 6; 15,00 || P044; none; 21; 54,00 || P045; L22=4; 6; 3,00
P046; L22=1; 6; 22,00 || P047; L21=1; 5; 19,00 || P048; L21=1; 5; 28,00 || P049; L12=6; 9; 7,00
P050; L12=4; 9; 8,00 || P051; none; 18; 145,00 || P052; L12=1 exp 2027-12-31; 9; 36,00
P053; L12=1; 4; 18,00 || P054; L25=1 suspect; -; 260,00 || P055; none; 12; 410,00
P056; L13=3; -; 31,00 || P057; L13=4; -; 12,00 || P058; none; 12; 49,00 || P059; L13=2; 12; 6,00
P060; L14=1; 15; 63,00 || P061; L03=1 exp 2030-09-30; 5; 38,00 || P062; L09=1; 4; 11,00
P063; L20=3; 4; 6,20 || P064; L20=4; 4; 1,10 || P065; L20=1; 4; 9,00 || P066; L06=3; 2; 96,00
P067; L06=2; 2; 29,00 || P068; L06=2; 2; 34,00 || P069; L06=1; 2; 88,00 || P070; L06=4; 2; 27,00
P071; L06=2; 2; 12,00 || P072; L06=5; 2; 7,00 || P073; L14=2; 2; 41,00
P074; L06=1 exp 2027-05-31; 2; 24,00 || P075; L20=1; 2; 11,00 || P076; L07=18; 5; 0,60
P077; L07=12; 5; 0,95 || P078; L07=40; 5; 0,15 || P079; L07=16; 5; 0,40 || P080; L07=60; 5; 0,10
P081; L07=2; 5; 2,40 || P082; L07=25; 5; 0,10 || P083; L08=9; 6; 0,70 || P084; L08=14; 6; 0,20
P085; L08=6; 6; 0,90 || P086; L08=8; 6; 0,40 || P087; L08=5; 20; 1,60 || P088; L08=30; 6; 0,10
P089; L09=12; 5; 1,30 || P090; L09=8; 5; 1,70 || P091; L09=1; 5; 14,00 || P092; none; 8; 16,00
P093; L09=3; 2; 1,50 || P094; L09=1 exp 2027-04-30; 2; 13,00 || P095; L02=2; 4; 17,00
P096; L02=3; 4; 12,00 || P097; L13=1; 4; 21,00 || P098; L11=1; 3; 15,00 || P099; L04=2; 4; 8,00
P100; L04=1 exp 2026-10-31; 2; 10,00 || P101; L03=1; 4; 29,00 || P102; L03=1; 4; 29,00
P103; L15=15; 3; 0,30 || P104; L15=4; 3; 0,30 || P105; L10=1; 8; 12,00 || P106; L15=2; 6; 5,00
P107; L10=2; 6; 7,00 || P108; L10=?; 3; 0,20 || P109; L10=1; 3; 9,00
P110; L23=16 exp 2029-12-31; 2; 0,60 || P111; L23=3; 3; 18,00
P112; L16=4 exp 2027-06-30; 5; 48,00 || P113; L16=6 exp 2028-03-31; 5; 17,00
P114; L23=1 exp 2030-08-31; 4; 39,00 || P115; L11=1 exp 2027-05-20; 5; 62,00
P116; L24=4 exp 2027-09-30; 3; 6,00 || P117; L24=1 exp 2027-02-28; 3; 11,00
P118; L11=1; 5; 22,00 || P119; L25=1 suspect; -; 0 || P120; L14=6 suspect; -; 0
"""

# no; weight; what sits there
POINTS = """
ENG-01; A; P001 P002 || ENG-02; A; P003 || ENG-03; A; P005 P006 || ENG-04; A; P007 P091 P092
ENG-05; A; P009 || ENG-06; A; P010 || ENG-07; B; P012 P013 || ENG-08; A; P014 P015
ENG-09; B; P016 P017 P018 P081 || GBX-01; B; P020 P022 || GBX-02; A; P021 || HYD-01; B; P023
HYD-02; B; P024 || HYD-03; B; P025 || HYD-04; B; P026 P027 || WIN-01; A; P028 P029
AIR-01; C; P030 || AIR-02; B; P031 P032 || AIR-03; B; P011 || HBR-01; B; P034 || HBR-02; B; P035
HBR-03; B; P036 || HBR-04; B; P037 P038 || HBR-05; B; P039 || HBR-06; B; P040 || HBR-07; B; P041
HTR-01; B; P043 || HTR-02; B; P044 || HTR-03; C; P045 || PWR-01; B; P047 || WMK-01; C; P049
WMK-02; C; P050 || WMK-03; C; P051 || SAN-01; B; P054 P055 || SAN-02; retired; P056
SAN-03; retired; P057 || SAN-04; B; P058 P059 || BLG-01; A; P061 || BLG-02; B; P062
TND-01; C; P063
"""

# no; point or machine; every hours; every months; kit (! = one more set aside); last done @hours
SERVICES = """
S01; ENG-01; 150; 12; P001x1! P066x1; 2026-09-18 @1790,0
S02; ENG-02; 300; 12; P003x1!; 2026-05-04 @1650,0
S03; ENG-03; 150; 6; P005x1!; 2026-09-18 @1790,0 || S04; ENG-06; 600; 24; P010x1!; not known
S05; ENG-05; 2000; -; P009x1; not known || S06; ENG-07; -; 48; P012x1 P013x1; 2024-04-10
S07; ENG-08; 1500; -; P014x6 P015x6; 2024-08-20 @0
S08; ENG-09; 500; 24; P016x1 P017x12 P018x12; 2025-07-01 @1120,0
S09; ENG; -; 24; P070x4; 2025-04-02
S10; GBX-01; 500; 12; P020x1 P068x2 P022x1; 2026-04-12 @1600,0
S11; GBX-02; 3000; -; P021x1; not known || S12; HYD-01; 250; 12; P023x1; 2026-06-30 @505,0
S13; HYD-02; 500; 24; P024x1; not known || S14; HYD-04; -; 72; P026x1 P027x2; 2021-06-01
S15; WIN-01; -; 12; none; 2026-03-20 || S16; AIR-01; 100; 12; P030x1; 2026-02-15 @330,0
S17; AIR-02; 1000; -; P031x1 P032x1; not known || S18; AIR; 100; 12; P071x1; 2026-02-15 @330,0
S19; AIR-03; 500; 24; P011x1; 2025-05-05 @270,0
S20; HBR-01; 100; 12; P034x1 P067x1; 2027-01-20 @3060,0
S21; HBR-02; 200; 12; P035x1; 2026-06-15 @2900,0
S22; HBR-04; 300; 12; P037x1! P038x1!; 2026-06-15 @2900,0
S23; HBR-05; 1000; -; P039x1; not known || S24; HBR-06; 500; 24; P040x2; 2025-06-10 @2610,0
S25; HBR-07; -; 3; P041x1; 2027-01-20 || S26; HTR-01; 1000; 12; P043x1; 2026-10-01 @5120,0
S27; HTR-03; 500; 6; P045x1; 2026-10-01 @5120,0 || S28; HTR-02; -; 12; none; 2026-10-01
S29; PWR-01; -; 36; P047x1; not known
S30; WMK-01 WMK-02; 50; 6; P049x1 P050x1; 2026-08-01 @80,0
S31; WMK-03; 500; -; P051x1; 2024-05-01 @0 || S32; SAN-04; -; 24; P058x1! P059x2; 2025-09-12
S33; BLG-01; -; 24; P061x1!; not known || S34; BLG-02; -; 12; P062x1; 2026-04-01
S35; TND-01; -; 12; P063x2; 2026-05-10
"""

READINGS = """
ENG; 2024-08-20=0; 2025-07-01=1120,0; 2026-04-12=1600,0; 2026-05-04=1650,0
ENG; 2026-09-18=1790,0; 2027-03-12=1912,4
HYD; 2026-06-30=505,0; 2026-12-01=612,0; 2027-01-05=603,0; 2027-03-10=640,0
AIR; 2025-05-05=270,0; 2026-02-15=330,0; 2027-03-12=388,0
HBR; 2025-06-10=2610,0; 2025-10-12=2741,5; 2026-04-20=2858,0
HBR; 2026-06-15=2900,0; 2027-01-20=3060,0; 2027-03-14=3105,6
HTR; 2026-10-01=5120,0; 2026-11-02=5260,0
WMK; 2024-05-01=0; 2026-08-01=80,0; 2027-02-02=960; 2027-03-01=96,0
"""

COUNTERS = {"ENG": "own", "GBX": "ENG", "HYD": "own", "WIN": "none", "AIR": "own", "HBR": "own",
            "HTR": "own", "PWR": "none", "WMK": "own", "SAN": "none", "BLG": "none", "TND": "none"}
HOURS = {"ENG": 210, "GBX": 210, "HYD": 120, "AIR": 25, "HBR": 190, "HTR": 250, "WMK": 110}
KEEP = {"P074": 1, "P094": 1, "P103": 10, "P104": 4, "P105": 1, "P112": 4, "P113": 6, "P114": 1,
        "P115": 1, "P116": 4, "P117": 1}


def trip_request() -> dict[str, Any]:
    """Give the request for the voyage of 63 days that leaves on 2027-05-03."""
    return {
        "today": "2027-03-15",
        "trip": {"departs_on": "2027-05-03", "days": 63, "hours": HOURS, "ready_days": 2,
                 "hours_before_departure": "none"},
        "machines": [{"id": m, "counter": c} for m, c in COUNTERS.items()],
        "fit_points": [_point(row) for row in _rows(POINTS)],
        "tasks": [_task(row) for row in _rows(SERVICES)],
        "records": [r for row in _rows(SERVICES) if (r := _record(row))],
        "readings": [r for row in READINGS.strip().splitlines() for r in _readings(row)],
        "parts": [_part(row) for row in _rows(PARTS)],
        "lots": [lot for row in _rows(PARTS) for lot in _lots(row)],
        "keep": KEEP}


def _rows(text: str) -> list[list[str]]:
    return [[cell.strip() for cell in record.split(";")]
            for record in re.split(r"\n| \|\| ", text.strip())]


def _point(row: list[str]) -> dict[str, Any]:
    no, weight, takes = row
    return {"id": no, "machine": no[:3], "weight": "B" if weight == "retired" else weight,
            "takes": [] if takes == "-" else takes.split(), "retired": weight == "retired"}


def _task(row: list[str]) -> dict[str, Any]:
    no, point, hours, months, kit, _ = row
    first = point.split()[0]
    return {"id": no, "machine": first[:3], "fit_point": first if "-" in first else None,
            "every_h": None if hours == "-" else hours,
            "every_months": None if months == "-" else months,
            "kit": [] if kit == "none" else [
                {"part": word[:4], "quantity": int(word[5:].rstrip("!")),
                 "set_aside": word.endswith("!")} for word in kit.split()]}


def _record(row: list[str]) -> dict[str, Any] | None:
    if row[5] == "not known":
        return None
    on, _, hours = row[5].partition(" @")
    return {"task": row[0], "on": on, "at_h": hours or None}


def _readings(row: str) -> list[dict[str, Any]]:
    machine, *shown = [cell.strip() for cell in row.split(";")]
    return [{"machine": machine, "on": cell.split("=")[0], "h": cell.split("=")[1]}
            for cell in shown]


def _part(row: list[str]) -> dict[str, Any]:
    return {"id": row[0], "lead_days": None if row[2] == "-" else row[2], "cost": row[3],
            "stand_ins": ["P002"] if row[0] == "P001" else []}


def _lots(row: list[str]) -> list[dict[str, Any]]:
    found = []
    for locker, count, rest in re.findall(r"(L\d\d)=(\d+|\?)([^,]*)", row[1]):
        expiry = re.search(r"exp (\S+)", rest)
        found.append({
            "part": row[0], "locker": locker, "quantity": None if count == "?" else int(count),
            "counted": count != "?", "expires": expiry.group(1) if expiry else None,
            "condition": "suspect" if "suspect" in rest else
            "used-good" if "used good" in rest else "new",
            "aboard": locker != "L25", "reachable": locker not in ("L05", "L14")})
    return found
