"""Requests as this program writes them of its own vessel, read without a library.

The shapes (`fit_shape`, `service_shape`, `trip_shape`) read whatever a stranger may send, and
say what is wrong in it. Importing them takes a fifth of a command that only looks. Nearly every
request is of our own making and right: here, and in `own_fit.py`, it is read by the same fields,
to the same values. What is not plainly right is left to the shapes;
`tests/transfer/test_own_requests.py` holds the two together.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

from spares.domain.provision.failure import ONE_PIECE
from spares.domain.trip.energy import EFFICIENCY, KNEE
from spares.domain.trip.fuel import FuelTable
from spares.domain.trip.request import LEVELS, MANOEUVRING_H, READY_DAYS, WHOLE
from spares.errors import SparesError
from spares.transfer.compute.own_rows import (
    ABSENT,
    NEEDED,
    NotPlain,
    Read,
    by_name,
    day,
    exact,
    flag,
    grams,
    minor,
    minutes,
    pairs,
    partial_day,
    row,
    rows,
    text,
    thousandths,
    whole,
    within,
)

_FORMS = {      # of the daily charge: what it needs, what else it may have
    "loads_kwh_per_day": ({"bank", "charger"},
                          {"solar", "motoring_kwh_per_day", "other_generator_hours_per_day"}),
    "use_kwh": ({"charger_kw"}, {"efficiency"})}
AT_LEAST_0, ABOVE_0 = within(0), within(0, above=True)
SHARE = within(0, 1, above=True)


def own_request(name: str, request: Any) -> dict[str, Any] | None:
    """Give *request* as the shape of the computation *name* would load it; None to ask that."""
    read = _reader(name)
    if read is None:
        return None
    try:
        found: dict[str, Any] = read(request)
    except (NotPlain, SparesError):
        return None
    return found


def _reader(name: str) -> Read | None:
    if name == "fit":
        from spares.transfer.compute.own_fit import FIT  # late: the whole fit check comes with it

        return FIT
    return REQUESTS.get(name)


def level(value: Any) -> Any:
    """Read a level of protection, or one for each weight."""
    if isinstance(value, dict):
        return {weight: float(one) for weight, one in by_name(exact)(value).items()}
    return float(exact(value))


def pieces(value: Any) -> Any:
    """Read how many pieces a failure takes: a number, or pairs of pieces and probability."""
    if isinstance(value, list):
        return tuple((count, float(chance)) for count, chance in pairs(thousandths, exact)(value))
    return ((thousandths(value), 1.0),)


def usual_hours(value: Any) -> str:
    """Read whether machines run before leaving."""
    if value not in ("none", "as-usual"):
        raise NotPlain
    return text(value)


def consumption(value: Any) -> FuelTable:
    """Read rows of load share and litres an hour, or one figure for any load."""
    read = pairs(exact, AT_LEAST_0)(value if isinstance(value, list) else [[1, value]])
    if not read or any(after[0] <= before[0] for before, after in pairwise(read)):
        raise NotPlain
    return FuelTable(tuple(read))


def bank(value: Any) -> dict[str, Any]:
    """Read a battery; its window is called otherwise once it is read."""
    found: dict[str, Any] = BANK(value)
    found["low"], found["high"] = found.pop("from"), found.pop("to")
    return found


def energy(value: Any) -> dict[str, Any]:
    """Read the daily charge in one of its two forms, and that one whole."""
    found: dict[str, Any] = ENERGY(value)
    forms = [form for form in _FORMS if form in found]
    if len(forms) != 1:
        raise NotPlain
    needed, more = _FORMS[forms[0]]
    of_any = {forms[0], "machine", "days", "generator"}
    if not needed <= found.keys() or not found.keys() <= of_any | needed | more:
        raise NotPlain
    return found


NONE: tuple[Read, None] = (text, None)
BANK = row({"volts": (ABOVE_0, NEEDED), "ah": (ABOVE_0, NEEDED), "from": (within(0, 1), NEEDED),
            "to": (exact, NEEDED), "knee": (within(0, 1, above=True, below=True), KNEE),
            "efficiency": (SHARE, EFFICIENCY)})
ENERGY = row({
    "machine": (text, NEEDED), "days": (whole, None),
    "loads_kwh_per_day": (AT_LEAST_0, ABSENT), "bank": (bank, ABSENT),
    "solar": (row({"peak_w": (AT_LEAST_0, NEEDED), "sun_hours": (within(0, 24), NEEDED),
                   "derate": (SHARE, Fraction(3, 4))}), ABSENT),
    "charger": (row({"net_a": (exact, NEEDED)}), ABSENT),
    "motoring_kwh_per_day": (AT_LEAST_0, ABSENT),
    "other_generator_hours_per_day": (within(0, 24), ABSENT),
    "use_kwh": (AT_LEAST_0, ABSENT), "charger_kw": (ABOVE_0, ABSENT), "efficiency": (SHARE, ABSENT),
    "generator": (row({"rated_kw": (ABOVE_0, None), "load": (SHARE, None),
                       "fuel_l_per_h": (consumption, None)}), None)})
TRIP = row({
    "departs_on": (day, NEEDED), "days": (whole, NEEDED),
    "hours_per_day": (by_name(exact), dict), "hours": (by_name(exact), dict),
    "legs": (rows(row({
        "distance_nm": (exact, NEEDED), "speed_kn": (exact, NEEDED),
        "machines": (rows(text), NEEDED), "motor_share": (exact, 1),
        "manoeuvring_h": (exact, MANOEUVRING_H), "day": (whole, None)})), list),
    "energy": (energy, None), "ready_days": (whole, READY_DAYS),
    "hours_before_departure": (usual_hours, "as-usual"),
    "protection": (level, lambda: dict(LEVELS)),
    "stops": (rows(row({"day": (whole, NEEDED), "sells": (rows(text), list)})), list),
    "limits": (row({"cost": (minor, None), "mass_kg": (grams, None)}), None),
    "accepted": (rows(text), list)})
VESSEL = {
    "today": (day, NEEDED),
    "machines": (rows(row({
        "id": (text, NEEDED), "counter": (text, "own"), "weight": (text, "B"), "name": NONE,
        "fuel": (row({"table": (pairs(exact, exact), list), "at_kn": (exact, None),
                      "l_per_h": (exact, None), "idle_l_per_h": (exact, None),
                      "manoeuvring_l_per_h": (exact, None)}), None)})), list),
    "fit_points": (rows(row({
        "id": (text, NEEDED), "machine": (text, NEEDED), "weight": NONE,
        "takes": (rows(text), list), "retired": (flag, False), "name": NONE})), list),
    "tasks": (rows(row({
        "id": (text, NEEDED), "machine": (text, NEEDED), "fit_point": NONE,
        "every_h": (minutes, None), "every_months": (whole, None), "first_h": (minutes, None),
        "used_h": (minutes, None), "in_port": (flag, False), "name": NONE,
        "kit": (rows(row({"part": (text, NEEDED), "quantity": (thousandths, WHOLE),
                          "set_aside": (flag, False), "share": (exact, 1)})), list)})), list),
    "records": (rows(row({"task": (text, NEEDED), "on": (partial_day, None),
                          "at_h": (minutes, None), "estimated": (flag, False), "doubt": NONE})),
                list),
    "readings": (rows(row({"machine": (text, NEEDED), "on": (partial_day, NEEDED),
                           "h": (minutes, NEEDED), "new_counter": (flag, False), "doubt": NONE,
                           "corrects": (flag, False)})), list)}
FAILURE = row({
    "part": (text, NEEDED), "machine": NONE, "units": (whole, None), "mtbf_h": (exact, None),
    "mtbf_days": (exact, None), "spread": (exact, None), "renewed_by": NONE,
    "own_log": (row({"failures": (whole, NEEDED), "hours": (exact, NEEDED)}), None),
    "weibull": (row({
        "beta": (exact, NEEDED), "eta_h": (exact, NEEDED),
        "ages_h": (rows(lambda age: None if age is None else exact(age)), None)}), None),
    "pieces": (pieces, ONE_PIECE)})
REQUESTS = {
    "service": row({**VESSEL, "baseline_on": (day, None)}),
    "trip": row({
        **VESSEL, "trip": (TRIP, NEEDED),
        "parts": (rows(row({
            "id": (text, NEEDED), "lead_days": (whole, None), "cost": (minor, None),
            "mass_kg": (grams, None), "pack": (thousandths, WHOLE),
            "stand_ins": (rows(text), list), "name": NONE})), list),
        "lots": (rows(row({
            "part": (text, NEEDED), "locker": NONE, "quantity": (thousandths, None),
            "condition": (text, "new"), "expires": (partial_day, None), "aboard": (flag, True),
            "reachable": (flag, True), "reserved": (thousandths, 0), "counted": (flag, True)})),
            list),
        "failures": (rows(FAILURE), list), "keep": (by_name(thousandths), dict)})}
