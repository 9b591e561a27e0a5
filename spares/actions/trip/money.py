"""Money of a plan: one currency for its sums, and never two added together.

A price in another currency comes into a sum only by a rate that a person wrote down for
the trip; otherwise it is said apart.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import field
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, NamedTuple

from spares.actions.amounts import thousandths
from spares.domain.aboard import Aboard, Record

Price = dict[str, Any]
_WHOLE = 1000


class Purse(NamedTuple):
    """The currency of a plan and what one unit of others is worth in it; None: nobody says."""

    currency: str | None
    rates: dict[str, Decimal] = field(default_factory=dict)

    def minor(self, price: Price | None) -> int | None:
        """Give a price in the plan's currency [minor units]; None where nobody can say."""
        if not price:
            return None
        if price["currency"] == self.currency:
            return int(price["minor"])
        rate = self.rates.get(price["currency"])
        if rate is None:
            return None
        return int((price["minor"] * rate).to_integral_value(ROUND_HALF_UP))

    def text(self, price: Price | None) -> str | None:
        """Give the same as decimal text of whole units."""
        minor = self.minor(price)
        return None if minor is None else f"{minor // 100}.{minor % 100:02}"


def purse(aboard: Aboard, trip: Record) -> Purse:
    """Choose the currency: the trip's, that of its limits, or the one of most prices."""
    prices = trip.prices or {}
    currency = prices.get("currency") or (trip.limits or {}).get("currency")
    if not currency:
        used = Counter(part.price["currency"] for part in aboard.all("part") if part.price)
        currency = min(used, key=lambda one: (-used[one], one), default=None)
    return Purse(currency, {name: Decimal(rate) for name, rate in
                            (prices.get("rates") or {}).items()})


def cost(part: Record, quantity: Any) -> Price | None:
    """Give what so many pieces cost, in the currency of their price; None if nobody knows."""
    if not part.price:
        return None
    whole = part.price["minor"] * thousandths(quantity, "buy", least=0)
    return {"minor": (2 * whole + _WHOLE) // (2 * _WHOLE), "currency": part.price["currency"]}


def summed(prices: Iterable[Price | None]) -> list[dict[str, str]]:
    """Add up prices, each currency for itself."""
    sums: Counter[str] = Counter()
    for price in prices:
        if price:
            sums[price["currency"]] += price["minor"]
    return [{"amount": f"{minor // 100}.{minor % 100:02}", "currency": currency}
            for currency, minor in sorted(sums.items())]
