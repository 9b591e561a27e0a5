"""How long the generator runs to keep the battery, and what that burns.

Either the whole balance (loads, solar, motoring; a bank charged at constant current to
a knee, then ever more slowly), or the short form: daily use over the charger's output on
its alternating-current side. Both are in kilowatt-hours and hours a day. Fractions that
come in stay exact, so that a day of just 24 h is one; only the taper is a logarithm.
"""

from __future__ import annotations

from fractions import Fraction
from math import log
from typing import NamedTuple

from spares.domain.trip.fuel import THIRDS, FuelTable
from spares.errors import InvalidInput

FULLEST = Fraction(99, 100)          # the taper towards full takes for ever
WATCH_LOAD = Fraction(2, 5)       # a set that runs below this share of its load is to be watched
# Of a lead-acid battery and its charger, where nothing else is said: common practice, no source.
KNEE, EFFICIENCY = Fraction(4, 5), Fraction(17, 20)
_W_PER_KW = 10**3

Exact = Fraction | int | float


class Bank(NamedTuple):
    """A battery: nominal voltage [V], capacity [Ah], window and knee of its charge [1]."""

    volts: Exact
    ah: Exact
    low: Exact
    high: Exact
    knee: Exact = KNEE
    efficiency: Exact = EFFICIENCY


class Balance(NamedTuple):
    """The daily balance: loads, solar, motoring [kWh/day]; charger [A] into the battery."""

    loads_kwh: Exact
    bank: Bank
    net_a: Exact
    solar_kwh: Exact = 0
    motoring_kwh: Exact = 0
    other_h: Exact = 0        # loads that need the generator itself [h/day]


class Simple(NamedTuple):
    """Daily use [kWh/day] over a charger on the alternating-current side [kW]."""

    use_kwh: Exact
    charger_kw: Exact
    efficiency: Exact = EFFICIENCY


class Generator(NamedTuple):
    """Rated power [kW], load as a share of it [1], and its fuel table [1, L/h]."""

    rated_kw: Exact | None = None
    load: Exact | None = None
    fuel: FuelTable | None = None


class Charge(NamedTuple):
    """A question: one of the two forms, the generator, the days."""

    form: Balance | Simple
    days: int
    generator: Generator = Generator()
    where: str = "#"        # JSON Pointer of the question, to name its fields


class ChargeAnswer(NamedTuple):
    """Deficit a day [kWh, Ah], one cycle [h, Ah], running [h/day, h], fuel [L], load [1]."""

    deficit_kwh: Exact
    deficit_ah: Exact | None
    cycle_h: Exact | None
    cycle_ah: Exact | None
    hours_per_day: Exact
    hours: Exact
    fuel_l: Exact | None
    fuel_with_thirds_l: Exact | None
    load_share: Exact | None
    remarks: tuple[str, ...] = ()


def charge(question: Charge) -> ChargeAnswer:
    """Work out the generator's running and fuel.

    Args:
        question: Loads [kWh/day], battery [V, Ah], charger [A or kW], days [day].

    Returns:
        Running [h/day, h] and fuel [L].

    Raises:
        InvalidInput: if the battery cannot be charged so, or a day has too few hours.

    Source:
        Constant current to the knee, then exponential taper: dSoC/dt = eta I/C
        min(1, (1 - SoC)/(1 - knee)), in closed form.

    Example:
        >>> round(charge(Charge(Simple(8.2, 3.2), 63)).hours, 1)
        189.9
    """
    if isinstance(question.form, Simple):
        answer = _simple(question.form, question.where)
    else:
        answer = _balance(question.form, question.where)
    return _with_fuel(question, answer)


