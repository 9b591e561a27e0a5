"""How long the generator runs to keep the battery, and what that burns.

Either the whole balance (loads, solar, motoring; a bank charged at constant current to
a knee, then ever more slowly), or the short form: daily use over the charger's output on
its alternating-current side. Both are in kilowatt-hours and hours a day.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import log

from spares.domain.trip.fuel import THIRDS, FuelTable
from spares.errors import InvalidInput

FULLEST = 0.99          # the taper towards full takes for ever
WATCH_LOAD = 0.40       # a set that runs below this share of its load is to be watched
_W_PER_KW = 10**3


@dataclass(frozen=True)
class Bank:
    """A battery: nominal voltage [V], capacity [Ah], window and knee of its charge [1]."""

    volts: float
    ah: float
    low: float
    high: float
    knee: float = 0.80
    efficiency: float = 0.85


@dataclass(frozen=True)
class Balance:
    """The daily balance: loads, solar, motoring [kWh/day]; charger [A] into the battery."""

    loads_kwh: float
    bank: Bank
    net_a: float
    solar_kwh: float = 0.0
    motoring_kwh: float = 0.0
    other_h: float = 0.0        # loads that need the generator itself [h/day]


@dataclass(frozen=True)
class Simple:
    """Daily use [kWh/day] over a charger on the alternating-current side [kW]."""

    use_kwh: float
    charger_kw: float
    efficiency: float = 0.85


@dataclass(frozen=True)
class Generator:
    """Rated power [kW], load as a share of it [1], and its fuel table [1, L/h]."""

    rated_kw: float | None = None
    load: float | None = None
    fuel: FuelTable | None = None


@dataclass(frozen=True)
class Charge:
    """A question: one of the two forms, the generator, the days."""

    form: Balance | Simple
    days: int
    generator: Generator = field(default_factory=Generator)
    where: str = "#"        # JSON Pointer of the question, to name its fields


@dataclass(frozen=True)
class ChargeAnswer:
    """Deficit a day [kWh, Ah], one cycle [h, Ah], running [h/day, h], fuel [L], load [1]."""

    deficit_kwh: float
    deficit_ah: float | None
    cycle_h: float | None
    cycle_ah: float | None
    hours_per_day: float
    hours: float
    fuel_l: float | None
    fuel_with_thirds_l: float | None
    load_share: float | None
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


def cycle_hours(bank: Bank, net_a: float, where: str = "#") -> float:
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
            f"from {bank.low:g} to {bank.high:g} cannot be charged; the window must rise and end "
            f"at {FULLEST:g} or below, for the last of it takes for ever")
    if not 0 < bank.knee < 1 or not 0 < bank.efficiency <= 1:
        raise InvalidInput.at(f"{where}/bank", "knee and efficiency lie between 0 and 1")
    rate = bank.efficiency * net_a / bank.ah        # charge gained an hour [1/h]
    bulk = max(0.0, min(bank.high, bank.knee) - bank.low) / rate
    if bank.high <= bank.knee:
        return bulk
    tau = (1 - bank.knee) / rate
    return bulk + tau * log((1 - max(bank.low, bank.knee)) / (1 - bank.high))


def _balance(form: Balance, where: str) -> ChargeAnswer:
    bank = form.bank
    deficit = max(0.0, form.loads_kwh - form.solar_kwh - form.motoring_kwh)
    deficit_ah = _W_PER_KW * deficit / bank.volts
    hours, ah = cycle_hours(bank, form.net_a, where), (bank.high - bank.low) * bank.ah
    charging = hours * deficit_ah / ah
    remarks = []
    if deficit == 0:
        remarks.append("sun and motoring cover the loads: no generator needed for the battery")
    if form.other_h > charging:
        remarks.append(f"other loads keep the generator on for {form.other_h:.1f} h a day, "
                       f"charging ({charging:.1f} h a day) falls inside")
    elif deficit_ah > 0:
        remarks.append(f"a charge of {ah:.0f} Ah lasts {24 * ah / deficit_ah:.0f} h")
    a_day = max(charging, form.other_h)
    _check_day(a_day, deficit, f"{where}/loads_kwh_per_day")
    return ChargeAnswer(deficit, deficit_ah, hours, ah, a_day, 0.0, None, None, None,
                        tuple(remarks))


def _simple(form: Simple, where: str) -> ChargeAnswer:
    a_day = form.use_kwh / (form.charger_kw * form.efficiency)
    _check_day(a_day, form.use_kwh, f"{where}/use_kwh")
    return ChargeAnswer(form.use_kwh, None, None, None, a_day, 0.0, None, None, None)


def _check_day(hours_per_day: float, deficit_kwh: float, where: str) -> None:
    if hours_per_day > 24:
        raise InvalidInput.at(
            where, f"{deficit_kwh:.2f} kWh a day are missing, which takes {hours_per_day:.1f} h of "
            "running a day: more than a day has", deficit_kwh=deficit_kwh,
            hours_per_day=hours_per_day)


def _with_fuel(question: Charge, answer: ChargeAnswer) -> ChargeAnswer:
    hours = answer.hours_per_day * question.days
    generator, remarks = question.generator, list(answer.remarks)
    load = generator.load
    if load is None and isinstance(question.form, Simple) and generator.rated_kw:
        load = question.form.charger_kw / generator.rated_kw
    if load is not None and load < WATCH_LOAD:
        remarks.append(f"watch: the generator runs at {100 * load:.0f} % of its rated load, "
                       f"under {100 * WATCH_LOAD:.0f} %")
    if generator.fuel is not None and load is None:
        remarks.append("load of the generator not given: fuel not known")
    fuel = None
    if generator.fuel is not None and load is not None:
        fuel = generator.fuel.at(load, f"{question.where}/generator/load") * hours
    return ChargeAnswer(
        answer.deficit_kwh, answer.deficit_ah, answer.cycle_h, answer.cycle_ah,
        answer.hours_per_day, hours, fuel, None if fuel is None else fuel * THIRDS, load,
        tuple(remarks))
