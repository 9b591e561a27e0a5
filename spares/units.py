"""THE place for units: exact factors, reading what people type, printing.

A quantity is an exact fraction and the symbol of its unit. Nothing is rounded before it is
printed, so an inch and its millimetres compare as equal. Factors: the international yard and
pound agreement of 1959 (inch 25.4 mm, pound 0.45359237 kg), standard gravity 9.80665 m/s²,
US gallon 231 cubic inches, imperial gallon 4.54609 L, nautical mile 1852 m, all exact by
definition.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from spares.errors import UnknownUnit

INCH_MM = Fraction("25.4")
_POUND_KG = Fraction("0.45359237")
_GRAVITY_M_S2 = Fraction("9.80665")
_US_GALLON_L = 231 * INCH_MM**3 / 10**6
_PSI_BAR = _POUND_KG * _GRAVITY_M_S2 / INCH_MM**2 * 10

# kind: {symbol: (factor to the first unit of the kind, other spellings)}
_KINDS: dict[str, dict[str, tuple[Any, str]]] = {
    "length": {"mm": (1, "millimetre millimetres millimeter millimeters"), "cm": (10, ""),
               "m": (1000, "metre metres meter meters"), "km": (10**6, ""),
               "in": (INCH_MM, "inch inches \" ″ ” '' in."), "ft": (12 * INCH_MM, "foot feet ' ′"),
               "µm": (Fraction(1, 1000), "um μm micron microns"), "nm": (1852000, "nmi M"),
               "thou": (INCH_MM / 1000, "mil")},
    "area": {"mm²": (1, "mm2 mm^2 sqmm"), "cm²": (100, "cm2 cm^2")},
    "flow": {"L/min": (1, "lpm l/minute"), "L/h": (Fraction(1, 60), "l/hr"), "L/s": (60, ""),
             "m³/h": (Fraction(1000, 60), "m3/h m^3/h"),
             "US gal/min": (_US_GALLON_L, "gpm usgpm gal/min"),
             "imp gal/min": (Fraction("4.54609"), "igpm")},
    "pressure": {"bar": (1, "bars"), "mbar": (Fraction(1, 1000), ""), "kPa": (Fraction(1, 100), ""),
                 "Pa": (Fraction(1, 10**5), ""), "psi": (_PSI_BAR, "lbf/in2 psig"),
                 "atm": (Fraction("1.01325"), "")},
    "stress": {"MPa": (1, "N/mm2 N/mm²"), "GPa": (1000, ""),
               "ksi": (_PSI_BAR * 100, "")},
    "temperature": {"°C": (1, "C degC celsius"), "°F": (Fraction(5, 9), "F degF fahrenheit")},
    "rise": {"K": (1, "kelvin")},
    "speed": {"1/min": (1, "rpm r/min min-1 min^-1 rev/min /min"), "1/s": (60, "Hz")},
    "mass": {"kg": (1, "kilo kilos"), "g": (Fraction(1, 1000), "gram grams"), "t": (1000, ""),
             "lb": (_POUND_KG, "lbs"), "oz": (_POUND_KG / 16, "")},
    "volume": {"L": (1, "litre litres liter liters ltr"), "mL": (Fraction(1, 1000), ""),
               "cL": (Fraction(1, 100), ""), "m³": (1000, "m3 m^3"),
               "US gal": (_US_GALLON_L, "gal gallon gallons"),
               "imp gal": (Fraction("4.54609"), "")},
    "current": {"A": (1, "amp amps ampere amperes"), "mA": (Fraction(1, 1000), ""),
                "kA": (1000, "")},
    "charge": {"Ah": (1, "A·h")},
    "voltage": {"V": (1, "volt volts vdc vac"), "mV": (Fraction(1, 1000), ""), "kV": (1000, "")},
    "power": {"kW": (1, ""), "W": (Fraction(1, 1000), "watt watts"),
              "hp": (550 * 12 * INCH_MM * _POUND_KG * _GRAVITY_M_S2 / 10**6, "bhp"),
              "PS": (75 * _GRAVITY_M_S2 / 1000, "")},
    "energy": {"kWh": (1, "kW·h"), "Wh": (Fraction(1, 1000), "W·h")},
    "time": {"h": (1, "hour hours hr hrs"), "min": (Fraction(1, 60), "minute minutes"),
             "s": (Fraction(1, 3600), "sec second seconds"), "d": (24, "day days")},
    "age": {"years": (1, "year y yr yrs a"), "months": (Fraction(1, 12), "month")},
    "angle": {"°": (1, "deg degree degrees")},
    "velocity": {"m/s": (1, ""), "kn": (Fraction(1852, 3600), "knot knots"),
                 "ft/min": (12 * INCH_MM / 60000, "fpm")},
    "force": {"kN": (1, ""), "N": (Fraction(1, 1000), ""),
              "lbf": (_POUND_KG * _GRAVITY_M_S2 / 1000, "")},
    "torque": {"N·m": (1, "Nm N.m newton-metre"),
               "lbf·ft": (_POUND_KG * _GRAVITY_M_S2 * 12 * INCH_MM / 1000, "lbf.ft ft-lb ftlb")},
    "ratio": {"%": (1, "percent")},
    "number": {"1": (1, "pcs pc")},
}
_OFFSETS = {"°F": Fraction(-160, 9)}      # °C = °F × 5/9 − 160/9


@dataclass(frozen=True)
class Unit:
    """A unit: its symbol, what kind of quantity it measures, its factor to the kind's first."""

    symbol: str
    kind: str
    factor: Fraction
    offset: Fraction = Fraction(0)


