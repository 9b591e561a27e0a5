"""Judge threads: what is written, what was measured instead, and which external goes into which.

A caliper on a crest reads below the nominal diameter, and threads of different families may look
alike. Whatever a reading may be is compared with what is asked: only when every possibility
mates is it a match.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from spares.domain.fit.context import Context
from spares.domain.fit.designations.threads import (
    PIPE_55,
    PIPES,
    Thread,
    parse_thread,
    standard_threads,
)
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import judge_absent
from spares.domain.fit.judges.thread_readings import (
    ALIKE_MAJOR_MM,
    ALIKE_PITCH_MM,
    PITCH_GAP_MM,
    Candidates,
    has_55_flanks,
    read_thread,
)
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.standards import table

_TURNS = 5
_MATING = ("which pipe threads go together",)
_TAPER = "two readings 10 mm apart (1 in 16 taper differs by 0.6 mm)"
_FLANKS = "form of the flanks (55 or 60 degrees)"
_SIDES = {"male": "external", "external": "external", "female": "internal",
          "internal": "internal"}
_FACE, _GAUGE = "sealing face", "pitch gauge"
ASK = f"{_TAPER}, {_FLANKS}, {_FACE}, {_GAUGE}"


@judge("thread")
def judge_thread(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge whether two threads mate, or are one of several that would."""
    absent = judge_absent(attribute, asked, offered)
    if absent:
        return absent
    wanted = asked.value if isinstance(asked.value, list) else [asked.value]
    sides = thread_sides(ctx, attribute)
    have = _told_apart(read_thread(offered.value, offered), ctx.offered_word("hand"),
                       ctx.offered_word("sealing_face"))
    if _said_side(ctx):
        have = replace(have, threads=tuple(t if t.side else replace(t, side=sides)
                                           for t in have.threads))
    hand, face = (next(iter(ctx.asked_words(name)), None) for name in ("hand", "sealing_face"))
    found = [mate_claims(attribute, _told_apart(read_thread(w, asked), hand, face), have, sides)
             for w in wanted]
    order = ("match", "caution", "differs", "unknown") if len(found) == 1 else (
        "match", "caution", "unknown", "differs")
    best = min(found, key=lambda f: order.index(f.result))
    return best.but(required=" or ".join(str(f.required) for f in found))


def mate_claims(attribute: Attribute, wanted: Candidates, have: Candidates,
                part_side: str) -> Finding:
    """Find whether every thread that the two sides may be would mate.

    Args:
        attribute: The line of the kind sheet [-].
        wanted: What the place has [-].
        have: What the part has [-].
        part_side: Side of the part, `external` or `internal`; empty when it does not matter [-].

    Returns:
        The finding [-].

    Source:
        ISO 7-1, ISO 228-1 and ASME B1.20.1 by the table `thread_mating`.
    """
    texts: dict[str, Any] = {"required": wanted.shown, "offered": have.shown}
    for side in (wanted, have):
        if not side.threads and not side.measured:
            if wanted.shown == have.shown:
                return match("the same text to the letter", **texts)
            return unknown(f"{side.shown!r} names no thread that is known here",
                           attribute.measure, **texts)
    if wanted.no_crest or have.no_crest:
        return unknown("the crest was not measured", attribute.measure, **texts)
    have = _on_side(have, part_side)
    wanted = _on_side(wanted, {"external": "internal", "internal": "external"}.get(part_side, ""))
    gap = _no_standard(attribute, wanted, have, texts)
    if gap:
        return gap
    if have.measured and not have.threads[0].left and any(t.left for t in wanted.threads):
        return unknown("its hand was not taken", "look: which way it turns in", **texts)
    pairs = [mate(w, h, part_side) for w in wanted.threads for h in have.threads]
    hows = {how for how, _ in pairs}
    if (wanted.no_pitch or have.no_pitch) and hows != {"no"}:
        at_odds = wanted.at_odds or have.at_odds
        return unknown(f"{'pitch and count do not agree' if at_odds else 'the pitch was not taken'}"
                       ": pitch by thread gauge decides",
                       f"pitch: {attribute.measure}", **texts)
    if len(hows) > 1:
        return unknown("it may be one of several threads that look alike: "
                       + ", ".join(sorted({t.text for t in (*wanted.threads, *have.threads)})),
                       _question(wanted, have), **texts)
    how, remark = pairs[0]
    families = {t.family for t in (*wanted.threads, *have.threads)}
    if families & {*PIPES} and len(families) > 1:
        texts["rests_on"] = _MATING
    confirm = tuple(f"{c.shown}: no pitch written means coarse, {c.threads[0].text}; confirm"
                    for c in (wanted, have)
                    if c.threads[0].coarse_by_default and wanted.shown != have.shown)
    if how == "no":
        return differs(_why_not(wanted.threads[0], have.threads[0], attribute), **texts)
    if how in ("sealant", "face-seal"):
        change = {"sealant": "thread-sealant", "face-seal": "face-seal"}[how]
        return differs(remark, change=change, detail=remark, **texts)
    return match(f"{wanted.shown} and {have.shown} mate", **texts).warn(
        *confirm, *([remark] if remark else []))


