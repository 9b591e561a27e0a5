"""Judge hoses and clamps: bore on the spigot, wall, standard, range on the hose as it sits."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import reaches
from spares.domain.fit.context import Context, place_number
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import (
    is_amount,
    judge_absent,
    judge_quantity,
    judge_word,
    listed,
    show,
)
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim, Place
from spares.units import format_number

_TIGHTER_MM, _WIDER_MM = Fraction(1), Fraction("0.5")     # bore against spigot; proposed here
_MARGIN_MM = Fraction(1)
_ANY_HOSE_C = 50        # what the poorest water hose bears; common practice, no source
_NEXT_STANDARD = re.compile(r"[;,/]|\band\b|(?=\b(?:iso|sae|uscg|abyc|nmma)\b)")
_SILENT = {"class", "type", "sae", "en", "bs", "din"}
_DENIED = re.compile(r"\b(?:not|no|non|without|except)\b")


@judge("spigot")
def judge_spigot(ctx: Context, attribute: Attribute, asked: Claim,
                 offered: Claim | None) -> Finding:
    """Judge the bore of a hose on a spigot: 1.0 under to 0.5 mm over."""
    spigot, bore = reading.amount(attribute, asked), ctx.offered_amount("bore")
    text = f"spigot {spigot.text()}"
    if bore is None:
        return unknown("the bore of the hose was not measured", "bore of the hose: cone, or the "
                       "printed line", required=text)
    low, high = spigot.amount - _TIGHTER_MM, spigot.amount + _WIDER_MM
    texts: dict[str, Any] = {"required": f"{text}: bore {format_number(low, 1, 1)} to "
                             f"{format_number(high, 1, 1)} mm", "offered": bore.text()}
    return _inside(attribute, bore.amount, low, high, spigot.u + bore.u, texts)


def some_hose_softens(place: Place) -> bool:
    """Tell whether a place is hotter than every hose bears."""
    return place.temperature_c is not None and place_number(place, "temperature_c") > _ANY_HOSE_C


@judge("hose_heat", amounts=True, may_fail=some_hose_softens)
def judge_hose_heat(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge the heat that a hose bears; which places soften some hose, *may_fail* tells."""
    return judge_quantity(ctx, attribute, asked, offered)


@judge("wall", by_place=True)
def judge_wall(ctx: Context, attribute: Attribute, asked: Claim | None,
               offered: Claim) -> Finding:
    """Judge the wall; a suction hose must not collapse, a stiffer one always serves."""
    have = _plain(attribute, listed(offered.value)[0])
    wanted = [_plain(attribute, v) for v in listed(asked.value)] if asked else ["wire"]
    texts: dict[str, Any] = {"required": " or ".join(wanted), "offered": have}
    if asked is not None and wanted == ["soft"] and have == "wire":
        return match("stiffer than asked", **texts).warn("a wire hose bends less: look at the run")
    if have in wanted:
        return match("as asked", **texts)
    return differs(f"not as asked: {attribute.why}", **texts)