@dataclass(frozen=True)
class Quantity:
    """An exact amount in a named unit."""

    amount: Fraction
    unit: str

    def to(self, unit: str) -> Quantity:
        """Give the same quantity in *unit*."""
        return convert(self, unit)


def _catalogue() -> tuple[dict[str, Unit], dict[str, Unit]]:
    exact, loose = {}, {}
    for kind, members in _KINDS.items():
        for symbol, (factor, others) in members.items():
            unit = Unit(symbol, kind, Fraction(factor), _OFFSETS.get(symbol, Fraction(0)))
            for name in [symbol, *others.split()]:
                exact[name] = unit
                loose.setdefault(name.casefold(), unit)
    return exact, loose


_EXACT, _LOOSE = _catalogue()
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
              "⅓": "1/3", "⅔": "2/3"}
_LONGEST = 80       # characters; nobody types more for one quantity
_NUMBER = re.compile(
    r"(?P<sign>[+\-−]?)\s*(?:(?P<whole>\d+)(?:\s+|\s*-\s*))?(?P<over>\d+)\s*/\s*(?P<under>\d+)"
    r"|(?P<plain>[+\-−]?\s*(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+\-]?\d{1,2}(?!\d))?)")


def unit_named(name: str) -> Unit:
    """Find a unit by its symbol or another usual spelling.

    Args:
        name: Symbol or word [-].

    Returns:
        The unit [-].

    Raises:
        UnknownUnit: nobody here knows such a unit.

    Source:
        Names of the SI brochure and of the trade; factors as in this module's head.

    Example:
        >>> unit_named("inches").symbol
        'in'
    """
    return _unit_called(str(name))


@lru_cache(1024)
def _unit_called(name: str) -> Unit:
    key = " ".join(name.split())
    unit = _EXACT.get(key) or _LOOSE.get(key.casefold()) or _LOOSE.get(key.casefold().rstrip("."))
    if unit is None:
        raise UnknownUnit(f"there is no unit {name!r} here")
    return unit


def exact(number: Any) -> Fraction:
    """Read a number (or number text, point or comma) without loss.

    Args:
        number: int, float, Decimal, Fraction or text; a float means its shortest decimal [1].

    Returns:
        The exact value [1].

    Raises:
        UnknownUnit: it is not a finite number.

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> exact("1 1/4") == exact(1.25) == exact("1,25")
        True
    """
    if isinstance(number, Fraction):
        return number
    if isinstance(number, bool) or not isinstance(number, int | float | Decimal | str):
        raise UnknownUnit(f"{number!r} is not a number")
    if isinstance(number, str):
        found, rest = _read_number(number)
        if rest:
            raise UnknownUnit(f"{number!r} is not a number")
        return found
    try:
        return Fraction(Decimal(repr(number) if isinstance(number, float) else number))
    except (ValueError, OverflowError) as err:
        raise UnknownUnit(f"{number!r} is not a finite number") from err


def parse_quantity(text: str, default_unit: str) -> Quantity:
    """Read a quantity as people type it.

    Args:
        text: Such as `5/16 in`, `1,5 mm`, `1 1/4"`, `1-1/4 in`, `½"`, `3 bar`, `71 °C` [-].
        default_unit: The unit meant when none is typed; one typed must measure the same [-].

    Returns:
        The quantity in the unit typed [-].

    Raises:
        UnknownUnit: the text is not a number and a unit, or the unit measures something else.

    Source:
        Counting rule of this project; factors as in this module's head.

    Example:
        >>> float(parse_quantity('1 1/4"', "mm").to("mm").amount)
        31.75
    """
    wanted = unit_named(default_unit)
    amount, rest = _read_number(text)
    unit = unit_named(rest) if rest else wanted
    if unit.kind != wanted.kind:
        raise UnknownUnit(f"{text!r} is a {unit.kind}, a {wanted.kind} is asked")
    return Quantity(amount, unit.symbol)


