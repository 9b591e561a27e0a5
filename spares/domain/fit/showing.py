"""Print what is asked and what is offered as a person would write it."""

from __future__ import annotations

from spares.domain.fit import reading
from spares.domain.fit.compare import comparator, show_tolerance
from spares.domain.fit.judges.plain import show
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim


def required_text(attribute: Attribute, asked: Claim) -> str:
    """Print what is asked where no judge did.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].

    Returns:
        The text [-].

    Raises:
        InvalidInput: the claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    value, how = asked.value, comparator(attribute, asked)
    if attribute.type == "flow" and not isinstance(value, list):
        return _flow_text(attribute, asked)
    if attribute.type != "quantity" or reading.is_absent(value):
        return " or ".join(map(show, value)) if isinstance(value, list) else show(value)
    if how == "range":
        low, high, _ = reading.bounds(attribute, asked)
        return " to ".join("?" if end is None else end.text() for end in (low, high))
    if how == "one-of":
        values = value if isinstance(value, list) else [value]
        return " or ".join(reading.amount(attribute, asked, v).text() for v in values)
    wanted = reading.amount(attribute, asked)
    if how in ("at-least", "at-most"):
        return f"{'≥' if how == 'at-least' else '≤'} {wanted.text()}"
    return show_tolerance(wanted, reading.tolerance(attribute, asked, wanted.amount))


def _flow_text(attribute: Attribute, asked: Claim) -> str:
    """Print a flow that is asked with the speed and the pressure at which it is asked."""
    if comparator(attribute, asked) == "range":
        return show(asked.value)
    beside = [f"at {show(n)} {unit}" for name, unit in (("at_rpm", "r/min"), ("at_bar", "bar"))
              if (n := reading.part(asked.value, name)) is not None]
    return " ".join([f"≥ {reading.amount(attribute, asked).text()}", *beside])


def offer_text(attribute: Attribute, offered: Claim | None) -> str | None:
    """Print what is offered where no judge did; None where nothing is."""
    if offered is None or offered.value is None:
        return None
    plain = reading.part(offered.value, "value")
    if attribute.type == "quantity" and not isinstance(plain, list | dict | bool | type(None)) \
            and not reading.is_absent(plain):
        return reading.amount(attribute, offered).text()
    return show(offered.value)
