"""The way into the crew: pairings of this run of the server, and how often one may ask."""

from __future__ import annotations

import secrets
import time
from threading import Lock
from typing import Any

from spares.actions.context import Context
from spares.actions.devices import GRANTS, LONGEST_NAME, ROLES, pair
from spares.db.engine import Store
from spares.errors import InvalidInput, NotFound
from spares.sync.pairing import Pairing, Pairings
from spares.sync.rates import Rate

#: 256 random bits.
TOKEN_BYTES = 32
#: What one device may send of photos in an hour, after as much at once [bytes].
PHOTO_BYTES_AN_HOUR = 100_000_000


class Gate:
    """What one run of the server remembers of those who ask; nothing of it is stored."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._pairings = Pairings(secrets.token_bytes)
        self._rates = {"sync": Rate(burst=120, a_minute=60), "pair": Rate(burst=50, a_minute=50),
                       "collect": Rate(burst=120, a_minute=60),
                       "look": Rate(burst=60, a_minute=60), "lost": Rate(burst=10, a_minute=1),
                       "photo": Rate(PHOTO_BYTES_AN_HOUR, PHOTO_BYTES_AN_HOUR // 60)}

    def spend(self, what: str, key: str, cost: int = 1) -> None:
        """Count one request of a device or address, or *cost* of what is counted.

        Raises:
            Stopped: slow_down; there were too many.
        """
        with self._lock:
            self._rates[what].spend(key, _now_ms(), cost)

    def begin(self, ctx: Context, role: str, grants: list[str], name: str) -> dict[str, Any]:
        """Begin a pairing; the answer alone has the code.

        Raises:
            NotAllowed: only the skipper does this.
        """
        ctx.require_skipper()
        if role not in ROLES or not set(grants) <= set(GRANTS) or len(name) > LONGEST_NAME:
            raise InvalidInput.at("#/role", f"one of {', '.join(ROLES)} is needed")
        with self._lock:
            begun = self._pairings.begin(ctx.vessel, role, tuple(grants), name, _now_ms())
            return {**_shown(begun.pairing), "code": begun.code, "secret": begun.secret}

    def look(self, ctx: Context, ident: str) -> dict[str, Any]:
        """Tell how a pairing stands.

        Raises:
            NotFound: there is none.
            NotAllowed: only the skipper asks this.
        """
        with self._lock:
            return _shown(self._own(ctx, ident))

    def decide(self, ctx: Context, ident: str, *, take: bool) -> dict[str, Any]:
        """Confirm or refuse the phone that showed the code.

        Raises:
            NotFound, Conflict, NotAllowed: as told by the pairing.
        """
        with self._lock:
            self._own(ctx, ident)
            return _shown(self._pairings.decide(ident, take, _now_ms()))

    def claim(self, shown: str, name: str) -> dict[str, Any]:
        """Let a phone show a code.

        Raises:
            Stopped: wrong_code, slow_down, pairing_used, pairing_over.
        """
        with self._lock:
            pairing, claim = self._pairings.claim(shown, name.strip()[:LONGEST_NAME], _now_ms())
            return {"claim": claim, "digits": pairing.digits, "state": "waiting",
                    "expires_in_s": _left_s(pairing)}

    def collect(self, store: Store, claim: str) -> tuple[dict[str, Any], str | None]:
        """Give a phone that was confirmed its device and token; once.

        Returns:
            The answer, and the token; None while the skipper has not decided.

        Raises:
            Stopped: pairing_refused, pairing_over.
        """
        with self._lock:
            pairing = self._pairings.collect(claim, _now_ms())
            if pairing.state != "confirmed":
                return {"state": "waiting"}, None
            token = secrets.token_urlsafe(TOKEN_BYTES)
            pair(store, pairing.vessel, token, name=pairing.name, role=pairing.role,
                 grants=pairing.grants)
            pairing.state = "done"
            return {"state": "paired"}, token

    def _own(self, ctx: Context, ident: str) -> Pairing:
        ctx.require_skipper()
        pairing = self._pairings.look(ident, _now_ms())
        if pairing.vessel != ctx.vessel:
            raise NotFound("there is no such pairing; begin another")
        return pairing


def _shown(pairing: Pairing) -> dict[str, Any]:
    return {"pairing": pairing.ident, "role": pairing.role, "grants": list(pairing.grants),
            "state": pairing.state, "name": pairing.name, "digits": pairing.digits or None,
            "second_try": pairing.second_try, "expires_in_s": _left_s(pairing)}


def _left_s(pairing: Pairing) -> int:
    return max(0, pairing.until_ms - _now_ms()) // 1000


def _now_ms() -> int:
    """Give a clock that nobody can set [ms]."""
    return time.monotonic_ns() // 1_000_000