def convert(quantity: Quantity, unit: str) -> Quantity:
    """Give *quantity* in another unit of its kind, exactly.

    Args:
        quantity: What to convert [-].
        unit: Symbol or name of the unit wanted [-].

    Returns:
        The same quantity in *unit* [-].

    Raises:
        UnknownUnit: there is no such unit, or it measures something else.

    Source:
        Factors as in this module's head.

    Example:
        >>> float(convert(Quantity(exact("5/8"), "in"), "mm").amount)
        15.875
    """
    have, want = unit_named(quantity.unit), unit_named(unit)
    if have.kind != want.kind:
        raise UnknownUnit(f"{quantity.unit} is a {have.kind}, {unit} is a {want.kind}")
    first = quantity.amount * have.factor + have.offset
    return Quantity((first - want.offset) / want.factor, want.symbol)


def convert_step(amount: Fraction, unit: str, to_unit: str) -> Fraction:
    """Convert a difference (a tolerance, an uncertainty), which has no zero point.

    Args:
        amount: Size of the difference [unit].
        unit: Its unit [-].
        to_unit: The unit wanted [-].

    Returns:
        The difference [to_unit].

    Raises:
        UnknownUnit: the units do not measure the same.

    Source:
        Factors as in this module's head.

    Example:
        >>> convert_step(exact(9), "°F", "°C")
        Fraction(5, 1)
    """
    have, want = unit_named(unit), unit_named(to_unit)
    if have.kind != want.kind:
        raise UnknownUnit(f"{unit} is a {have.kind}, {to_unit} is a {want.kind}")
    return amount * have.factor / want.factor


def format_number(number: Any, most: int = 3, least: int = 0) -> str:
    """Print a number with a point, rounded half away from zero.

    Args:
        number: What to print [1].
        most: Digits after the point at most [1].
        least: Digits after the point at least [1].

    Returns:
        The text [-].

    Raises:
        UnknownUnit: it is not a finite number.

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> format_number(exact("127/8")), format_number(65, least=1)
        ('15.875', '65.0')
    """
    value = exact(number)
    whole = (2 * abs(value.numerator) * 10**most + value.denominator) // (2 * value.denominator)
    sign = "-" if value.numerator < 0 and whole else ""
    digits = str(whole).rjust(most + 1, "0")
    head, tail = (digits[:-most], digits[-most:]) if most else (digits, "")
    tail = tail.rstrip("0").ljust(least, "0")
    return f"{sign}{head}.{tail}" if tail else sign + head


def format_quantity(quantity: Quantity) -> str:
    """Print a quantity with its unit; lengths keep one digit after the point.

    Args:
        quantity: What to print [-].

    Returns:
        The text [-].

    Raises:
        UnknownUnit: there is no such unit.

    Source:
        Counting rule of this project; no standard applies.

    Example:
        >>> format_quantity(Quantity(exact(65), "mm"))
        '65.0 mm'
    """
    least = 1 if quantity.unit == "mm" else 0
    number = format_number(quantity.amount, least=least)
    shown = "r/min" if quantity.unit == "1/min" else quantity.unit    # as on a counter
    return number if quantity.unit == "1" else f"{number} {shown}"


def _read_number(text: str) -> tuple[Fraction, str]:
    """Split *text* into its number and what follows."""
    spelt = str(text).strip()
    if len(spelt) > _LONGEST:
        raise UnknownUnit(f"{spelt[:20]!r}... is too long for a quantity")
    for glyph, fraction in _FRACTIONS.items():
        spelt = spelt.replace(glyph, f" {fraction}")
    spelt = spelt.strip()
    found = _NUMBER.match(spelt)
    if not found:
        raise UnknownUnit(f"{text!r} does not begin with a number")
    rest = spelt[found.end():].strip()
    if found["plain"]:
        plain = found["plain"].replace(" ", "").replace("−", "-").replace(",", ".")
        return Fraction(Decimal(plain)), rest
    if int(found["under"]) == 0:
        raise UnknownUnit(f"{text!r} divides by nothing")
    size = int(found["whole"] or 0) + Fraction(int(found["over"]), int(found["under"]))
    return (-size if found["sign"] in ("-", "−") else size), rest
