"""What is recorded aboard becomes a request that the trip computation takes."""

from __future__ import annotations

from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.trip.restock import restock
from spares.actions.trip.write import new_trip
from spares.domain.draft import setting


def test_stand_ins_in_a_chain_and_of_the_same_part_stop_no_plan(ctx: Context) -> None:
    """One part stands in for the kit's, a second one for that one, and one for itself."""
    first = ctx.named("P05", "part", "part")
    second, third = (write_document(ctx, "part", {"name": name})["doc"] for name in ("B", "C"))
    for part, whose in ((second, first), (third, second), (first, first)):
        write_document(ctx, "stand-in", {"part": part, "for_part": whose, "proof": "measured"})
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    assert restock(ctx, "T1")["lines"]


def test_a_kit_line_without_a_quantity_or_of_a_part_nobody_recorded_stops_no_plan(
        ctx: Context) -> None:
    service = ctx.named("S01", "service", "service")
    ctx.write([setting("kit-line/00000000-0000-4000-8000-000000000002", service=service,
                       part="part/00000000-0000-4000-8000-000000000001", q=1000)])
    write_document(ctx, "kit-line", {"service": service,
                                     "part": ctx.named("P05", "part", "part")})
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    assert restock(ctx, "T1")["lines"]