@judge("standard")
def judge_standard(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge a printed standard: all that is asked of one must stand beside that one."""
    wanted, have = listed(asked.value), listed(offered.value)
    texts: dict[str, Any] = {"required": " or ".join(map(show, wanted)),
                             "offered": ", ".join(map(show, have))}
    if any(reading.is_absent(v) for v in have):
        return judge_word(ctx, attribute, asked, offered)
    if any(_DENIED.search(str(v).casefold()) for v in have):
        return unknown("what is printed denies something: name what it does meet",
                       attribute.measure, **texts)
    printed = [part for v in have for part in _standards(v)]
    asks = [_standards(w) for w in wanted]
    if any(all(any(one <= p for p in printed) for one in ask) for ask in asks):
        return match("printed as asked", **texts)
    if any(p < one for ask in asks for one in ask for p in printed):
        return unknown("the class is not printed", attribute.measure, **texts)
    return differs(f"another standard or class: {attribute.why}", **texts)


@judge("on_diameter")
def judge_on_diameter(ctx: Context, attribute: Attribute, asked: Claim,
                      offered: Claim | None) -> Finding:
    """Judge the hose, as it sits on the spigot, against the range of the clamp."""
    hose, claim = reading.amount(attribute, asked), ctx.offered_claim("range")
    text = f"hose {hose.text()} on the spigot"
    if claim is None:
        return unknown("the range of the clamp is not known", "range: stamp on the band",
                       required=text)
    return _range_holds(ctx, attribute, hose, claim, text)


@judge("span")
def judge_span(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge a range: it must cover the one that is asked, or the diameter that is asked."""
    absent = judge_absent(attribute, asked, offered)
    if absent:
        return absent
    if not isinstance(asked.value, dict) or not {"min", "max"} & set(asked.value):
        try_span = isinstance(asked.value, str) and re.search(r"\d\s*(-|–|…|to)\s*\d", asked.value)
        if not try_span:
            hose = reading.amount(attribute, asked)
            return _range_holds(ctx, attribute, hose, offered, f"covers {hose.text()}")
    want, have = reading.bounds(attribute, asked), _offered_ends(attribute, offered)
    texts: dict[str, Any] = {"required": _span_text(want), "offered": _span_text(have)}
    if None in want[:2] or None in have[:2]:
        return unknown("an end of the range is not known", attribute.measure, **texts)
    low, high = (reaches(sign * want[n].amount, sign * have[n].amount,     # type: ignore
                         want[n].u + have[n].u)      # type: ignore
                 for n, sign in ((0, 1), (1, -1)))
    if low and high:
        return match("covers the range asked", **texts)
    if low is False or high is False:
        return differs(f"does not cover the range asked: {attribute.why}", **texts)
    return unknown("read too coarsely to tell", attribute.measure, **texts)


def _range_holds(ctx: Context, attribute: Attribute, hose: Amount, claim: Claim,
                 text: str) -> Finding:
    low, high, _ = ends = _offered_ends(ctx.sheet.attributes["range"], claim)
    texts: dict[str, Any] = {"required": text, "offered": _span_text(ends)}
    if low is None or high is None:
        return unknown("an end of the range is not known", "range: stamp on the band", **texts)
    u = hose.u + max(low.u, high.u)
    found = _inside(attribute, hose.amount, low.amount + _MARGIN_MM, high.amount - _MARGIN_MM, u,
                    texts)
    third = (high.amount - low.amount) / 3
    if found.result == "match" and not (low.amount + third <= hose.amount <= high.amount - third):
        return found.warn("outside the middle third of its range, which is best")
    return found


def _offered_ends(attribute: Attribute,
                  claim: Claim) -> tuple[Amount | None, Amount | None, bool]:
    """Give the ends of an offered range; a number alone says neither."""
    plain = reading.part(claim.value, "value")
    return (None, None, True) if plain is not None and is_amount(attribute, plain) \
        else reading.bounds(attribute, claim)


def _inside(attribute: Attribute, value: Fraction, low: Fraction, high: Fraction, u: Fraction,
            texts: dict[str, Any]) -> Finding:
    results = (reaches(value, low, u), reaches(-value, -high, u))
    if all(results):
        return match("inside", **texts)
    if False in results:
        return differs(f"outside: {attribute.why}", side="less" if value < low else "more",
                       **texts)
    return unknown("read too coarsely to tell", attribute.measure, **texts)


def _span_text(ends: tuple[Amount | None, Amount | None, bool]) -> str:
    return " to ".join("?" if end is None else end.text() for end in ends[:2])


def _standards(value: Any) -> list[set[str]]:
    """Part a printed line into its standards, each with the classes that stand beside it."""
    lines = _NEXT_STANDARD.split(str(value).casefold())
    return [words for words in map(_tokens, lines) if words]


def _tokens(text: str) -> set[str]:
    # a class of a letter and a digit is one word: A2 is not what A1 and B2 say together
    return {w for w in re.findall(r"[a-z]\d{1,2}(?!\d)|[a-z]+|\d+", text) if w not in _SILENT}


def _plain(attribute: Attribute, value: Any) -> str:
    said = reading.word(value)
    return attribute.aliases.get(said, said)
