"""How well a trip is protected, in words."""

from __future__ import annotations

from spares.domain.trip.words import of_hundred
from spares.paper.language import Words


def hundred_text(say: Words, share: float) -> str:
    """Write a protection [1] as trips of a hundred, never rounded up."""
    trips = of_hundred(share)
    return say.decimal(trips) if trips[0].isdigit() else say("trip.fewer")
