"""Read a thread that is written, or that was measured instead: what may it be?

A caliper on a crest reads below the nominal diameter: a screw of grade 6g (ISO 965-1) lies under
it by its allowance and up to its tolerance more; a taper thread reads by where it was taken.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.designations.threads import (
    PIPE_55,
    Thread,
    parse_thread,
    standard_threads,
)
from spares.domain.fit.judges.plain import show
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput, UnknownUnit
from spares.units import INCH_MM, exact, format_number, parse_quantity

PITCH_GAP_MM = Fraction("0.05")     # a gauge leaf tells pitches apart that differ by more
ALIKE_PITCH_MM, ALIKE_MAJOR_MM = Fraction("0.12"), Fraction("0.6")
_CALIPER_MM = Fraction("0.05")
_FLANK_55 = (*PIPE_55, "BSW", "BSF")
_READINGS = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*[x×*]\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?")
_FORM = re.compile(r",?\s*\b(?:(?P<taper>tapere?d?)|(?P<straight>parallel|straight)"
                   r"|(?P<flank>55|60)\s*(?:°|deg\w*))(?:\s+(?:thread|flanks?))?")


@dataclass(frozen=True)
class Candidates:
    """Every thread that a text or a reading may be; `measured` for a reading, with its gaps."""

    threads: tuple[Thread, ...]
    shown: str
    measured: bool = False
    no_pitch: bool = False
    at_odds: bool = False       # pitch and count contradict each other
    no_crest: bool = False
    near: tuple[Thread, ...] = ()


def read_thread(value: Any, claim: Claim) -> Candidates:
    """Read a thread: written, or measured as `{major, pitch, u, taper, flank_deg}`.

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
    if isinstance(value, list):
        return Candidates((), show(value))
    if not isinstance(value, dict):
        value = _in_words(str(value))
    if "major" not in value:
        written = str(value["value"]) if value.get("value") is not None else show(value)
        found = parse_thread(written) if value.get("value") is not None else ()
        if _said(value, "left"):
            found = tuple(replace(t, left=True) for t in found)
        return Candidates(tuple(t for t in found if _has_form(t, value, claim)),
                          value.get("shown") or show(value))
    major = _reading(value, "major", claim)
    u = _reading(value if value.get("u") is not None else {"u": claim.u}, "u", claim)
    pitch = _reading(value, "pitch", claim)
    tpi = _reading(value, "tpi", claim)
    counted = INCH_MM / tpi if tpi else None
    # two readings that contradict each other tell no pitch
    at_odds = pitch is not None and counted is not None and abs(pitch - counted) > PITCH_GAP_MM
    pitch = None if at_odds else counted if pitch is None else pitch
    shown = _shown(value, major, pitch, at_odds=at_odds)
    if major is None:
        return Candidates((), shown, measured=True, no_crest=True)
    u = _CALIPER_MM if u is None else u
    left = _said(value, "left") or False
    fitting = tuple(replace(t, left=left) for t in standard_threads()
                    if _has_form(t, value, claim)
                    and _crest_reads(t, major, u)
                    and (pitch is None or abs(t.pitch_mm - pitch) <= PITCH_GAP_MM))
    near = tuple(t for t in standard_threads()
                 if abs(t.major_mm - major) <= ALIKE_MAJOR_MM + u
                 and (pitch is None or abs(t.pitch_mm - pitch) <= ALIKE_PITCH_MM))
    return Candidates(fitting, shown, measured=True, no_pitch=pitch is None,
                      at_odds=at_odds, near=near)


def _shown(value: dict[str, Any], major: Fraction | None, pitch: Fraction | None, *,
           at_odds: bool) -> str:
    crest = "not known" if major is None else f"{format_number(major)} mm"
    if at_odds:
        return (f"{crest} over the crest, pitch {show(value['pitch'])} against "
                f"{show(value['tpi'])} tpi")
    if pitch is None:
        return f"{crest} over the crest, pitch not taken"
    told = (f"{format_number(pitch)}" if value.get("pitch") is not None
            else f"{show(value['tpi'])} tpi")
    return f"{crest} over the crest, pitch {told}"


def _in_words(text: str) -> dict[str, Any]:
    """Read `1/2 BSP taper`, `20.9 x 1.81, 60 degrees`: what was found out stands behind."""
    said: dict[str, Any] = {}
    for hit in _FORM.finditer(text.casefold()):
        said |= {"taper": True} if hit["taper"] else {"taper": False} if hit["straight"] else {
            "flank_deg": int(hit["flank"])}
    plain = _FORM.sub("", text.casefold()).strip(" ,") if said else text
    sizes = _READINGS.fullmatch(plain.strip())
    if sizes and not parse_thread(plain):
        return {**said, "major": sizes[1], "pitch": sizes[2]}
    return {**said, "value": plain, "shown": text}


def _said(value: dict[str, Any], name: str) -> bool | None:
    return None if value.get(name) is None else reading.flag(value[name])


def has_55_flanks(thread: Thread) -> bool:
    """Tell whether the flanks stand at 55 degrees; else at 60."""
    return thread.family in _FLANK_55


def _has_form(thread: Thread, value: dict[str, Any], claim: Claim) -> bool:
    """Tell whether a thread has the taper and the flanks that were found."""
    taper, flank = _said(value, "taper"), value.get("flank_deg")
    if flank is not None:
        try:
            flank = exact(flank)
        except UnknownUnit as err:
            raise InvalidInput.at(f"{claim.where}/flank_deg", err.detail) from err
        if flank not in (55, 60):
            raise InvalidInput.at(f"{claim.where}/flank_deg", "55 or 60")
    return (taper is None or thread.taper is taper) and (
        flank is None or has_55_flanks(thread) == (flank == 55))


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
