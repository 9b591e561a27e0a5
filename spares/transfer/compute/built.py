"""What the domain takes, built from rows as a shape loads them."""

from __future__ import annotations

from typing import Any

from spares.domain.provision import Failure, OwnLog, Weibull
from spares.domain.service import FitPoint, KitLine, Machine, Reading, Record, Task
from spares.domain.trip.energy import EFFICIENCY, Balance, Bank, Charge, Generator, Simple

_W_PER_KW = 10**3


def machine_of(given: dict[str, Any]) -> Machine:
    """Build a machine."""
    return Machine(given["id"], given["counter"] or "own", given["weight"] or "B", given["name"])


def fit_point_of(given: dict[str, Any]) -> FitPoint:
    """Build a place."""
    return FitPoint(given["id"], given["machine"], given["weight"], tuple(given["takes"]),
                    given["retired"])


def task_of(given: dict[str, Any]) -> Task:
    """Build a task."""
    return Task(
        given["id"], given["machine"], given["fit_point"], given["every_h"],
        given["every_months"], given["first_h"], given["in_port"], given["used_h"],
        tuple(KitLine(line["part"], line["quantity"], line["set_aside"], line["share"])
              for line in given["kit"]), given["name"])


def records_of(given: list[dict[str, Any]]) -> tuple[Record, ...]:
    """Build records; one of which nobody knows the date is left out."""
    return tuple(
        Record(r["task"], r["on"][0], r["at_h"], r["on"][1], r["estimated"], r["on"][2],
               None if r["at_h"] is None else r["doubt"])
        for r in given if r["on"] is not None)


def readings_of(given: list[dict[str, Any]]) -> tuple[tuple[str, Reading], ...]:
    """Build pairs of machine and reading."""
    return tuple((r["machine"], Reading(r["on"][0], r["h"], r["new_counter"], r["doubt"],
                                        r["corrects"])) for r in given)


def failure_of(given: dict[str, Any]) -> Failure:
    """Build a failure figure; units left out are as many as there are ages, else 1."""
    log, life, units = given["own_log"], given["weibull"], given["units"]
    if units is None:
        units = len(life["ages_h"]) if life and life["ages_h"] else 1
    return Failure(
        given["part"], given["machine"], units, given["mtbf_h"], given["mtbf_days"],
        None if log is None else OwnLog(log["failures"], log["hours"]),
        None if life is None else Weibull(
            life["beta"], life["eta_h"],
            None if life["ages_h"] is None else tuple(life["ages_h"])),
        given["pieces"], given["spread"], given["renewed_by"])


def question_of(given: dict[str, Any], days: int, where: str = "#") -> Charge:
    """Build the question; *where* is its JSON Pointer."""
    machine = given["generator"] or {"rated_kw": None, "load": None, "fuel_l_per_h": None}
    generator = Generator(machine["rated_kw"], machine["load"], machine["fuel_l_per_h"])
    if "use_kwh" in given:
        form: Balance | Simple = Simple(
            given["use_kwh"], given["charger_kw"], given.get("efficiency", EFFICIENCY))
        return Charge(form, days, generator, where)
    solar, bank = given.get("solar"), given["bank"]
    sun = solar["peak_w"] * solar["sun_hours"] * solar["derate"] / _W_PER_KW if solar else 0
    form = Balance(
        given["loads_kwh_per_day"],
        Bank(*(bank[key] for key in ("volts", "ah", "low", "high", "knee", "efficiency"))),
        given["charger"]["net_a"], sun, given.get("motoring_kwh_per_day", 0),
        given.get("other_generator_hours_per_day", 0))
    return Charge(form, days, generator, where)
