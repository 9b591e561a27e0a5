"""The id of a change that is made at this computer."""

from __future__ import annotations

import secrets
from uuid import UUID

_TIME_BITS = 48
_VERSION, _VARIANT = 7 << 76, 2 << 62


def fresh_id(ms: int) -> str:
    """Make an id that begins with the time: a UUID of version 7 (RFC 9562, 5.7).

    Those of one day lie side by side in the index of a store: of five hundred that are written
    together each would else go to a page of its own, and a card wears with every page.

    Args:
        ms: The computer's clock, right or wrong [ms since 1970].

    Example:
        >>> fresh_id(1645557742000)[:15]
        '017f22e2-79b0-7'
    """
    chance = secrets.randbits(74)
    return str(UUID(int=(ms % (1 << _TIME_BITS)) << 80 | _VERSION | (chance >> 62) << 64 | _VARIANT
                    | chance % (1 << 62)))
