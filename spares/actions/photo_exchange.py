"""After a meeting the bytes of photos go both ways: what one end names and has not, the other may.

A photo that was on its way when the net went is fetched, or sent, whole at the next meeting.
"""

from __future__ import annotations

import http.client
from typing import Any
from urllib.parse import quote

import orjson

from spares.actions.context import Context
from spares.actions.her_server import HerServer
from spares.actions.photos import missing_photos, photo_bytes, take_piece
from spares.db.logbook import vessel_head
from spares.db.photo_files import HASH
from spares.errors import Conflict, InvalidInput, NotFound, Stopped, StoreBusy


def exchange_photos(ctx: Context, her: HerServer) -> dict[str, int]:
    """Fetch what is lacking here and send what is lacking there.

    Args:
        ctx: The vessel's log at the office.
        her: Her own server.

    Returns:
        `came` and `went`: how many photos [1].

    Raises:
        StoreBusy: her server does not answer, or wants no more for now; go on another time.
        Stopped: what it answers is no list of photos.
        DiskFull: there is no room for photos here.
    """
    with ctx.store.reading() as session:
        mark, _ = vessel_head(session, ctx.vessel)      # of now: her paper may name an older one
    query = f"?vessel={quote(mark or '')}"
    came = sum(_fetch(ctx, her, one, query) for one in _each(missing_photos(ctx)))
    status, data = her.ask("GET", f"/api/photos/missing{query}")
    there = _told(data) if status == http.client.OK else []
    return {"came": came, "went": sum(_send(ctx, her, one, query) for one in there)}


def _told(data: bytes) -> list[str]:
    try:
        found = _each(orjson.loads(data))
    except (ValueError, KeyError, TypeError) as err:
        raise Stopped("what she lacks of photos cannot be read", stop="malformed") from err
    if not all(isinstance(one, str) and HASH.fullmatch(one) for one in found):
        raise Stopped("what she lacks of photos cannot be read", stop="malformed")
    return found


def _each(missing: Any) -> list[Any]:
    """Give the hashes in a list of photos, each once however many changes name it."""
    return list(dict.fromkeys(one["sha256"] for one in missing["missing"]))


def _fetch(ctx: Context, her: HerServer, sha256: str, query: str) -> bool:
    status, data = her.ask("GET", f"/api/photo/{sha256}{query}")
    if status != http.client.OK:
        return False        # it is still on somebody's phone
    try:
        return bool(take_piece(ctx, sha256, 0, len(data), data)["whole"])
    except (InvalidInput, Conflict):
        return False        # what came is not that photo, or somebody else brings it just now


def _send(ctx: Context, her: HerServer, sha256: str, query: str) -> bool:
    try:
        data, _ = photo_bytes(ctx, sha256)
    except NotFound:
        return False
    status, _ = her.ask("PUT", f"/api/photo/{sha256}{query}&of={len(data)}", data,
                        "application/octet-stream")
    if status == http.client.TOO_MANY_REQUESTS:
        raise StoreBusy("her server takes no more photos for now; the rest goes next time")
    return status == http.client.OK
