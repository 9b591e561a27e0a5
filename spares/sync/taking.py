"""Take the changes that a device made: each once, in the order of its numbers."""

from __future__ import annotations

from typing import Any

from spares.errors import Refused
from spares.sync import rights
from spares.sync import stamp as clocks
from spares.sync.change import KINDS, Change, content_hash, parse_change, seal
from spares.sync.checks import GREATEST_WHOLE, UUID
from spares.sync.store import Held, Kept
from spares.sync.turn import Turn

Result = dict[str, Any]
#: What the envelope has beside, or other than, the change as the device holds it.
SEALED = ("dev", "n", "at", "g", "pos", "mac")


def find_fork(turn: Turn) -> bool:
    """Say whether the device uses a number again for another change.

    It was put back from its own backup, or copied: one of two devices that
    count on from the same number. Where the log was put back too, the number
    may be free, and greater ones be here than the device says it made.
    """
    store, dev, is_behind = turn.store, turn.device.dev, False
    for raw in turn.request.ops:
        if _number_of(raw) is not None and _id_of(raw) is not None:
            used = store.kept_as(dev, raw["n"])
            if used is None or used.outcome == "lost":
                is_behind = True
            elif used.id not in ("", raw["id"]):
                return True
    return is_behind and store.stamps_around(dev, turn.request.last)[1] != []


def take_all(turn: Turn) -> list[Result]:
    """Take the changes of a request; those after a gap in the numbers are left for later."""
    results = []
    for raw in sorted(turn.request.ops, key=lambda raw: _number_of(raw) or 0):
        result = take(turn, raw)
        if result is None:
            break
        results.append(result)
    return results


def take(turn: Turn, raw: Any) -> Result | None:
    """Take one change; None if numbers before it are missing."""
    number, ident = _number_of(raw), _id_of(raw)
    if number is None:
        return _refusal(None, ident, "bad_shape", "the change has no proper number")
    used = turn.store.kept_as(turn.device.dev, number)
    if used is not None and used.outcome != "lost":
        return _again(turn, used, raw, number)
    if used is None and number != turn.store.next_n(turn.device.dev):
        return None
    if ident is None:
        return _refuse(turn, raw, Refused("id: must be a UUID in lower case", reason="bad_shape",
                                          pointer="#/id"))
    known = turn.store.kept(ident)
    if known is not None and known.outcome != "lost":
        return _known_elsewhere(turn, raw, known)
    try:
        change = parse_change(raw)
    except Refused as err:
        return _refuse(turn, raw, err)
    try:
        return _decide(turn, change)
    except Refused as err:
        # A log that is put back may decide otherwise: its place among the author's is kept free.
        return _refuse(turn, raw, err, _stamp(turn, change)[0])


def _decide(turn: Turn, change: Change) -> Result:
    device = turn.device
    held = "retired" if device.revoked else device.holds
    begins = rights.is_begun(change) and turn.store.begins(change.body["doc"], change.body["f"])
    if not rights.may_write(device.role, device.grants, change) and not (
            begins and rights.begins_lot(device.role, change)):
        if not rights.could_write_once(device, change, begins=begins):
            raise Refused("this device has no right to make such a change", reason="not_allowed",
                          pointer="#/kind")
        held = held or "earlier role"
    if change.kind == "void":
        target = turn.store.kept(change.body["of"])
        if rights.check_void(device, target) == "held":
            held = held or "what it undoes is not here"
    turn.store.check(change)
    at, grade = _stamp(turn, change)
    if held:
        turn.store.hold(Held(change, device.dev, at, grade, held))
        return {"n": change.n, "id": change.id, "result": "held"}
    seq = turn.store.size() + 1
    epoch = turn.store.epochs()[-1][0]
    envelope = seal(change, dev=device.dev, at=at, g=grade, pos={epoch: seq}, key=turn.store.key)
    turn.store.append(envelope)
    return {"n": change.n, "id": change.id, "result": "ok", "seq": seq,
            "sealed": {name: getattr(envelope, name) for name in SEALED}}


