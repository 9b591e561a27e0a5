"""What the server answers to a device that wants to be brought together with the log.

    request -> clocks (turn.py) -> where its cursor stands -> what it brings back (relaying.py)
            -> what it made (taking.py) -> what it lacks

All of it is one transaction of the store, committed before the answer is sent.
The rules are told in PROTOCOL.md beside this file.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import orjson

from spares.errors import Conflict, NotFound, Stopped
from spares.sync.change import seal
from spares.sync.cursor import Cursor, read_cursor, write_cursor
from spares.sync.relaying import relay_all
from spares.sync.request import PROTO, SCHEMA, SyncRequest, parse_request
from spares.sync.stamp import DAY_MS, fit_below
from spares.sync.store import OFFICE, Device, Kept, Store
from spares.sync.taking import Result, find_fork, take_all
from spares.sync.turn import Around, Turn, begin

#: A page of changes is cut at about this size [bytes].
PAGE_BYTES = 2 * 1024 * 1024
#: What a retired device may still hand in, and for how long.
MOST_HELD = 2000
#: How many numbers a device may have had: one that begins anew for ever would cost ever more.
MOST_NUMBERS = 500
HANDING_IN_MS = 90 * DAY_MS


def answer_sync(store: Store, device: Device, obj: Any, around: Around) -> dict[str, Any]:
    """Answer one request of a device whose token was good.

    Returns:
        The answer as plain JSON. With `stop` (fork) in it the device got a new
        number and nothing else was taken; it is to be sent as a conflict.

    Raises:
        Stopped: nothing was taken; `stop` is malformed, wrong_boat, revoked,
            server_old.
    """
    request = parse_request(obj)
    if device.revoked == "lost":
        raise Stopped("this device was reported lost; it has no access", stop="revoked")
    if request.vessel != store.vessel:
        raise Stopped("these are the records of another vessel", stop="wrong_boat")
    device = _own_number(store, device, request)
    _learn_epochs(store, device, request)
    if _is_of_another(device, request):     # it does not know its number yet: first it is told
        request = replace(request, ops=[], gone=[], last=device.last)
    turn = begin(store, device, request, around)
    if find_fork(turn):
        return _fork(turn)
    store.save_device(replace(device, inst=request.inst, last=request.last))
    if device.revoked:
        return _hand_in(turn)
    _note_gone(turn)
    # First: where the cursor shows that the log was put back by hand, what it brings stands in
    # the new epoch alone. In the one before, others had seen other rows in those places.
    start, is_current = _place(store, request)
    relayed = relay_all(turn)
    others = store.size()       # the rows behind it are what it makes now, and knows by its results
    results = take_all(turn) if is_current else []
    return _answer(turn, results, relayed, (start, others), is_current)


def approve(store: Store, ident: str) -> int:
    """Put a held change into the log, with the stamp of its arrival; gives its seq.

    The stamp is smaller where that of a greater number of its device came to be so.

    Raises:
        NotFound: nothing is held under this id.
        Conflict: it came into the log meanwhile.
    """
    held = store.held(ident)
    if held is None:
        raise NotFound("no such change is waiting for a decision", change=ident)
    known = store.kept(ident)
    if known is not None and known.outcome == "ok":
        raise Conflict("the change is in the log already", change=ident)
    # What its author made next may hold by a smaller stamp since than when it was held.
    before, above = store.stamps_around(held.dev, held.change.n)
    at = fit_below(held.at, before, held.change.n, above, held.dev) if above else held.at
    store.unhold(ident)
    pos = {store.epochs()[-1][0]: store.size() + 1}
    return store.append(seal(held.change, dev=held.dev, at=at, g=held.g, pos=pos, key=store.key))


def reject(store: Store, ident: str, say: str = "") -> None:
    """Refuse a held change; it stays visible, with what the skipper has to *say* to it.

    Raises:
        NotFound: nothing is held under this id.
    """
    held = store.held(ident)
    if held is None:
        raise NotFound("no such change is waiting for a decision", change=ident)
    store.unhold(ident)
    store.mark(Kept(ident, held.dev, held.change.n, "refused", kind=held.change.kind,
                    at=held.at, code="rejected", say=say))


def _own_number(store: Store, device: Device, request: SyncRequest) -> Device:
    """Give an emptied device a new number, and write off what it had made and lost."""
    if not device.inst or device.inst == request.inst:
        return device
    renewed = _renewed(store, device, "emptied")
    _write_off(store, device.dev, store.next_n(device.dev), device.last)
    return renewed


def _is_of_another(device: Device, request: SyncRequest) -> bool:
    """Say whether what a device made and lost is told under a number that it had before.

    Taken as told it would use up numbers that the device never learns to be its own.
    """
    return request.dev not in ("", device.dev)


def _learn_epochs(store: Store, device: Device, request: SyncRequest) -> None:
    """Note where the rows that an office has in common with this log stood in its own epochs.

    Its cursor is the proof of what is in common: nothing is believed of rows behind it.
    """
    if request.epochs and OFFICE not in device.grants:
        raise Stopped("only an office says where rows stood in its own log", stop="malformed",
                      pointer="#/epochs")
    cursor = read_cursor(request.cursor or "", store.key)
    if cursor is None or device.revoked or store.head(cursor.seq) != cursor.head:
        return
    if not request.relay and store.size() - cursor.seq > request.want:
        return      # it asks again, and says more then: all rows are looked through each time
    store.learn_epochs([(epoch, min(end, cursor.seq)) for epoch, end in request.epochs])


def _renewed(store: Store, device: Device, why: str) -> Device:
    if len(device.was) >= MOST_NUMBERS:
        raise Stopped("this device began anew too often; it has to be paired again",
                      stop="not_paired")
    return store.renew(device, why)


def _fork(turn: Turn) -> dict[str, Any]:
    device = _renewed(turn.store, turn.device, "forked")
    return {"stop": "fork", "dev": device.dev, "next_n": turn.store.next_n(device.dev),
            "say": "This phone was put back to an earlier state; it goes on under a new number."}


def _hand_in(turn: Turn) -> dict[str, Any]:
    """Let a device that left the crew hand in what it still had; it gets nothing back."""
    device, request = turn.device, turn.request
    # After a restore it is asked for what it handed in before; it would not know by itself.
    brings = (request.ops or request.relay or request.gone or _is_of_another(device, request)
              or turn.store.missing(device.dev, request.last))
    too_late = turn.now_ms - device.revoked_ms > HANDING_IN_MS
    if not brings or too_late or len(_held_of(turn)) >= MOST_HELD:
        raise Stopped("this device has left the crew", stop="revoked")
    _note_gone(turn)
    relayed = relay_all(turn)
    return {**_outside(turn), "results": take_all(turn), "relayed": relayed, "changes": [],
            "cursor": None, "more": False, **_numbers(turn)}


def _place(store: Store, request: SyncRequest) -> tuple[int, bool]:
    """Find where the device stands: the row after which it lacks all, and whether in this log.

    A cursor of the present epoch that is not in the log shows that the log was
    put back by hand: from here on it is another epoch.
    """
    if request.cursor is None:
        return 0, True
    cursor = read_cursor(request.cursor, store.key)
    if cursor is None:
        return 0, False
    if cursor.epoch == store.epochs()[-1][0]:
        if store.head(cursor.seq) == cursor.head:
            return cursor.seq, True
        store.begin_epoch()
    return 0, False


def _answer(turn: Turn, results: list[Result], relayed: list[Result], lacks: tuple[int, int],
            is_current: bool) -> dict[str, Any]:
    store, request, (start, others) = turn.store, turn.request, lacks
    is_old = request.schema < SCHEMA
    rows = [] if is_old else _page(turn, start, others)
    end = rows[-1]["seq"] if rows else start
    end = store.size() if end == others else end
    epoch = store.epochs()[-1][0]
    answer = {
        **_outside(turn), "results": results, "relayed": relayed, "changes": rows,
        "cursor": _cursor(store, epoch, end), "seen": {"epoch": epoch, "seq": end},
        "more": not is_old and end < store.size(), **_numbers(turn)}
    if is_old:
        # What it has stays as it is until the app is the present one: it could not pull anew.
        answer |= {"reload": True, "cursor": request.cursor}
        if (kept := read_cursor(request.cursor or "", store.key)) is not None:
            answer["seen"] = {"epoch": kept.epoch, "seq": kept.seq}
    elif not is_current:
        answer["reset"] = True
    return answer


def _outside(turn: Turn) -> dict[str, Any]:
    epochs = turn.store.epochs()
    return {"proto": PROTO, "schema": SCHEMA, "vessel": turn.store.vessel,
            "epoch": epochs[-1][0], "epochs": [list(pair) for pair in epochs],
            "boot": turn.around.boot, "now": turn.now_ms, "dev": turn.device.dev,
            "role": turn.device.role, "clock": "good" if turn.clock_is_good else "doubt"}


def _numbers(turn: Turn) -> dict[str, Any]:
    """Tell the device which of its numbers are here, lacking, or waiting for the skipper."""
    dev, store = turn.device.dev, turn.store
    missing = store.missing(dev, turn.request.last)
    return {"next_n": store.next_n(dev), "need": [list(pair) for pair in missing],
            "held": _held_of(turn)}


def _held_of(turn: Turn) -> list[str]:
    """Give what waits of a device under all the numbers that it had."""
    return turn.store.held_of(turn.device.dev, *turn.device.was)


def _page(turn: Turn, start: int, last: int) -> list[dict[str, Any]]:
    """Give the rows of a page as they go over the wire."""
    rows: list[dict[str, Any]] = []
    size = 0
    for seq, written in turn.store.written_rows(start, min(turn.request.want, last - start)):
        size += len(written)
        if rows and size > PAGE_BYTES:
            break
        rows.append({"seq": seq, "envelope": orjson.loads(written)})
    return rows


def _cursor(store: Store, epoch: str, seq: int) -> str:
    head = store.head(seq)
    if head is None:
        raise NotFound("the log has no such row", seq=seq)
    return write_cursor(Cursor(epoch, seq, head), store.key)


def _note_gone(turn: Turn) -> None:
    for first, last in turn.request.gone:
        _write_off(turn.store, turn.device.dev, first, last)


def _write_off(store: Store, dev: str, first: int, last: int) -> None:
    """Mark numbers as lost, so that the hole is shown and stops nothing."""
    for low, high in store.missing(dev, last):
        if high >= first:
            store.write_off(dev, max(low, first), high)
