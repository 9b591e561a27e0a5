"""Label codes set aside for the device that asks."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context, in_turn
from spares.errors import InvalidInput

MOST = 100


@in_turn
def reserve_codes(ctx: Context, what: str, count: int) -> dict[str, Any]:
    """Set label codes aside for the device that asks.

    Raises:
        InvalidInput: no such kind, or too many at once.
        NotAllowed: codes for lockers and machines are the skipper's.
    """
    from spares.db import codes  # late, as below: most who import this only look

    if what not in codes.LENGTHS or not 1 <= count <= MOST:
        raise InvalidInput.at("#/what", f"lot or locker, and 1 to {MOST} codes")
    if what == "locker":
        ctx.require_skipper()
    with ctx.store.writing(ctx.vessel) as session:
        return {"codes": codes.set_aside(session, ctx.vessel, ctx.device, what, count)}


def reserved_codes(ctx: Context) -> set[str]:
    """Give the codes that are set aside for devices."""
    from spares.db import codes

    with ctx.store.reading() as session:
        return codes.reserved(session, ctx.vessel)