def mate(place: Thread, part: Thread, part_side: str) -> tuple[str, str]:
    """Tell how two threads go together.

    Args:
        place: The thread of the place [-].
        part: The thread of the part [-].
        part_side: `external`, `internal`, or empty when either will do [-].

    Returns:
        `yes`, `sealant`, `face-seal` or `no`, and a remark [-].

    Source:
        ISO 7-1, ISO 228-1 and ASME B1.20.1 by the table `thread_mating`.
    """
    side = part.side or {"external": "internal", "internal": "external"}.get(place.side, part_side)
    if place.side and place.side == side:
        return "no", "both are on the same side"
    same = place.left == part.left and _like(place.pitch_mm, part.pitch_mm) and \
        _like(place.major_mm, part.major_mm)
    if not same:
        return "no", ""
    outer, inner = (part, place) if side != "internal" else (place, part)
    row = table("thread_mating").find(external=outer.family, internal=inner.family)
    return (row["how"], row["remark"]) if row else ("no", "")


def thread_sides(ctx: Context, attribute: Attribute) -> str:
    """Give the side of the part's thread, by what is said of gender, else by the kind.

    Args:
        ctx: The request [-].
        attribute: The line of the kind sheet [-].

    Returns:
        `external` or `internal` [-].

    Source:
        Common practice, no source.
    """
    said = _said_side(ctx)
    if said:
        return said
    inner = ("inlet_port", "outlet_port", "sensor_thread", "bowl_thread")
    return "internal" if attribute.code in inner or ctx.sheet.kind == "filter" else "external"


def looks_like_thread(value: Any) -> bool:
    """Tell whether a value is a thread, written or measured.

    Args:
        value: Plain JSON [-].

    Returns:
        Yes or no [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    if isinstance(value, dict):
        return "major" in value
    return isinstance(value, str) and bool(parse_thread(value))


def look_alikes(thread: Thread) -> tuple[Thread, ...]:
    """Give other threads that start into this one and cannot be told by eye.

    Args:
        thread: One thread [-].

    Returns:
        Threads whose major diameter [mm] is within 0.6 mm and whose pitch is within 0.12 mm [-].

    Source:
        Computed from the thread tables; the limits are proposed here.
    """
    return tuple(t for t in standard_threads()
                 if abs(t.major_mm - thread.major_mm) <= ALIKE_MAJOR_MM
                 and abs(t.pitch_mm - thread.pitch_mm) <= ALIKE_PITCH_MM
                 and t.family != thread.family
                 and not {t.family, thread.family} <= set(PIPE_55))


def _said_side(ctx: Context) -> str:
    """Give the side of the part's thread where a gender says it, else nothing."""
    said = _SIDES.get(ctx.offered_word("gender") or "")
    if said:
        return said
    asked = next((_SIDES[w] for w in ctx.asked_words("gender") if w in _SIDES), "")
    return {"external": "internal", "internal": "external"}.get(asked, "")


def _told_apart(side: Candidates, hand: str | None, face: str | None) -> Candidates:
    """Take the hand and the sealing face from where they are said apart from the thread."""
    if hand in ("left", "lh", "left-hand"):
        side = replace(side, threads=tuple(replace(t, left=True) for t in side.threads))
    if face is None or len(side.threads) < 2:
        return side
    # of the pipe threads only the parallel one of ISO 228-1 seals at a face
    left = tuple(t for t in side.threads if (t.family == "G") == (face != "none"))
    return replace(side, threads=left) if left else side


def _question(*sides: Candidates) -> str:
    """Ask for that which still tells the threads of a side apart."""
    asks = []
    for threads in (side.threads for side in sides):
        pitches = [t.pitch_mm for t in threads]
        asks += [_TAPER] * (len({t.taper for t in threads}) > 1)
        asks += [_FLANKS] * (len({has_55_flanks(t) for t in threads}) > 1)
        asks += [_GAUGE] * (max(pitches) - min(pitches) > PITCH_GAP_MM)
    return ", ".join(dict.fromkeys(asks)) or _FACE


def _on_side(side: Candidates, wanted: str) -> Candidates:
    """Leave out forms that exist on the other side only, where that leaves any."""
    left = tuple(t for t in side.threads if not wanted or t.side in ("", wanted))
    return replace(side, threads=left) if left else side


def _no_standard(attribute: Attribute, wanted: Candidates, have: Candidates,
                 texts: dict[str, Any]) -> Finding | None:
    """Judge a reading that is no standard thread: near what the other side is, or far from it."""
    for side, other in ((wanted, have), (have, wanted)):
        if side.threads:
            continue
        options = other.threads or other.near
        near = [t for t in options if any(_like(t.major_mm, n.major_mm) and _like(
            t.pitch_mm, n.pitch_mm) for n in side.near)]
        if near or not options:
            return unknown("the readings are those of no standard thread", ASK, **texts)
        return differs(f"the readings are far from {options[0].text}: {attribute.why}", **texts)
    return None


def _like(a: Fraction, b: Fraction) -> bool:
    """Tell whether two printed dimensions are the same (tables round to 0.001 mm)."""
    return abs(a - b) <= Fraction("0.002")


def _why_not(wanted: Thread, have: Thread, attribute: Attribute) -> str:
    if wanted.left != have.left:
        return "one is left hand, the other is not"
    if wanted.side and wanted.side == have.side:
        return "both are on the same side"
    error = abs(wanted.pitch_mm - have.pitch_mm) * _TURNS
    if have in look_alikes(wanted):
        return (f"they look alike and start, but are not the same: {float(error):.2f} mm of pitch "
                f"after {_TURNS} turns, or another form of flank or taper")
    return f"another thread: {attribute.why}"
