"""Take back envelopes that this store once sealed: what a restore lost, a phone brings.

A good seal is the proof; author and stamp stay as they were.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.domain.book import one_per_id
from spares.errors import Refused
from spares.sync import rights
from spares.sync import stamp as clocks
from spares.sync.bodies import BODY_VERSION
from spares.sync.change import Change, Envelope, envelope_from_json, mac_is_good, seal
from spares.sync.store import Held, Kept, Store, entry_of
from spares.sync.taking import Result
from spares.sync.turn import Around, Turn


def relay_all(turn: Turn) -> list[Result]:
    """Take the envelopes that a device brings back; any order of them comes to the same."""
    return [relay(turn, raw) for raw in turn.request.relay]


def relay(turn: Turn, raw: Any) -> Result:
    """Take one envelope back: new here, known, or with a stamp or place not known here."""
    try:
        envelope = envelope_from_json(raw)
    except Refused as err:
        return {"id": None, "result": "refused", "code": err.facts["reason"], "say": err.detail}
    if not mac_is_good(envelope, turn.store.key):
        return {"id": envelope.id, "result": "refused", "code": "bad_mac",
                "say": "this was not sealed by this store, or was altered"}
    # Beyond it, so that what its author makes next still gets a greater stamp.
    turn.reach(clocks.time_of(envelope.at) + 1)
    known = turn.store.kept(envelope.id)
    is_trusted = _may_bring(turn, envelope)
    if known is not None and known.outcome == "ok":
        seq = _restamp(turn, envelope, known) if is_trusted else known.seq
        _use_up(turn, envelope)
        return {"id": envelope.id, "result": "dup", "seq": seq}
    if not is_trusted:
        return _hold(turn, envelope, known)
    return {"id": envelope.id, "result": "ok", "seq": _append(turn, envelope)}


def use_up(store: Store, envelope: Envelope) -> None:
    """Note what a number stands for whose change is known here under another one."""
    used = store.kept_as(envelope.dev, envelope.n)
    if used is None or used.outcome == "lost":
        store.mark(Kept(envelope.id, envelope.dev, envelope.n, "dup"))


def _use_up(turn: Turn, envelope: Envelope) -> None:
    """Note it of a number of its own that a device brings, else it is asked for ever."""
    if envelope.dev == turn.device.dev:
        use_up(turn.store, envelope)


def _append(turn: Turn, envelope: Envelope) -> int:
    """Put it into the log; it may wait for the skipper since, and with a smaller stamp."""
    held = turn.store.held(envelope.id)
    if held is not None:
        turn.store.unhold(envelope.id)
    seq = turn.store.append(own_number(turn.store, envelope))
    if held is not None and held.at < envelope.at:
        # What its author made next was stamped above that one.
        write_restamp(turn.store, {"of": envelope.id, "at": held.at, "g": held.g}, turn.now_ms,
                      turn.around)
    return seq


def _may_bring(turn: Turn, envelope: Envelope) -> bool:
    device = turn.device
    if device.revoked:
        return False
    return device.role != "guest" or (envelope.dev in (device.dev, *device.was)
                                      and rights.may_write(device.role, device.grants, envelope))


def _hold(turn: Turn, envelope: Envelope, known: Kept | None) -> Result:
    """Let the skipper decide about what a guest, or one who has left, brings back."""
    if known is not None and known.outcome != "lost":
        _use_up(turn, envelope)
        return {"id": envelope.id, "result": "dup", "was": known.outcome}
    if envelope.kind == "restamp":
        return {"id": envelope.id, "result": "refused", "code": "not_allowed",
                "say": "this device does not set stamps right"}
    own = own_number(turn.store, envelope)
    why = "retired" if turn.device.revoked else "brought by a guest"
    turn.store.hold(Held(own.change(), own.dev, own.at, own.g, why))
    return {"id": envelope.id, "result": "held"}


def _restamp(turn: Turn, envelope: Envelope, known: Kept) -> int:
    """Write down the smaller stamp and the other place of a change accepted twice."""
    _, here = turn.store.rows(known.seq - 1, 1)[0]
    epochs = turn.store.epochs()
    entries = [entry_of(here, known.seq, epochs),
               *(entry_of(row, known.seq, []) for row in turn.store.restamps_of(envelope.id))]
    holds = next(e for e in one_per_id(entries) if e.id == envelope.id)
    new_places = {epoch: seq for epoch, seq in envelope.pos.items() if epoch not in holds.pos}
    if envelope.at >= holds.at and not new_places:
        return known.seq
    body: dict[str, Any] = {"of": envelope.id, "at": clocks.holding(envelope.at, holds.at),
                            "g": envelope.g if envelope.at < holds.at else holds.g}
    if new_places:
        body["pos"] = new_places
    return write_restamp(turn.store, body, turn.now_ms, turn.around)


def write_restamp(store: Store, body: dict[str, Any], now_ms: int, around: Around) -> int:
    """Set a stamp right by a row of the server's own, at its time *now_ms* [ms]; gives its seq."""
    seq, epoch = store.size() + 1, store.epochs()[-1][0]
    low = store.last_at(store.own_dev)
    at = clocks.stamp(now_ms, 0, 0, low, store.own_dev)
    change = Change(around.fresh_id(), store.next_n(store.own_dev), "restamp", BODY_VERSION,
                    around.wall_ms, {"epoch": epoch, "seq": seq - 1}, low, 0, body)
    return store.append(seal(change, dev=store.own_dev, at=at, g=0, pos={epoch: seq},
                             key=store.key))


def own_number(store: Store, envelope: Envelope) -> Envelope:
    """Give the envelope a number of its own if its number was used again meanwhile."""
    used = store.kept_as(envelope.dev, envelope.n)
    if used is None or used.outcome == "lost" or used.id == envelope.id:
        return envelope
    dev = store.stand_in_for(envelope.dev)
    change = replace(envelope.change(), n=store.next_n(dev))
    return seal(change, dev=dev, at=envelope.at[:18] + dev, g=envelope.g, pos=envelope.pos,
                key=store.key)
