"""Requirements and specs in words, and cautions as answers carry them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from spares.domain.cautions import (
    NO_WORDS,
    SIGN,
    Caution,
    cautions_for,
    closing_sentence,
    known_and_other,
)

if TYPE_CHECKING:
    from spares.domain.fit import KindSheet

_SENSES = {"cw": "clockwise", "ccw": "anticlockwise"}
_BESIDE = {"at_rpm": "r/min", "at_bar": "bar"}      # at what a flow was measured


def claim_text(claim: dict[str, Any] | None) -> str:
    """Say what a claim asks or states, such as `92.0 mm ± 0.3`."""
    if not claim or claim.get("value") is None:
        return "not measured"
    value, unit = claim["value"], f" {claim['unit']}" if claim.get("unit") else ""
    if isinstance(value, dict) and {"min", "max"} <= set(value):
        text = f"{value['min']} to {value['max']}{unit}"
    elif isinstance(value, dict):
        plain = str(value.get("value", ""))
        first = f"{_SENSES.get(plain, plain)}{unit}" if "value" in value else ""
        # In an order of its own: tables made anew from the log hold the same parts in another.
        rest = [f"at {value[key]} {at}" for key, at in _BESIDE.items() if key in value]
        rest += [f"{_word(key)} {_word(value[key])}"
                 for key in sorted(value.keys() - _BESIDE.keys() - {"value"})]
        text = ", ".join(filter(None, (first, *rest)))
    elif isinstance(value, list):
        text = " or ".join(str(one) for one in value) + unit
    else:
        text = f"{value}{unit}"
    sign = {"at-least": "at least ", "at-most": "at most "}.get(claim.get("cmp") or "", "")
    tol = f" ± {claim['tol']}" if claim.get("tol") not in (None, "") else ""
    return f"{sign}{text}{tol}"


def attribute_label(sheets: Mapping[str, KindSheet], kind: str | None, attribute: str) -> str:
    """Call an attribute as the kind's sheet does, else by its own words."""
    known = sheets.get(kind or "")
    line = known.attributes.get(attribute) if known is not None else None
    return line.label if line is not None else _word(attribute).capitalize()


def caution_lines(words: Iterable[str]) -> list[dict[str, str]]:
    """Give the cautions that some hazards call for; the closing sentence ends them.

    A word for which no caution is written stands there as it is: a phone may have named it.
    """
    known, other = known_and_other(words)
    found = [{"sign": SIGN, "mark": one.mark, "text": one.text} for one in cautions_for(known)]
    found += [{"sign": SIGN, "mark": word, "text": NO_WORDS} for word in other]
    return [*found, {"sign": SIGN, "mark": "", "text": closing_sentence()}]


def ticks(cautions: tuple[Caution, ...], which: str) -> list[str]:
    """Give the lines to tick of some cautions, each once: `shut_off` or `after`."""
    return list(dict.fromkeys(line for one in cautions for line in getattr(one, which)))


def _word(text: Any) -> str:
    return str(text).replace("_", " ").replace("-", " ")
