"""Requests of our own are read without the library, and to the very same values."""

from __future__ import annotations

import copy

import pytest
from marshmallow import ValidationError

from spares.transfer.compute import OF_OWN_VESSEL, request_shape
from spares.transfer.compute.own_requests import own_request

BALANCE = {
    "machine": "GEN", "loads_kwh_per_day": "8.2", "motoring_kwh_per_day": 1,
    "other_generator_hours_per_day": "0.5", "solar": {"peak_w": 400, "sun_hours": "4.5"},
    "bank": {"volts": 12, "ah": "400", "from": "0.5", "to": 0.8}, "charger": {"net_a": 80},
    "generator": {"rated_kw": 6, "fuel_l_per_h": [["0.25", 1], [1, "2.4"]]}}
SHORT = {"machine": "GEN", "days": 9, "use_kwh": 8, "charger_kw": "3.2", "efficiency": "0.85",
         "generator": {"load": "0.5", "fuel_l_per_h": "1.6"}}
VESSEL = {
    "today": "2027-03-15",
    "machines": [{"id": "ENG", "counter": None, "name": "engine",
                  "fuel": {"table": [[5, "2.5"], ["6.5", 4]]}},
                 {"id": "GEN", "counter": "own", "weight": "A", "fuel": {
                     "at_kn": 6, "l_per_h": "3.2", "idle_l_per_h": 1}}],
    "fit_points": [{"id": "ENG-01", "machine": "ENG", "weight": "A", "takes": ["P001"],
                    "retired": False}],
    "tasks": [{"id": "S01", "machine": "ENG", "fit_point": "ENG-01", "every_h": "250",
               "every_months": 12, "first_h": 50, "in_port": True, "name": "oil",
               "kit": [{"part": "P001", "quantity": "0.250", "set_aside": True, "share": "0.5"}]}],
    "records": [{"task": "S01", "on": "2026-05", "at_h": "129.9", "estimated": True,
                 "doubt": "too high"}],
    "readings": [{"machine": "ENG", "on": "2026-05-14", "h": "129.9", "new_counter": True}]}
TRIP = {
    **VESSEL,
    "trip": {"departs_on": "2027-04-01", "days": 60, "ready_days": 2, "hours": {"GEN": "20.5"},
             "hours_per_day": {"WM": 2}, "hours_before_departure": "none", "energy": BALANCE,
             "legs": [{"distance_nm": "120", "speed_kn": 6, "machines": ["ENG"], "day": 3}],
             "protection": {"A": 0.99, "C": "0.5"}, "stops": [{"day": 9, "sells": ["P001"]}],
             "limits": {"cost": "199.99", "mass_kg": 12.5}, "accepted": ["P009"]},
    "parts": [{"id": "P001", "lead_days": 7, "cost": "12.50", "mass_kg": "0.4", "pack": 2,
               "stand_ins": ["P002"], "name": "filter"}],
    "lots": [{"part": "P001", "locker": "L01", "quantity": 3, "condition": "used-good",
              "expires": "2028", "aboard": True, "reachable": False, "reserved": 1,
              "counted": True}],
    "failures": [{"part": "P001", "machine": "ENG", "units": 2, "mtbf_h": 4000,
                  "pieces": [[1, 0.7], [2, "0.3"]], "spread": "1.5"},
                 {"part": "P002", "own_log": {"failures": 2, "hours": 900}, "pieces": "0.5"},
                 {"part": "P003", "weibull": {"beta": 2.5, "eta_h": 3000, "ages_h": [10, None]},
                  "renewed_by": "S01"}],
    "keep": {"P001": 2}}
FIT = {
    "kind": "impeller", "recorded_as": None, "today": "2027-03-15",
    "place": {"wet": True, "medium": "sea-water", "petrol_space": None, "below_waterline": False,
              "attitude": None, "mating_metal": "brass", "temperature_c": "80", "wire_mm2": 2.5,
              "rotation": {"value": "left", "seen_from": "shaft"}, "driven_by": None},
    "requires": [{"attr": "vanes", "value": 6, "cmp": "equal", "severity": "stop",
                  "origin": {"how": "measured", "when": "2027-01", "by": None, "tool": "caliper"}},
                 {"attr": "bore", "value": None, "unit": "mm", "tol": "0,1", "u": 0.05,
                  "cmp": None, "severity": None, "origin": None}],
    "offers": {"vanes": {"value": 6, "origin": {"how": "maker"}}, "bore": None,
               "width": [{"value": 12}, {"value": 13, "unit": "mm"}]},
    "links": [{"role": "takes", "proof": "makers-list"}, {"proof": "hearsay"}],
    "companions": {"cover": ["P038", "P039"]}}
WHOLE = {"fit": FIT, "trip": TRIP, "trip, short": {**TRIP, "trip": {**TRIP["trip"], "energy": SHORT,
                                                        "protection": "0.95"}},
         "service": {**VESSEL, "baseline_on": "2026-01-01"}}
STRANGE = (None, True, "", "x", -1, "1,5", "1.5e3", 10**16, float("inf"), [], {}, ["x"],
           "2027-02-30", b"x")


def _typed(value):
    """Give a value that is equal only to one of the same types, in any order of its names."""
    if isinstance(value, dict):
        return sorted((name, _typed(one)) for name, one in value.items())
    if isinstance(value, list | tuple):
        return repr(type(value)), [_typed(one) for one in value]
    return repr(value)


def _spoilt(request, every):
    """Give the request again and again, each time with one value strange, gone or unheard of.

    In each place comes *every* so-manieth of what is strange, the next place begins with the next.
    """
    def places(value, path=()):
        for key in value if isinstance(value, dict) else range(len(value)):
            yield (*path, key)
            if isinstance(value[key], dict | list):
                yield from places(value[key], (*path, key))

    for place, path in enumerate(places(request)):
        for strange in (*STRANGE, "gone", "unheard of")[place % every::every]:
            spoilt = copy.deepcopy(request)
            holder = spoilt
            for step in path[:-1]:
                holder = holder[step]
            if strange == "gone":
                del holder[path[-1]]
            elif strange == "unheard of" and isinstance(holder, dict):
                holder["unheard"] = holder[path[-1]]
            else:
                holder[path[-1]] = strange
            yield path, strange, spoilt


@pytest.mark.parametrize("name", WHOLE)
def test_a_plain_request_is_read_as_the_shape_loads_it(name):
    kind = name.partition(",")[0]
    read = own_request(kind, WHOLE[name])
    assert read is not None
    assert _typed(read) == _typed(request_shape(kind)().load(WHOLE[name]))


@pytest.mark.parametrize("every", [len(STRANGE), pytest.param(1, marks=pytest.mark.long)])
@pytest.mark.parametrize("name", WHOLE)
def test_what_is_spoilt_is_read_as_the_shape_loads_it_or_left_to_the_shape(name, every):
    kind = name.partition(",")[0]
    shape, differ, read_here = request_shape(kind)(), [], 0
    for path, strange, spoilt in _spoilt(WHOLE[name], every):
        read = own_request(kind, spoilt)
        if read is None:
            continue
        read_here += 1
        try:
            if _typed(read) == _typed(shape.load(spoilt)):
                continue
        except ValidationError as err:
            differ.append(err.messages)
        differ.append((path, strange))
    assert differ == []
    assert read_here > 0


def test_every_request_of_our_own_has_its_reader():
    for name in OF_OWN_VESSEL:
        assert own_request(name, {"today": "2027-03-15"}) is not None or name in ("fit", "trip")
    assert own_request("kit", {"lines": []}) is None