def _stamp(turn: Turn, change: Change) -> tuple[str, int]:
    dev = turn.device.dev
    beyond = clocks.is_beyond(change.after, turn.now_ms)
    # Numbers above it can be here: after a restore others bring back what came later.
    before, above = turn.store.stamps_around(dev, change.n)
    low = clocks.floor_of(before, change.after, turn.now_ms)
    at = clocks.stamp(turn.now_ms, turn.request.now, change.t, low, dev)
    if above:
        at = clocks.fit_below(at, low, change.n, above, dev)
    return at, clocks.grade(turn.request.now, change.t, good=turn.clock_is_good,
                            known_doubtful=change.g == 1, after_beyond=beyond)


def _again(turn: Turn, used: Kept, raw: Any, number: int) -> Result:
    if used.outcome == "dup":
        # What became of it since counts, not that it was known when it came under this number.
        used = turn.store.kept(used.id) or used
    if used.outcome in ("ok", "held") and _hash_of(raw) != used.sha:
        return _refusal(number, used.id, "id_reused", "this id was used for another change")
    return _first_answer(used, number)


def _known_elsewhere(turn: Turn, raw: Any, known: Kept) -> Result:
    """Answer a change that is kept under another number: the device was given a new one."""
    number = raw["n"]
    is_other = known.outcome in ("ok", "held") and _hash_of(raw) != known.sha
    if is_other and not _is_same_act(raw, known):
        return _refuse(turn, raw, Refused("this id was used for another change",
                                          reason="id_reused", pointer="#/id"))
    turn.store.mark(Kept(known.id, turn.device.dev, number, "dup"))
    answer = _first_answer(known, number)
    if is_other and known.outcome == "ok":      # what stands there is not what this device said
        (_, there), = turn.store.rows(known.seq - 1, 1)
        answer["sealed"] = there.to_json()
    return answer


def _is_same_act(raw: Any, known: Kept) -> bool:
    """Say whether an act that has a name of its own was recorded on two devices.

    Its id is made from the name (version 5): a loan's slip that was taken in twice, each time
    at another minute, perhaps into another locker. The first holds.
    """
    return known.id[14] == "5" and raw.get("kind") == known.kind and _hash_of(raw) is not None


def _first_answer(kept: Kept, number: int) -> Result:
    result: Result = {"n": number, "id": kept.id, "result": "dup", "was": kept.outcome}
    if kept.outcome == "ok":
        result |= {"seq": kept.seq, "sealed": {name: getattr(kept, name) for name in SEALED}}
    elif kept.outcome == "refused":
        result |= {"code": kept.code, "say": kept.say}
    return result


def _refuse(turn: Turn, raw: Any, err: Refused, at: str = "") -> Result:
    """Refuse a change; its number is used up, so that it delays no other, and its stamp *at*."""
    number, ident = raw["n"], _id_of(raw)
    code = err.facts["reason"]
    kind = next((kind for kind in KINDS if kind == raw.get("kind")), "")
    turn.store.mark(Kept(ident or "", turn.device.dev, number, "refused", kind=kind,
                         at=at, code=code, say=err.detail))
    return _refusal(number, ident, code, err.detail, err.facts.get("pointer"))


def _refusal(number: int | None, ident: str | None, code: str, say: str,
             pointer: str | None = None) -> Result:
    result: Result = {"n": number, "id": ident, "result": "refused", "code": code, "say": say}
    return result if pointer is None else {**result, "pointer": pointer}


def _hash_of(raw: Any) -> str | None:
    try:
        return content_hash(parse_change(raw))
    except Refused:
        return None


def _number_of(raw: Any) -> int | None:
    number = raw.get("n") if type(raw) is dict else None
    return number if type(number) is int and 1 <= number <= GREATEST_WHOLE else None


def _id_of(raw: Any) -> str | None:
    ident = raw.get("id") if type(raw) is dict else None
    return ident if type(ident) is str and UUID.fullmatch(ident) else None
