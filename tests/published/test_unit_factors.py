"""Factors of units against scipy.constants (CODATA and the definitions behind it)."""

from __future__ import annotations

import pytest
from scipy import constants as c

from spares.units import Quantity, convert, exact


@pytest.mark.parametrize(("unit", "to", "factor"), [
    ("in", "mm", c.inch * 1000), ("ft", "mm", c.foot * 1000), ("nm", "m", c.nautical_mile),
    ("thou", "mm", c.mil * 1000), ("lb", "kg", c.pound), ("oz", "kg", c.oz),
    ("US gal", "L", c.gallon * 1000), ("imp gal", "L", c.gallon_imp * 1000),
    ("psi", "bar", c.psi / c.bar), ("atm", "bar", c.atm / c.bar), ("hp", "kW", c.hp / 1000),
    ("kn", "m/s", c.knot), ("lbf", "kN", c.lbf / 1000), ("min", "h", c.minute / c.hour),
    ("lbf·ft", "N·m", c.lbf * c.foot), ("ksi", "MPa", c.psi / 1000)])
def test_factor_is_that_of_scipy(unit, to, factor):
    assert float(convert(Quantity(exact(1), unit), to).amount) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize("celsius", [-40, 0, 71, 100])
def test_fahrenheit_is_that_of_scipy(celsius):
    fahrenheit = float(convert(Quantity(exact(celsius), "°C"), "°F").amount)
    assert fahrenheit == pytest.approx(c.convert_temperature(celsius, "C", "F"))
