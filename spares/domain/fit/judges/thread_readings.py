"""Read a thread that is written, or that was measured instead: what may it be?

A caliper on a crest reads below the nominal diameter: a screw of grade 6g (ISO 965-1) lies under
it by its allowance and up to its tolerance more; a taper thread reads by where it was taken.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from spares.domain.fit.designations.threads import Thread, parse_thread, standard_threads
from spares.domain.fit.judges.plain import show
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput, UnknownUnit
from spares.units import INCH_MM, exact, parse_quantity

PITCH_GAP_MM = Fraction("0.05")     # a gauge leaf tells pitches apart that differ by more
ALIKE_PITCH_MM, ALIKE_MAJOR_MM = Fraction("0.12"), Fraction("0.6")
_CALIPER_MM = Fraction("0.05")


@dataclass(frozen=True)
class Candidates:
    """Every thread that a text or a reading may be; `measured` for a reading, with its gaps."""

    threads: tuple[Thread, ...]
    shown: str
    measured: bool = False
    no_pitch: bool = False
    near: tuple[Thread, ...] = ()


def read_thread(value: Any, claim: Claim) -> Candidates:
    """Read a thread: written, or measured as `{major, pitch, u, taper}`.

    Args:
        value: Text or readings [-].
        claim: Whose unit counts and whose place errors name [-].

    Returns:
        What it may be [-].

    Raises:
        InvalidInput: a reading is no number.

    Source:
        Major diameters of screws after ISO 965-1 and ASME B1.1, from memory of the formulas.
    """
    if not isinstance(value, dict):
        return Candidates(parse_thread(str(value)), str(value))
    if "major" not in value:
        return Candidates((), show(value))
    major = _reading(value, "major", claim)
    u = _reading(value if value.get("u") is not None else {"u": claim.u}, "u", claim)
    pitch = _reading(value, "pitch", claim)
    if pitch is None and value.get("tpi") is not None:
        tpi = _reading(value, "tpi", claim)
        pitch = INCH_MM / tpi if tpi else None
    shown = f"{show(value.get('major'))} mm over the crest, pitch " + (
        "not taken" if pitch is None else f"{show(value.get('pitch', value.get('tpi')))}")
    if major is None:
        return Candidates((), shown, measured=True, no_pitch=True)
    u = _CALIPER_MM if u is None else u
    taper, left = value.get("taper"), bool(value.get("left"))
    fitting = tuple(t for t in standard_threads() if left == t.left
                    and (taper is None or t.taper == bool(taper))
                    and _crest_reads(t, major, u)
                    and (pitch is None or abs(t.pitch_mm - pitch) <= PITCH_GAP_MM))
    near = tuple(t for t in standard_threads()
                 if abs(t.major_mm - major) <= ALIKE_MAJOR_MM + u
                 and (pitch is None or abs(t.pitch_mm - pitch) <= ALIKE_PITCH_MM))
    return Candidates(fitting, shown, True, pitch is None, near)


def _crest_reads(thread: Thread, major: Fraction, u: Fraction) -> bool:
    """Tell whether a caliper on the crest may read *major* for this thread."""
    low, high = _crest_limits(thread)
    return low - u <= major <= high + u


def _crest_limits(thread: Thread) -> tuple[Fraction, Fraction]:
    if thread.taper:     # the reading depends on where along the taper it was taken
        return thread.major_mm - Fraction("1.3"), thread.major_mm + Fraction("0.8")
    pitch = float(thread.pitch_mm)
    allowance = (15 + 11 * pitch) / 1000
    width = (180 * pitch ** (2 / 3) - 3.15 / pitch ** 0.5) / 1000     # grade 6g
    return (thread.major_mm - exact(round(allowance + width, 3)) - Fraction("0.02"),
            thread.major_mm)


def _reading(value: dict[str, Any], name: str, claim: Claim) -> Fraction | None:
    raw = value.get(name)
    if raw is None:
        return None
    unit = claim.unit or "mm"
    try:
        if name == "tpi":
            number = exact(raw)
        else:
            number = parse_quantity(str(raw), unit).to("mm").amount
    except UnknownUnit as err:
        raise InvalidInput.at(f"{claim.where}/{name}", err.detail) from err
    if number < 0:
        raise InvalidInput.at(f"{claim.where}/{name}", "must not be negative")
    return number
