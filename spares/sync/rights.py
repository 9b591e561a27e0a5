"""Who may write what: skipper, crew, guest.

The skipper writes everything. The crew records what it does (movements, counts, services,
readings, exchanges), tries parts, takes photos, answers doubts, undoes its own changes and
writes notes, and marks fit points on photos. It begins the trail of a broken piece and says
where it looked, what it found on the walk-round, what it drained, read and tightened, and what
count it doubts; that pieces stay missing is for the skipper to accept. A guest looks; the
skipper may let one take.
"""

from __future__ import annotations

from typing import Any, Protocol

from spares.domain.documents import DOCUMENTS
from spares.domain.identity import kind_of
from spares.errors import Refused
from spares.sync.checks import refuse
from spares.sync.store import Device, Kept

CREW_KINDS = frozenset({"took", "put", "landed", "moved", "counted", "convert", "service",
                        "reading", "exchange", "fit-check", "photo", "settle", "void"})
#: What may be undone; a `set` is undone by a further `set`.
VOIDABLE = frozenset({"took", "put", "landed", "moved", "counted", "convert", "service",
                      "reading", "exchange", "settle", "same", "photo"})
#: The only field that the crew may write.
CREW_FIELDS = frozenset({"note"})
#: What the crew writes whole: where it looked, what it found, drained, read, tightened, doubts.
CREW_DOCS = frozenset({"trail-place", "finding", "drain-record", "gauge-reading", "test-run",
                       "daily-run", "joint-record", "count-doubt", "lesson", "photo-mark"})
#: What the crew says of a trail when it begins one. Written beside what stands, it is one of
#: two values, of which the worse holds: so a device apart can never lift the mark with it.
BEGINS_TRAIL = frozenset(DOCUMENTS["trail"]) - {"accepted"}
#: A gauge that nobody wrote down yet begins without limits: those are for the skipper.
BEGINS_GAUGE = frozenset({"no", "name", "machine", "unit", "place"})
#: What it says of a trail afterwards: what the first run showed.
OF_TRAIL = CREW_FIELDS | {"first_run"}


class Written(Protocol):
    """What is asked of a change, or of the draft of one."""

    @property
    def kind(self) -> str:
        """Give its kind."""

    @property
    def body(self) -> dict[str, Any]:
        """Give its body."""


def may_write(role: str, grants: tuple[str, ...], change: Written) -> bool:
    """Say whether a role may write this change at all."""
    if role == "skipper":
        return change.kind != "restamp"
    if role == "crew":
        return change.kind in CREW_KINDS or change.kind == "set" and _crew_may_set(change.body)
    return "take" in grants and change.kind in ("took", "void")


def _crew_may_set(body: dict[str, Any]) -> bool:
    kind, named = kind_of(body["doc"]), set(body["f"])
    if named <= CREW_FIELDS or kind in CREW_DOCS:
        return True
    if kind == "trail" and named <= OF_TRAIL:
        return True
    begins = {"trail": BEGINS_TRAIL, "gauge": BEGINS_GAUGE}.get(kind, frozenset())
    begun = named <= begins | {"gone"} and body["f"].get("gone", False) is False
    return bool(begins) and begun and not any((body.get("base") or {}).values())


def begins_lot(role: str, change: Written) -> bool:
    """Say whether a crew member begins a lot, as for a dated thing that is put away.

    The lot must not be there yet, or as somebody else began it: what is known of it afterwards
    is the skipper's.
    """
    return role == "crew" and is_begun(change)


def is_begun(change: Written) -> bool:
    """Say whether a change has the shape of one that begins a lot."""
    return (change.kind == "set" and change.body["doc"].startswith("lot/")
            and not change.body.get("base"))


def could_write_once(device: Device, change: Written, *, begins: bool = False) -> bool:
    """Say whether an earlier role of the device allowed this change.

    *begins*: what it sets is not there yet.
    """
    return any(may_write(role, device.grants, change) or begins and begins_lot(role, change)
               for role in device.roles_before)


def check_void(device: Device, target: Kept | None) -> str:
    """Say what to do with an undoing: "ok" or "held".

    Raises:
        Refused: bad_value for what cannot be undone, not_allowed for another's change.
    """
    if target is None or not target.kind:
        # The change may still be on its way; only the skipper may undo the unseen.
        return "ok" if device.role == "skipper" else "held"
    if target.kind not in VOIDABLE:
        raise refuse("bad_value", "#/body/of", f"a change of kind {target.kind} is not undone so")
    if device.role != "skipper" and target.dev not in (device.dev, *device.was):
        raise Refused("only its author or the skipper may undo a change", reason="not_allowed",
                      pointer="#/body/of")
    return "ok"
