"""What the demo vessel TANGLOPPE must answer on her day zero, 2027-03-15.

Worked out by hand beside the vessel's description, before the program existed;
never copied from what the program says. All names and prices are invented.
"""

from __future__ import annotations

from decimal import Decimal

DAY_ZERO = "2027-03-15"
MARKS = ("TGL", "HRE")

LOCKER_CODES = dict(zip(
    [f"L{n:02d}" for n in range(1, 26)],
    ("NNH9 EPXR F3JE HTKW V922 L32X R24E HYNV AFF2 Y9RT CLR2 CMDM WFPJ AK32 PCHC VD4C EMJR "
     "P2H3 TP3E DHMV DMDK CFV9 VFV3 TA9C TT34").split(), strict=True))
MACHINE_CODES = dict(zip(
    "ENG GBX HYD WIN AIR HBR HTR PWR WMK SAN BLG TND".split(),
    "AVD3 VAXA HK93 EEDA ND7H DYF7 NLXK T33D TFAL A2X4 F9EJ PJJH".split(), strict=True))
COUNTS = {"machines": 12, "points": 40, "parts": 120, "lockers": 25, "services": 35}
HOURS = {"ENG": "1912.4", "HYD": "640.0", "AIR": "388.0", "HBR": "3105.6", "HTR": "5260.0",
         "WMK": "96.0"}
RETIRED = {"SAN-02": "2025-09-12", "SAN-03": "2025-09-12"}
NOT_REACHABLE_LOCKERS = ("L05", "L14")
FITS_NOT_RECORDED = "P033 P042 P046 P048 P053 P060 P064 P120".split()
INSURANCE_SUM_EUR = Decimal("4287.70")

TRIP = "Skagerrak round"
DEPARTS, RETURNS, DAYS = "2027-05-03", "2027-07-05", 63
TRIP_HOURS = {"ENG": 210, "GBX": 210, "HYD": 120, "AIR": 25, "HBR": 190, "HTR": 250, "WMK": 110}

# Rule: unknown history is due before leaving. What is due at day-zero hours, or by months
# on or before the leaving date, counts once before leaving and restarts there. Then hours run
# evenly over the 63 days; whichever of hours and months comes first counts and restarts both;
# due on the return date still counts.
USES = {
    "S01": 2, "S02": 1, "S03": 2, "S04": 1, "S05": 1, "S06": 0, "S07": 1, "S08": 1, "S09": 1,
    "S10": 1, "S11": 1, "S12": 1, "S13": 1, "S14": 1, "S15": 1, "S16": 1, "S17": 1, "S18": 1,
    "S19": 1, "S20": 2, "S21": 1, "S22": 1, "S23": 1, "S24": 1, "S25": 1, "S26": 0, "S27": 1,
    "S28": 0, "S29": 1, "S30": 3, "S31": 0, "S32": 0, "S33": 1, "S34": 1, "S35": 1}
DUE_BEFORE_LEAVING = "S03 S07 S08 S09 S10 S15 S16 S18 S21 S25 S27 S30 S34".split()
HISTORY_UNKNOWN = "S04 S05 S11 S13 S17 S23 S29 S33".split()

# part: (need, usable)
ENOUGH = {
    "P001": (3, 3), "P003": (2, 3), "P005": (3, 4), "P009": (1, 1), "P010": (2, 2),
    "P011": (1, 1), "P015": (6, 14), "P016": (1, 1), "P018": (12, 22), "P020": (1, 1),
    "P022": (1, 4), "P023": (1, 1), "P026": (1, 1), "P027": (2, 8), "P030": (1, 2),
    "P031": (1, 1), "P032": (1, 1), "P034": (2, 2), "P035": (1, 2), "P037": (2, 2),
    "P038": (2, 2), "P039": (1, 1), "P041": (1, 3), "P045": (1, 4), "P047": (1, 1),
    "P049": (3, 6), "P050": (3, 4), "P062": (1, 1), "P063": (2, 3), "P066": (2, 3),
    "P067": (2, 2), "P068": (2, 2), "P070": (4, 4), "P071": (1, 2), "P103": (10, 15),
    "P104": (4, 4), "P105": (1, 1), "P113": (6, 6), "P114": (1, 1), "P116": (4, 4)}

# part: (need, usable, buy, order by); sorted as the list stands
SHORT = {
    "P014": (6, 2, 4, "2027-03-10"), "P040": (2, 1, 1, "2027-04-17"),
    "P058": (1, 0, 1, "2027-04-19"), "P024": (1, 0, 1, "2027-04-21"),
    "P017": (12, 10, 2, "2027-04-26"), "P061": (2, 1, 1, "2027-04-26"),
    "P112": (4, 0, 4, "2027-04-26"), "P115": (1, 0, 1, "2027-04-26"),
    "P021": (1, 0, 1, "2027-04-27"), "P117": (1, 0, 1, "2027-04-28"),
    "P074": (1, 0, 1, "2027-04-29"), "P094": (1, 0, 1, "2027-04-29")}
TOO_LATE = ("P014",)

OUT_OF_DATE_TODAY = {"P021": "2026-05-31", "P100": "2026-10-31", "P117": "2027-02-28"}
OUT_OF_DATE_BEFORE_RETURN = {"P074": "2027-05-31", "P094": "2027-04-30", "P112": "2027-06-30",
                             "P115": "2027-05-20"}
STRANDED = {"P056": 3, "P057": 4}
NOT_REACHABLE = {"P014": "L14", "P031": "L14"}
ASHORE = ("P054", "P119")
LENDABLE_BY_HRE = {"P034": 1, "P035": 3, "P037": 1}

# (fit point, part): verdict
VERDICTS = {
    ("ENG-01", "P002"): "fits", ("ENG-02", "P004"): "not-known-yet",
    ("ENG-06", "P011"): "does-not-fit", ("AIR-03", "P011"): "fits",
    ("GBX-02", "P021"): "fits", ("SAN-01", "P054"): "fits",
    ("ENG-04", "P007"): "fits", ("ENG-04", "P008"): "fits-with-changes",
    ("ENG-04", "P119"): "does-not-fit"}
P008_CHANGES = ("pulley_line", "inlet_port", "outlet_port")
P008_STRANDS = {"P009": 1}
P119_WITHOUT_SPIGOT = "not-known-yet"

EMJR = {"P034": 2, "P035": 2, "P037": 1, "P041": 3, "P042": 1}
IMP_HAR = {"L17": 1, "L03": 1}     # P037, found first by the words "imp har"
