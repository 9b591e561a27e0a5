"""Who asks: a person at the server itself, or a paired device by its token.

The plain page on this computer asks nobody. From the boat's net nothing of the vessel is
shown or taken without the token of a device, but the pairing of one.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from ipaddress import ip_address

from flask import Flask, Response, current_app, g, request

from spares.actions.context import one_called
from spares.actions.gate import Gate
from spares.actions.identify import Known, identify, turn_away
from spares.errors import DiskFull, NotAllowed, Stopped, StoreBusy, StoreDamaged
from spares.web.net import came_by_net
from spares.web.store import store_of

COOKIE, COOKIE_HERE = "__Host-spares", "spares-here"
#: What a phone may ask before it belongs to the crew.
OPEN = ("/api/pair", "/api/pair/collect")
#: What a device asks as itself, even on the server's own screen.
AS_ITSELF = ("/api/sync", "/api/devices/me", "/api/devices/here", "/api/codes", "/api/handover")


@dataclass(frozen=True)
class Asker:
    """Who asks: `here` on the server itself, `device` a paired one, or both."""

    here: bool
    device: Known | None

    @property
    def is_server(self) -> bool:
        """Say whether a person at the server asks, with the skipper's rights."""
        return self.here and self.device is None


def register(app: Flask) -> None:
    """Ask every request of *app* who it is from."""
    app.extensions["spares_gate"] = Gate()
    app.before_request(_check)


def asker() -> Asker:
    """Give who asks; `_check` found out."""
    found: Asker = g.asker
    return found


def is_here() -> bool:
    """Say whether the request came by the port that only this computer can reach."""
    if came_by_net():
        return False
    try:
        # Without an address nobody came over a net: the application was called as it is.
        return not request.remote_addr or ip_address(request.remote_addr).is_loopback
    except ValueError:
        return False


def shown_token() -> str | None:
    """Give the token that the request shows, in its cookie or as a program does."""
    kind, _, token = request.headers.get("Authorization", "").partition(" ")
    if kind.lower() == "bearer":
        return token.strip()
    return request.cookies.get(COOKIE_HERE if is_here() else COOKIE)


def set_token(response: Response, token: str, lasts_s: int) -> None:
    """Let the browser keep the token where no script can read it."""
    here = is_here()
    response.set_cookie(COOKIE_HERE if here else COOKIE, token, max_age=lasts_s, path="/",
                        secure=not here, httponly=True, samesite="Strict")


def gate() -> Gate:
    """Give what this run remembers of those who ask."""
    found: Gate = current_app.extensions["spares_gate"]
    return found


def _check() -> Response | None:
    here = is_here()
    if here and request.path not in AS_ITSELF:
        g.asker = Asker(True, None)
        return None
    is_api = request.path == "/api" or request.path.startswith("/api/")
    is_open = request.path in OPEN or not is_api
    token = shown_token() or ""
    # Who shows nothing is looked up like who shows something that is nobody's.
    known = identify(store_of(current_app).get(), token, request.args.get("vessel")) \
        if token or not is_open else None
    if here and known is not None and known.revoked and request.path != "/api/sync":
        known = None        # whoever sits at the server may take this browser in anew
    g.asker = Asker(here, known)
    # The client's own files are open: the page that pairs is one of them, and none holds data.
    if is_open or here and known is None:
        return None
    if known is None:
        raise Stopped("this device is not paired", stop="not_paired")
    if known.revoked == "lost":
        _count_turned_away(known)
        raise Stopped("this device was reported lost; it has no access", stop="revoked")
    if known.revoked and request.path != "/api/sync":
        raise Stopped("this device has left the crew", stop="revoked")
    _check_vessel(known)
    return None


def _count_turned_away(known: Known) -> None:
    """Count that a lost device asked, where that costs nobody anything.

    Each count waits for the disk: one that asks without end is counted now and then.
    """
    with suppress(Stopped, DiskFull, StoreBusy, StoreDamaged):
        gate().spend("lost", known.token_hash)
        turn_away(store_of(current_app).get(), known)


def _check_vessel(known: Known) -> None:
    asked = request.args.get("vessel")
    if asked is not None and one_called([(known.vessel, known.mark or "")], asked) is None:
        raise NotAllowed("this device has no rights on that vessel")
