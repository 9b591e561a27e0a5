"""After a meeting the bytes of photos go both ways: what one end names and has not, the other may.

A photo that was on its way when the net went is fetched, or sent, whole at the next meeting.
"""

from __future__ import annotations

import http.client
import json
from urllib.parse import quote

from spares.actions.context import Context
from spares.actions.her_server import HerServer
from spares.actions.photos import missing_photos, photo_bytes, take_piece
from spares.errors import InvalidInput, NotFound, StoreBusy


def exchange_photos(ctx: Context, her: HerServer, mark: str) -> dict[str, int]:
    """Fetch what is lacking here and send what is lacking there.

    Args:
        ctx: The vessel's log at the office.
        her: Her own server.
        mark: Her mark [-].

    Returns:
        `came` and `went`: how many photos [1].

    Raises:
        StoreBusy: her server does not answer, or wants no more for now; go on another time.
        DiskFull: there is no room for photos here.
    """
    query = f"?vessel={quote(mark)}"
    came = sum(_fetch(ctx, her, one["sha256"], query)
               for one in missing_photos(ctx)["missing"])
    status, data = her.ask("GET", f"/api/photos/missing{query}")
    there = json.loads(data)["missing"] if status == http.client.OK else []
    return {"came": came, "went": sum(_send(ctx, her, one["sha256"], query) for one in there)}


def _fetch(ctx: Context, her: HerServer, sha256: str, query: str) -> bool:
    status, data = her.ask("GET", f"/api/photo/{sha256}{query}")
    if status != http.client.OK:
        return False        # it is still on somebody's phone
    try:
        return bool(take_piece(ctx, sha256, 0, len(data), data)["whole"])
    except InvalidInput:
        return False        # what came is not that photo


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
