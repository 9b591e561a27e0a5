"""Raw-water cooling: what flow carries the heat off, and what a pump gives at its speed.

Heat is heat to the water (exchanger and exhaust), not shaft power. Flow = heat / (density ×
specific heat × rise). Positive pumps give in proportion to their speed; with two rated points or
more the flow between them is read off the line, and outside them nobody can tell.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from spares.errors import InvalidInput, OutOfRange
from spares.standards import table
from spares.units import exact, format_number

LEAST_RISE_K, MOST_RISE_K = 2, 40       # proposed here: outside, another kind of system
MOST_HEAT_KW = 2000                     # proposed here: above, no small vessel
_WARM_RISE_K = 25
_L_MIN_PER_M3_S = 60000


@dataclass(frozen=True)
class Cooling:
    """The flow needed and given [L/min], the speed of the pump [1/min], and remarks."""

    needed_l_min: Fraction
    pump_rpm: Fraction | None
    given_l_min: Fraction | None
    enough: bool | None
    remarks: tuple[str, ...]


def flow_needed(heat_kw: Fraction, rise_k: Fraction, water: str) -> Fraction:
    """Work out the flow that carries a heat off.

    Args:
        heat_kw: Heat to the water [kW], above 0 and up to 2000.
        rise_k: Rise of its temperature [K], 2 to 40.
        water: `sea` or `fresh` [-].

    Returns:
        Flow [L/min].

    Raises:
        OutOfRange: heat or rise outside its range.
        InvalidInput: another water.

    Source:
        Heat balance; density and specific heat by the table `water_heat` (TEOS-10, IAPWS-95).

    Example:
        >>> float(flow_needed(Fraction(60), Fraction(15), "sea"))
        58.6
    """
    if not 0 < heat_kw <= MOST_HEAT_KW:
        raise OutOfRange(f"heat is above 0 and up to {MOST_HEAT_KW} kW", field="heat_kw",
                         errors=[{"pointer": "#/heat_kw", "detail": "outside its range"}])
    if not LEAST_RISE_K <= rise_k <= MOST_RISE_K:
        raise OutOfRange(f"rise is {LEAST_RISE_K} to {MOST_RISE_K} K", field="rise_k",
                         errors=[{"pointer": "#/rise_k", "detail": "outside its range"}])
    row = table("water_heat").find(water=water)
    if row is None:
        raise InvalidInput.at("#/water", "sea or fresh")
    heat_per_m3 = exact(row["density_kg_m3"]) * exact(row["specific_heat_j_kg_k"])
    return heat_kw * 1000 / (heat_per_m3 * rise_k) * _L_MIN_PER_M3_S


def flow_given(curve: Sequence[tuple[Fraction, Fraction]], speed_rpm: Fraction) -> Fraction | None:
    """Read the flow of a positive pump at a speed.

    Args:
        curve: Rated points, speed [1/min] and flow [L/min], one at least.
        speed_rpm: Speed of the pump [1/min].

    Returns:
        Flow [L/min], or None outside several rated points.

    Raises:
        InvalidInput: a point that cannot be, or two at one speed.

    Source:
        Displacement per turn; the two nearest rated points where there are several.

    Example:
        >>> float(flow_given([(Fraction(1750), Fraction(42))], Fraction(2860)))
        68.64
    """
    points = sorted(curve)
    if not points or any(s <= 0 or q < 0 for s, q in points):
        raise InvalidInput.at("#/pump/curve", "points of speed above 0 and flow are needed")
    if len({s for s, _ in points}) < len(points):
        raise InvalidInput.at("#/pump/curve", "two points at one speed")
    if len(points) == 1:
        return points[0][1] * speed_rpm / points[0][0]
    for (s0, q0), (s1, q1) in zip(points, points[1:], strict=False):
        if s0 <= speed_rpm <= s1:
            return q0 + (q1 - q0) * (speed_rpm - s0) / (s1 - s0)
    return None


def check_cooling(heat_kw: Fraction, rise_k: Fraction, water: str, *,
                  curve: Sequence[tuple[Fraction, Fraction]] = (),
                  max_rpm: Fraction | None = None, pump_rpm: Fraction | None = None) -> Cooling:
    """Tell whether a pump gives the flow that is needed.

    Args:
        heat_kw: Heat to the water [kW].
        rise_k: Rise of its temperature [K].
        water: `sea` or `fresh` [-].
        curve: Rated points of the pump, speed [1/min] and flow [L/min].
        max_rpm: Highest speed that the pump bears [1/min], or None.
        pump_rpm: Speed of the pump [1/min], or None where it is not known.

    Returns:
        Flows [L/min], speed [1/min], whether it is enough [-], remarks [-].

    Raises:
        OutOfRange, InvalidInput: as `flow_needed` and `flow_given`.

    Source:
        As `flow_needed` and `flow_given`; limit of the outlet temperature from memory.
    """
    needed = flow_needed(heat_kw, rise_k, water)
    given = flow_given(curve, pump_rpm) if curve and pump_rpm is not None else None
    remarks = []
    if rise_k > _WARM_RISE_K and water == "sea":
        remarks.append("in sea water the outlet stays below about 55 to 60 °C, or salt settles "
                       "(from memory)")
    if not curve:
        remarks.append("no flow of the pump is known: maker's curve, or bucket and watch at the "
                       "outlet; 20 L in 20 s are 60 L/min")
    elif pump_rpm is None:
        remarks.append("the speed of the pump is not known")
    elif given is None:
        remarks.append("outside the rated points of the pump: cannot tell")
    elif len(curve) == 1 and pump_rpm != curve[0][0]:
        remarks.append("from one rated point, in proportion to speed; at high speed and throttled "
                       "a pump gives less: measure at the outlet")
    enough = None if given is None else given >= needed
    if max_rpm is not None and pump_rpm is not None and pump_rpm > max_rpm:
        enough = False
        remarks.append(f"the pump would turn at {format_number(pump_rpm, 0)} r/min, above its "
                       f"highest of {format_number(max_rpm, 0)}")
    remarks.append("check at rated load and at the slowest loaded speed; a measured flow beats "
                   "any catalogue")
    return Cooling(needed, pump_rpm, given, enough, tuple(remarks))


def driven_speed(engine_rpm: Fraction, drive_mm: Fraction, driven_mm: Fraction,
                 slip: Fraction = Fraction(0)) -> Fraction:
    """Work out the speed of a driven shaft.

    Args:
        engine_rpm: Speed of the engine [1/min], above 0.
        drive_mm: Datum diameter of the driving pulley [mm], or its teeth.
        driven_mm: Datum diameter of the driven pulley [mm], or its teeth.
        slip: Share of the speed lost [1], 0 to below 0.2; 0 for toothed belts and gears.

    Returns:
        Speed [1/min].

    Raises:
        OutOfRange: a diameter or speed not above 0, or another slip.

    Source:
        Ratio of datum diameters; slip of 0.01 to 0.03 for V-belts from memory.

    Example:
        >>> driven_speed(Fraction(2600), Fraction(110), Fraction(100))
        Fraction(2860, 1)
    """
    good = {"engine_rpm": engine_rpm > 0, "drive_pulley_mm": drive_mm > 0,
            "driven_pulley_mm": driven_mm > 0, "slip": 0 <= slip < Fraction("0.2")}
    for name in (name for name, can_be in good.items() if not can_be):
        raise OutOfRange("speed and diameters are above 0, slip is 0 to below 0.2").at(f"#/{name}")
    return engine_rpm * drive_mm / driven_mm * (1 - slip)
