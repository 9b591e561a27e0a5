"""Proof load of a screw, and an estimate of tightening torque as a range, never as one figure.

T = K × d × F with F = 0.75 of the proof load for a joint that is opened again. K depends on the
surfaces and scatters by a third or more. The maker's figure goes first; into aluminium or plastic
the thread decides, not the screw, and there is no estimate.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import Any

from spares.domain.fit.designations.threads import Thread, parse_thread
from spares.errors import InvalidInput, OutOfRange
from spares.standards import table
from spares.units import exact

PRELOAD_SHARE = Fraction("0.75")
LEAST_D_MM, MOST_D_MM = 3, 39       # range of ISO 898-1 that people tighten by hand
_ROOT = {"M": 1.226869, "UN": 1.299038}     # pitches that the root is under the nominal
_SOFT = ("aluminium", "plastic")
_SURFACES = {"dry": "dry-steel", "steel": "dry-steel", "oil": "machine-oil", "oiled": "machine-oil",
             "zinc": "zinc-plated", "phosphate": "phosphate-and-oil",
             "stainless-on-stainless": "stainless", "stainless-steel": "stainless"}


@dataclass(frozen=True)
class Torque:
    """Stress area [mm^2], proof load [kN], torque from and to [N·m], remarks."""

    stress_area_mm2: float
    proof_kn: float
    low_nm: float | None
    high_nm: float | None
    remarks: tuple[str, ...]


def stress_area(d_mm: Fraction, pitch_mm: Fraction, family: str = "M") -> float:
    """Work out the stress area of a metric or unified screw.

    Args:
        d_mm: Nominal diameter [mm].
        pitch_mm: Pitch [mm].
        family: `M`, or `UN`, whose root lies deeper [-].

    Returns:
        Area [mm^2].

    Raises:
        OutOfRange: diameter or pitch not above 0.

    Source:
        ISO 898-1: pi / 4 × ((d2 + d3) / 2)^2 with d2 = d - 0.649519 P, d3 = d - 1.226869 P;
        ASME B1.1 with d - 1.299038 P at the root, as tribology-abc.com prints it.

    Example:
        >>> stress_area(Fraction(10), Fraction("1.5"))
        57.99
    """
    if not 0 < pitch_mm < d_mm:
        raise OutOfRange("the pitch is above 0 and below the diameter")
    d, p = float(d_mm), float(pitch_mm)
    return pi / 4 * (((d - 0.649519 * p) + (d - _ROOT[family] * p)) / 2) ** 2


def proof_stress(strength_class: str, d_mm: Fraction) -> tuple[Fraction, bool]:
    """Give the proof stress of a class of screws.

    Args:
        strength_class: Such as `8.8`, `A4-70` or `SAE 5` [-].
        d_mm: Nominal diameter, because 8.8 changes at 16 mm [mm].

    Returns:
        Proof stress [MPa], and whether it is from memory [-].

    Raises:
        InvalidInput: no such class is known.

    Source:
        ISO 898-1 and ISO 3506-1 by the table `proof_stress`.

    Example:
        >>> proof_stress("8.8", Fraction(10))
        (Fraction(580, 1), False)
    """
    name = "".join(str(strength_class).upper().split()).replace("SAE", "").replace("GRADE", "")
    for row in table("proof_stress").records():
        if "".join(row["class"].split()).removeprefix("SAE") == name and (
                row["up_to_d_mm"] is None or d_mm <= row["up_to_d_mm"]):
            return exact(row["proof_mpa"]), row["known"] == "memory"
    known = ", ".join(dict.fromkeys(r["class"] for r in table("proof_stress").records()))
    raise InvalidInput.at("#/class", f"no such property class is known; known are {known}")


def estimate_torque(thread: str, strength_class: str, surface: str) -> Torque:
    """Estimate the torque of a screw as a range.

    Args:
        thread: Such as `M8` or `3/8-16 UNC`, 3 to 39 mm [-].
        strength_class: Property class or grade [-].
        surface: A row of the table `torque_factors`; `aluminium` and `plastic` give none [-].

    Returns:
        Proof load [kN], torque [N·m] from and to, remarks [-].

    Raises:
        InvalidInput: thread, class or surface not known.
        OutOfRange: a diameter outside the range.

    Source:
        T = K d F; ranges of K by the table `torque_factors`; 0.75 of proof as me_toolbox does.

    Example:
        >>> found = estimate_torque("M8", "8.8", "dry-steel")
        >>> found.low_nm, found.high_nm
        (22.9, 34.4)
    """
    read = _thread(thread)
    if not LEAST_D_MM <= read.major_mm <= MOST_D_MM:
        raise OutOfRange(f"holds for {LEAST_D_MM} to {MOST_D_MM} mm", field="thread")
    area = stress_area(read.major_mm, read.pitch_mm, read.family)
    stress, remembered = proof_stress(strength_class, read.major_mm)
    proof = float(stress) * area / 1000
    remarks = ["the maker's figure goes first; this is an estimate, and torque scatters by about "
               "30 % on one finish"]
    if remembered:
        remarks.append(f"proof stress of {strength_class} is from memory, not looked up")
    if str(strength_class).upper().startswith("A"):
        remarks.append("stainless on stainless galls: lubricate, turn slowly")
    soft = str(surface).casefold() in _SOFT
    remarks.append("into aluminium or plastic the thread decides, not the screw: maker's figure "
                   "only")
    if soft:
        return Torque(area, proof, None, None, tuple(remarks))
    row = _factors(surface)
    if row["remark"]:
        remarks.append(row["remark"])
    force, d = float(PRELOAD_SHARE) * proof, float(read.major_mm)
    return Torque(area, proof, row["k_low"] * d * force, row["k_high"] * d * force,
                  tuple(remarks))


def _thread(text: str) -> Thread:
    found = [t for t in parse_thread(text) if t.family in ("M", "UN")]
    if len(found) != 1:
        raise InvalidInput.at("#/thread", f"{text!r} is no metric or unified thread")
    return found[0]


def _factors(surface: str) -> dict[str, Any]:
    name = "-".join(str(surface).casefold().replace("_", " ").split())
    row = table("torque_factors").find(surface=_SURFACES.get(name, name))
    if row is None:
        known = [r["surface"] for r in table("torque_factors").records()]
        raise InvalidInput.at("#/surface", f"one of {', '.join([*known, *_SOFT])}")
    return row