def cycle_hours(bank: Bank, net_a: Exact, where: str = "#") -> Exact:
    """Time to charge a battery through its window.

    Args:
        bank: The battery [V, Ah, 1].
        net_a: Direct current into it [A], above 0.
        where: JSON Pointer of the question [-].

    Returns:
        Charging time [h].

    Raises:
        InvalidInput: if the window or the current is impossible.

    Source:
        As `charge`.

    Example:
        >>> round(cycle_hours(Bank(12, 400, 0.5, 0.8), 80), 4)
        1.7647
    """
    if net_a <= 0:
        raise InvalidInput.at(f"{where}/charger/net_a", "no current is left for the battery")
    if not 0 <= bank.low < bank.high <= FULLEST:
        raise InvalidInput.at(
            f"{where}/bank/to",
            f"from {float(bank.low):g} to {float(bank.high):g} cannot be charged; the window must "
            f"rise and end at {float(FULLEST):g} or below, for the last of it takes for ever")
    if not 0 < bank.knee < 1 or not 0 < bank.efficiency <= 1:
        raise InvalidInput.at(f"{where}/bank", "knee and efficiency lie between 0 and 1")
    rate = bank.efficiency * net_a / bank.ah        # charge gained an hour [1/h]
    bulk = max(0, min(bank.high, bank.knee) - bank.low) / rate
    if bank.high <= bank.knee:
        return bulk
    tau = (1 - bank.knee) / rate
    return bulk + tau * log((1 - max(bank.low, bank.knee)) / (1 - bank.high))


def _balance(form: Balance, where: str) -> ChargeAnswer:
    bank = form.bank
    deficit = max(0, form.loads_kwh - form.solar_kwh - form.motoring_kwh)
    deficit_ah = _W_PER_KW * deficit / bank.volts
    hours, ah = cycle_hours(bank, form.net_a, where), (bank.high - bank.low) * bank.ah
    charging = hours * deficit_ah / ah
    remarks = []
    if deficit == 0:
        remarks.append("sun and motoring cover the loads: no generator needed for the battery")
    if form.other_h > charging:
        remarks.append(f"other loads keep the generator on for {float(form.other_h):.1f} h a day, "
                       f"charging ({float(charging):.1f} h a day) falls inside")
    elif deficit_ah > 0:
        remarks.append(f"a charge of {float(ah):.0f} Ah lasts {float(24 * ah / deficit_ah):.0f} h")
    a_day = max(charging, form.other_h)
    _check_day(a_day, deficit, f"{where}/loads_kwh_per_day")
    return ChargeAnswer(deficit, deficit_ah, hours, ah, a_day, 0, None, None, None,
                        tuple(remarks))


def _simple(form: Simple, where: str) -> ChargeAnswer:
    a_day = form.use_kwh / (form.charger_kw * form.efficiency)
    _check_day(a_day, form.use_kwh, f"{where}/use_kwh")
    return ChargeAnswer(form.use_kwh, None, None, None, a_day, 0, None, None, None)


def _check_day(hours_per_day: Exact, deficit_kwh: Exact, where: str) -> None:
    if hours_per_day > 24:
        raise InvalidInput.at(
            where, f"{float(deficit_kwh):.2f} kWh a day are missing, which takes "
            f"{float(hours_per_day):.1f} h of running a day: more than a day has",
            deficit_kwh=float(deficit_kwh), hours_per_day=float(hours_per_day))


def _with_fuel(question: Charge, answer: ChargeAnswer) -> ChargeAnswer:
    hours = answer.hours_per_day * question.days
    generator, remarks = question.generator, list(answer.remarks)
    load = generator.load
    if load is None and isinstance(question.form, Simple) and generator.rated_kw:
        load = question.form.charger_kw / generator.rated_kw
    if load is not None and load > 1:
        raise InvalidInput.at(
            f"{question.where}/generator/rated_kw", f"the load is {float(100 * load):.0f} % of it: "
            "more than the generator gives")
    if load is not None and load < WATCH_LOAD:
        remarks.append(f"watch: the generator runs at {float(100 * load):.3g} % of its rated load, "
                       f"under {float(100 * WATCH_LOAD):.0f} %")
    fuel, table = None, generator.fuel
    if table is not None and load is None and table.rows[0][0] < 1:
        remarks.append("load of the generator not given: fuel not known")
    elif table is not None:     # a lowest row at full load holds for any load
        at = table.rows[0][0] if load is None else load
        fuel = table.at(at, f"{question.where}/generator/load") * hours
    return ChargeAnswer(
        answer.deficit_kwh, answer.deficit_ah, answer.cycle_h, answer.cycle_ah,
        answer.hours_per_day, hours, fuel, None if fuel is None else fuel * THIRDS, load,
        tuple(remarks))
