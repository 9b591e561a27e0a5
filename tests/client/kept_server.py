"""The demo vessel at a server that only writes down what it would write, and on a phone."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import Any

from sqlmodel import col, select

from spares.actions.accepting import accept
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.exchange import exchange
from spares.actions.left_over import left_over
from spares.actions.lending import take_slip
from spares.actions.lent import lent
from spares.actions.moved import moved
from spares.actions.ordering import arrived, cancel_order, ordered, want
from spares.actions.put import put
from spares.actions.trail_closing import trail_accept
from spares.actions.trailing import trail_begin, trail_look
from spares.db.tables import FieldVersion
from spares.domain.draft import Draft
from spares.web.verbs import perform
from tests.client.lent_slips import BORROWED, LENT, slip_from_her
from tests.client.node_process import Node
from tests.client.trail_acts import PLACES
from tests.stores import DAY_ZERO

ID = "00000000-0000-4000-8000-0000000000f1"
TO_UNDO = [f"00000000-0000-4000-8000-0000000000e{place}" for place in range(8)]


class Handed(Exception):
    """The door was reached; nothing is written, so there is nothing to answer."""


class Watched(Context):
    """A context whose door only writes down what is handed to it."""

    handed: list[Draft] = []

    def write(self, drafts: Sequence[Draft]) -> list[Any]:
        self.handed.extend(drafts)
        raise Handed


def begin(ctx: Context) -> None:
    """Orders in every state, a risk that is taken, and acts that TO_UNDO names."""
    for part, quantity in (("P034", 2), ("P041", 5), ("P037", 1)):
        want(ctx, part, quantity, trip="T1")
    ordered(ctx, ["O2", "O3"], promised_on="2027-04-01")
    arrived(ctx, "O3")
    want(ctx, "P055", 1)
    cancel_order(ctx, "O4")
    accept(ctx, "T1", "P034", by="Anna", note="two are aboard", change_id=TO_UNDO[0])
    left_over(ctx, "P016", "sell", note="boatyard", change_id=TO_UNDO[1])
    left_over(ctx, "P016", "keep", change_id=TO_UNDO[2])
    exchange(ctx, "ENG-04", "P008", old_to="L03", change_id=TO_UNDO[3])
    put(ctx, "P034", "L17", 2, condition="used-good", expires="2031-06", change_id=TO_UNDO[4])
    want(ctx, "P040", 3, change_id=TO_UNDO[5])
    for machine, places in (("HBR", PLACES), ("AIR", []), ("WIN", PLACES[:1])):
        trail_begin(ctx, machine, "blade", missing=2, of_pieces=6, places=places)
    trail_look(ctx, "WIN-T1", "1", 2)
    trail_accept(ctx, "AIR-T1", by="Tove", why="seen to leave")
    trail_begin(ctx, "BLG", "flap", missing=1, places=PLACES[:1], change_id=TO_UNDO[7])
    lent(ctx, "P041", "L17", "HESTEREJE", 3, change_id=LENT)
    lent(ctx, "P034", "L17", "Neighbour", 1)
    (there,) = (one.no for one in ctx.aboard().all("locker") if one.lent_to == "Neighbour")
    moved(ctx, "P034", there, "L17", 1)         # brought back, without a slip
    take_slip(ctx, slip_from_her(BORROWED, (2000, 1000)), locker="L03")
    crate = write_document(ctx, "locker", {"name": "Crate"})["doc"]
    write_document(ctx, "locker", {"gone": True}, doc=crate, change_id=TO_UNDO[6])


def made_by_server(ctx: Watched, verb: str, body: dict[str, Any]) -> list[dict[str, Any]]:
    ctx.handed.clear()
    with suppress(Handed):
        perform(ctx, verb, {**body, "change_id": ID})
    return [{"kind": one.kind, "body": based(ctx, one)} for one in ctx.handed]


def based(ctx: Context, draft: Draft) -> dict[str, Any]:
    """Give the body with the versions that it stands on, as the door would name them."""
    if draft.kind != "set" or "base" in draft.body:
        return dict(draft.body)
    base: dict[str, list[str]] = {}
    with ctx.store.reading() as session:
        for one in session.exec(select(FieldVersion).where(
                col(FieldVersion.vessel) == ctx.vessel, col(FieldVersion.is_head),
                col(FieldVersion.doc) == draft.body["doc"])):
            if one.field in draft.body["f"]:
                base.setdefault(one.field, []).append(one.change_id)
    return {**draft.body, "base": {name: sorted(heads) for name, heads in base.items()}}


def made_by_phone(node: Node, verb: str, body: dict[str, Any]) -> list[dict[str, Any]]:
    told = node.ask("drafts", path=f"do/{verb}", body=body, id=ID, today=DAY_ZERO)
    found = told.get("answer")
    assert found, (verb, body, told)
    ids = [one["id"] for one in found]
    assert ID in ids and len(set(ids)) == len(ids)
    return [{"kind": one["kind"], "body": one["body"]} for one in found]
