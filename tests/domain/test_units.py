"""Reading, converting and printing what people type."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.errors import UnknownUnit
from spares.units import (
    Quantity,
    convert,
    convert_step,
    exact,
    format_number,
    format_quantity,
    parse_quantity,
)


@pytest.mark.parametrize(("text", "mm"), [
    ("5/16 in", "7.9375"), ("1,5 mm", "1.5"), ('1 1/4"', "31.75"), ("1-1/4 in", "31.75"),
    ("½ in", "12.7"), ('3/4"', "19.05"), ("1¼ in", "31.75"), (".5in", "12.7"), ("2 cm", "20"),
    ("62", "62"), ("-3 mm", "-3"), ("−3 mm", "-3"), ("1e3 mm", "1000"), ("50 µm", "0.05"),
    ("0.004 inch", "0.1016"), (" 12.70  MM ", "12.7"), ("1 ft", "304.8"), ("3 thou", "0.0762")])
def test_length_as_people_type_it_is_read(text, mm):
    assert parse_quantity(text, "mm").to("mm").amount == Fraction(mm)


@pytest.mark.parametrize(("text", "unit", "value"), [
    ("14.5 psi", "bar", 0.9997), ("2 bar", "bar", 2), ("71 °C", "°C", 71), ("160 °F", "°C", 71.11),
    ("20 L/min", "L/min", 20), ("5 gpm", "L/min", 18.927), ("3 h", "h", 3), ("90 min", "h", 1.5),
    ("2 lb", "kg", 0.9072), ("500 g", "kg", 0.5), ("2000 rpm", "1/min", 2000), ("8 %", "%", 8),
    ("100 bhp", "kW", 74.57), ("12 V", "V", 12), ("500 mA", "A", 0.5)])
def test_other_quantities_are_read(text, unit, value):
    assert float(parse_quantity(text, unit).to(unit).amount) == pytest.approx(value, rel=1e-4)


@pytest.mark.parametrize(("text", "unit"), [
    ("", "mm"), ("about 5", "mm"), ("5 parsec", "mm"), ("5 kg", "mm"), ("1/0 in", "mm"),
    ("5 5 mm", "mm"), ("1e99999", "mm"), ("x" * 100, "mm"), ("mm", "mm"), ("nan", "mm")])
def test_text_that_is_no_such_quantity_is_refused(text, unit):
    with pytest.raises(UnknownUnit):
        parse_quantity(text, unit)


@pytest.mark.parametrize("value", [True, None, [], float("nan"), float("inf")])
def test_value_that_is_no_number_is_refused(value):
    with pytest.raises(UnknownUnit):
        exact(value)


@given(st.fractions(-1000, 1000), st.sampled_from(["in", "cm", "ft", "µm", "m"]))
def test_length_there_and_back_is_the_same(amount, unit):
    assert convert(convert(Quantity(amount, "mm"), unit), "mm").amount == amount


def test_temperature_has_a_zero_point_and_a_difference_has_none():
    assert convert(Quantity(Fraction(32), "°F"), "°C").amount == 0
    assert convert_step(Fraction(18), "°F", "°C") == 10


@pytest.mark.parametrize(("value", "least", "text"), [
    ("15.875", 0, "15.875"), (65, 1, "65.0"), ("0.0005", 0, "0.001"), ("-0.0001", 0, "0"),
    ("-2.5", 0, "-2.5"), ("1/3", 0, "0.333"), ("2/3", 0, "0.667"), (0, 0, "0")])
def test_number_is_printed_with_a_point_and_rounded(value, least, text):
    assert format_number(exact(value), least=least) == text


def test_quantity_is_printed_with_its_unit():
    assert format_quantity(parse_quantity("5/8 in", "mm").to("mm")) == "15.875 mm"
    assert format_quantity(Quantity(Fraction(4), "1")) == "4"
