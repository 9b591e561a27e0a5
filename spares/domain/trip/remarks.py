"""What a person should know beside the number: dates, condition, place, what nobody knows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from spares.domain.dates import add_days
from spares.domain.trip.buying import packed
from spares.domain.trip.fits import Fits
from spares.domain.trip.request import Lot, TripRequest
from spares.domain.trip.stock import Shared
from spares.domain.trip.words import say_quantity

if TYPE_CHECKING:
    from spares.domain.trip.lines import Held


def remarks_of(
    line: Held, buy: int, request: TripRequest, fits: Fits,
    lots: Mapping[str, Sequence[Lot]], shared: Shared,
) -> Iterator[str]:
    """Say what there is to say about one line of the list."""
    part = line.need.part
    if not line.need.has_figure:
        yield "no failure figure"
    for row in line.need.rows:
        if not row.units or not any(size for size, _ in row.pieces):
            nothing = "takes no pieces" if row.units else "counts no units in use"
            yield f"failure figure{f' of {row.machine}' if row.machine else ''} {nothing}"
        if row.renewed_by is not None and row.weibull is None:
            yield f"renewal by {row.renewed_by} not counted: a rate that is constant has no age"
    yield from _about_pieces(line, request, fits, lots)
    stands_in: dict[str, int] = {}
    for taken in shared.taken.get(part, ()):
        if taken.bin.part != part:
            stands_in[taken.bin.part] = stands_in.get(taken.bin.part, 0) + taken.quantity
    for other, quantity in stands_in.items():
        yield f"counts {say_quantity(quantity)} of {other} as stand-in"
    yield from _not_standing_in(line, fits, lots)
    yield from _about_buying(line, buy, request, fits)


def _not_standing_in(
    line: Held, fits: Fits, lots: Mapping[str, Sequence[Lot]]
) -> Iterator[str]:
    """Name the stand-ins aboard that serve none of the line's needs, and why."""
    declared = fits.part(line.need.part).stand_ins if line.wants else ()
    if not declared:
        return
    serving = {part for want in line.wants for part in want.choices}
    for other in declared:
        lying = sum(max(0, lot.quantity or 0) for lot in lots.get(other, ()) if lot.aboard)
        if other in serving or not lying:
            continue
        why = ("it fits nothing as fitted today" if other in fits.stranded
               else f"no place here that takes {line.need.part} is known to take it")
        yield f"{say_quantity(lying)} of {other} not counted as stand-in: {why}"


def _about_pieces(
    line: Held, request: TripRequest, fits: Fits, lots: Mapping[str, Sequence[Lot]]
) -> Iterator[str]:
    part, trip = line.need.part, request.trip
    arrives = add_days(trip.departs_on, trip.days)
    first = min((want.day for want in line.wants), default=arrives)
    if part in fits.stranded:
        yield "fits nothing as fitted today"
    for lot in lots.get(part, ()):
        place = f" in {lot.locker}" if lot.locker else ""
        if not lot.counted:
            yield f"not counted{place}"
            continue
        if not lot.quantity:
            continue
        many = say_quantity(lot.quantity)
        if not lot.aboard:
            yield f"{many}{place} not aboard"
        elif lot.condition == "suspect":
            yield f"{many}{place} suspect"
        elif lot.expires is not None and lot.expires < arrives:
            yield f"{many}{place} usable to {lot.expires} only"
        elif lot.condition == "used-good":
            yield f"{many}{place} used, good"
        counts = lot.aboard and lot.condition != "suspect" and (
            lot.expires is None or lot.expires >= first)
        if counts and not lot.reachable and line.need.windows[0].minimum:
            yield f"{many}{place} not reachable under way"
        if lot.aboard and lot.reserved:
            yield f"{say_quantity(min(lot.reserved, lot.quantity or lot.reserved))}{place} reserved"


def _about_buying(line: Held, buy: int, request: TripRequest, fits: Fits) -> Iterator[str]:
    if not line.short:
        return
    part, limits = fits.part(line.need.part), request.trip.limits
    if part.lead_days is None:
        yield "lead time not known"
    if part.cost is None:
        yield "price not known" + (", not counted against the limit"
                                   if limits.cost is not None else "")
    if part.mass_g is None and limits.mass_g is not None:
        yield "mass not known, not counted against the limit"
    if buy > line.short:
        yield f"sold in packs of {say_quantity(part.pack)}"
    wanted = packed(part, line.short)
    if buy < wanted and line.need.part not in request.trip.accepted:
        yield f"{say_quantity(wanted - buy)} left out by the limit"
