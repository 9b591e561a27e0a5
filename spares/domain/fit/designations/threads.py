"""Threads: metric, unified (numbered sizes too), Whitworth, pipe of 55 and 60 degrees.

`M10`, `M10x1.25`, `3/8-16 UNC`, `8-32 UNC`, `1/2 BSW`, `G 1 1/4`, `R 1/2`, `Rp`, `Rc`, `1/2 NPT`,
`LH` for left hand. `1/2 BSP` does not say whether it is parallel or taper and stands for all of
its forms. A bare inch size stands for nothing.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from spares.errors import UnknownUnit
from spares.standards import table
from spares.units import INCH_MM, exact, format_number

PIPE_55 = ("G", "R", "Rp", "Rc")
PIPES = (*PIPE_55, "NPT", "NPTF")       # named by the pipe, so wider than their size says
EXTERNAL_ONLY, INTERNAL_ONLY = ("R",), ("Rp", "Rc")


@dataclass(frozen=True)
class Thread:
    """One thread: family, nominal size, major diameter and pitch [mm], hand, side if known.

    `coarse_by_default` says that no pitch was written, which means the coarse one.
    """

    family: str
    size: str
    major_mm: Fraction
    pitch_mm: Fraction
    left: bool = False
    side: str = ""          # external, internal, or not known
    coarse_by_default: bool = False

    @property
    def taper(self) -> bool:
        """Tell whether the external thread tapers (1 in 16)."""
        return self.family in ("R", "Rc", "NPT", "NPTF")

    @property
    def text(self) -> str:
        """Write the thread so that it reads back to the same."""
        pitch = format_number(self.pitch_mm)
        tpi = format_number(INCH_MM / self.pitch_mm)
        body = {"M": f"M{self.size}x{pitch}", "UN": f"{self.size}-{tpi} {_series(self)}",
                "BSW": f"{self.size}-{tpi} BSW", "BSF": f"{self.size}-{tpi} BSF",
                "NPT": f"{self.size} NPT", "NPTF": f"{self.size} NPTF"}.get(
                    self.family, f"{self.family} {self.size}")
        return f"{body} LH" if self.left else body


_SIZE = r"(?P<size>(?:#|no\.?\s*)?\d+(?:[ -]\d+/\d+|/\d+)?)"
_METRIC = re.compile(r"mf?\s*(?P<d>\d+(?:[.,]\d+)?)(?:\s*[x×*-]\s*(?P<p>\d+(?:[.,]\d+)?))?"
                     r"(?:\s*[-/]?\s*\d[a-h](?:\d[a-h])?)?")
_UNIFIED = re.compile(_SIZE + r"(?:\s*-\s*|\s+)(?P<tpi>\d+(?:[.,]\d+)?)\s*(?:tpi)?\s*"
                      r"-?\s*(?P<family>unc|unf|unef|uns|un|unr|bsw|bsf|w|whit|nptf|npt)?"
                      r"(?:\s*-?\s*\d[ab])?")
_NAMED = re.compile(_SIZE + r"\s*-?\s*(?P<family>unc|unf|unef|bsw|bsf|bspp|bspt|bsp|nptf|npt|"
                    r"rp|rc|r|g)(?:\s*-?\s*\d[ab])?(?:\s*\([a-z]+\))?")
_LEADING = re.compile(r"(?P<family>bspp|bspt|bsp|bsw|bsf|nptf|npt|unc|unf|rp|rc|g|r|w)\s*"
                      + _SIZE + r"\s*[ab]?")
_SIDES = {"male": "external", "external": "external", "ext": "external", "outside": "external",
          "female": "internal", "internal": "internal", "int": "internal", "inside": "internal"}
_GLYPHS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8",
           "⅞": " 7/8"}


def parse_thread(text: str) -> tuple[Thread, ...]:
    """Give the threads that a text may mean: one, several forms, or none when it is not clear.

    Args:
        text: Such as `M10x1.25`, `3/8-16 UNC`, `G 1/2`, `1/2 BSP` [-].

    Returns:
        The threads [-].

    Source:
        ISO 261, ASME B1.1, BS 84, ISO 228-1, ISO 7-1, ASME B1.20.1 by the tables of this program.

    Example:
        >>> [t.text for t in parse_thread("m10")], [t.family for t in parse_thread("1/2 BSP")]
        (['M10x1.5'], ['G', 'R', 'Rp', 'Rc'])
    """
    plain, left, side = _clean(text)
    found: tuple[Thread, ...] = ()
    for pattern, make in ((_METRIC, _metric), (_LEADING, _named), (_UNIFIED, _unified),
                          (_NAMED, _named)):
        hit = pattern.fullmatch(plain)
        found = make(hit) if hit else ()
        if found:
            break
    sided = [replace(t, left=left, side=t.side or side) for t in found]
    return tuple(t for t in sided if not side or t.side == side)


@cache
def standard_threads() -> tuple[Thread, ...]:
    """Give every thread of the tables, pipe threads in each of their forms.

    Returns:
        The threads [-].

    Source:
        The tables named in the module's head.
    """
    metric = [Thread("M", format_number(r["d_mm"]), exact(r["d_mm"]), exact(r["pitch_mm"]))
              for name in ("iso_metric_threads", "iso_metric_threads_more")
              for r in table(name).records()]
    inch = [Thread("UN" if name == "unified_threads" else r["series"], r["size"],
                   _inch_size(r["size"]), INCH_MM / exact(r["tpi"]))
            for name in ("unified_threads", "whitworth_threads") for r in table(name).records()]
    pipe = [Thread(family, r["size"], exact(r["major_mm"]), INCH_MM / exact(r["tpi"]),
                   side=_forced(family))
            for r in table("pipe_threads_55").records() for family in PIPE_55]
    npt = [Thread("NPT", r["size"], exact(r["major_mm"]), INCH_MM / exact(r["tpi"]))
           for r in table("npt_threads").records()]
    return (*metric, *inch, *pipe, *npt)


def _clean(text: str) -> tuple[str, bool, str]:
    plain = str(text)
    for glyph, spelt in _GLYPHS.items():
        plain = plain.replace(glyph, spelt)
    plain = re.sub(r"[\"″”]|\binch(es)?\b|\bin\b\.?", "", plain.casefold())
    left, side, words = False, "", []
    for item in plain.replace("_", " ").split():
        if item in ("lh", "left", "left-hand"):
            left = True
        elif item in ("rh", "right", "hand", "right-hand", "thread", "port"):
            continue
        elif item in _SIDES:
            side = _SIDES[item]
        else:
            words.append(item)
    plain = " ".join(words)
    if plain.endswith(("-lh", "lh")) and not left:
        plain, left = plain.removesuffix("lh").rstrip("- "), True
    return plain.strip(), left, side


def _metric(hit: re.Match[str]) -> tuple[Thread, ...]:
    d = exact(hit["d"])
    coarse = next((exact(r["pitch_mm"]) for r in table("iso_metric_threads").records()
                   if exact(r["d_mm"]) == d and r["series"] == "coarse"), None)
    if hit["p"]:
        pitch = exact(hit["p"])     # more than the coarse pitch is the length of a screw
        return (Thread("M", format_number(d), d, pitch),) if 0 < pitch <= (coarse or d / 3) else ()
    return () if coarse is None else (
        Thread("M", format_number(d), d, coarse, coarse_by_default=True),)


def _unified(hit: re.Match[str]) -> tuple[Thread, ...]:
    size = _tidy(hit["size"])
    try:
        tpi = exact(hit["tpi"])
        if any(r["size"] == f"#{size}" and exact(r["tpi"]) == tpi
               for r in table("unified_threads").records()):
            size = f"#{size}"       # 2-56 is number 2, 2-4.5 is two inches
        major = _inch_size(size)
    except UnknownUnit:
        return ()
    family = hit["family"] or ""
    if family in ("npt", "nptf"):
        return tuple(t for t in _pipe(size, family.upper()) if INCH_MM / t.pitch_mm == tpi)
    if not major or not tpi or major < INCH_MM / tpi:
        return ()
    rows = {name: {exact(r["tpi"]) for r in table(name).records()
                   if r["size"] == size and (not family or family not in ("unc", "unf", "unef")
                                             or r["series"].casefold() == family)}
            for name in ("unified_threads", "whitworth_threads")}
    if family in ("bsw", "bsf", "w", "whit"):
        return (Thread("BSF" if family == "bsf" else "BSW", size, major, INCH_MM / tpi),)
    known = tpi in rows["unified_threads"]
    if family in ("unc", "unf", "unef") and not known:
        return ()       # a series and a count that do not go together
    if not family and not known:
        return ()       # 1/2-12 may be Whitworth or a special unified thread
    return (Thread("UN", size, major, INCH_MM / tpi),)


def _named(hit: re.Match[str]) -> tuple[Thread, ...]:
    family, size = hit["family"], _tidy(hit["size"])
    if family in ("unc", "unf", "unef", "bsw", "bsf", "w"):
        series = "BSW" if family == "w" else family.upper()
        name = "whitworth_threads" if series in ("BSW", "BSF") else "unified_threads"
        row = table(name).find(size=size, series=series)
        if row is None:
            return ()
        return (Thread(series if series in ("BSW", "BSF") else "UN", size, _inch_size(size),
                       INCH_MM / exact(row["tpi"])),)
    forms = {"bspp": ("G",), "bspt": ("R", "Rc"), "bsp": PIPE_55, "npt": ("NPT",),
             "nptf": ("NPTF",), "rp": ("Rp",), "rc": ("Rc",), "r": ("R",), "g": ("G",)}[family]
    return tuple(t for form in forms for t in _pipe(size, form))


def _pipe(size: str, family: str) -> tuple[Thread, ...]:
    name = "npt_threads" if family.startswith("NPT") else "pipe_threads_55"
    row = table(name).find(size=size)
    if row is None:
        return ()
    return (Thread(family, size, exact(row["major_mm"]), INCH_MM / exact(row["tpi"]),
                   side=_forced(family)),)


def _forced(family: str) -> str:
    return ("external" if family in EXTERNAL_ONLY
            else "internal" if family in INTERNAL_ONLY else "")


def _series(thread: Thread) -> str:
    tpi = INCH_MM / thread.pitch_mm
    row = next((r for r in table("unified_threads").records()
                if r["size"] == thread.size and exact(r["tpi"]) == tpi), None)
    return str(row["series"]) if row else "UN"


def _tidy(size: str) -> str:
    """Write a size as the tables do: `#8`, `3/8`, `1 1/4`."""
    bare = re.sub(r"no\.?\s*", "#", size.strip()).replace("-", " ")
    if bare.isdigit():
        named = table("unified_threads").find(size=f"#{bare}")
        inch = table("unified_threads").find(size=bare) or table("pipe_threads_55").find(size=bare)
        return f"#{bare}" if named and not inch else bare
    return bare


def _inch_size(size: str) -> Fraction:
    """Give the major diameter [mm] of an inch size; numbered sizes are 0.060 + 0.013 n inches."""
    if size.startswith("#"):
        return (Fraction("0.060") + Fraction("0.013") * int(size[1:])) * INCH_MM
    return exact(size) * INCH_MM
