"""Bring a phone into the crew: a code that is good once and for ten minutes.

The skipper begins a pairing, with the role already chosen. The phone shows that it saw
the code; both screens then show the same four digits, and the skipper confirms. Only
hashes of codes and claims are kept, in memory: a restart ends what was not finished.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from uuid import UUID

from spares.errors import Conflict, NotFound, Stopped

#: Crockford's letters for base 32: none that is easily taken for another.
LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CODE_LENGTH = 13            # 65 bits
SECRET_BYTES = 16
GOOD_FOR_MS = 10 * 60 * 1000
MOST_TRIES = 5
MOST_AT_ONCE = 20
_MISREAD = str.maketrans("OIL", "011", "- ")

Random = Callable[[int], bytes]


@dataclass
class Pairing:
    """One pairing; `state` is open, claimed, confirmed, done, refused, expired or locked."""

    ident: str
    vessel: str
    role: str
    grants: tuple[str, ...]
    until_ms: int
    shown: frozenset[str]
    name: str = ""
    state: str = "open"
    digits: str = ""
    claim: str = ""
    tries: int = 0
    second_try: bool = False


@dataclass(frozen=True)
class Begun:
    """What only the skipper's screen may show of a pairing just begun."""

    pairing: Pairing
    code: str
    secret: str


class Pairings:
    """The pairings of one run of the server; *random* gives bytes nobody can guess."""

    def __init__(self, random: Random) -> None:
        self._random = random
        self._all: dict[str, Pairing] = {}

    def begin(self, vessel: str, role: str, grants: tuple[str, ...], name: str,
              now_ms: int) -> Begun:
        """Begin a pairing; gives its code for typing and its secret for a picture code."""
        self._forget(now_ms)
        number = int.from_bytes(self._random(16), "big")
        code = "".join(LETTERS[number >> 5 * place & 31] for place in range(CODE_LENGTH))
        secret = self._random(SECRET_BYTES).hex()
        ident = str(UUID(bytes=self._random(16), version=4))
        shown = frozenset({_hash(code), _hash(secret)})
        made = Pairing(ident, vessel, role, grants, now_ms + GOOD_FOR_MS, shown, name)
        self._all[ident] = made
        return Begun(made, f"{code[:5]}-{code[5:10]}-{code[10:]}", secret)

    def look(self, ident: str, now_ms: int) -> Pairing:
        """Give a pairing as it stands.

        Raises:
            NotFound: there is none, or it is long over.
        """
        self._expire(now_ms)
        if ident not in self._all:
            raise NotFound("there is no such pairing; begin another")
        return self._all[ident]

    def claim(self, shown: str, name: str, now_ms: int) -> tuple[Pairing, str]:
        """Let a phone that shows a code stand before the skipper; gives its claim.

        Raises:
            Stopped: `stop` is wrong_code, slow_down (too many tries), pairing_used or
                pairing_over.
        """
        self._expire(now_ms)
        asked = _hash(_plain(shown))
        # Each pairing is looked at, so that the time taken tells nothing.
        found = [one for one in self._all.values() if asked in one.shown]
        if not found:
            self._count_try()
        pairing = found[0]
        if pairing.state == "locked":
            raise _too_many()
        if pairing.state in ("expired", "refused"):
            raise Stopped("this code is no longer good; begin another pairing",
                          stop="pairing_over")
        if pairing.state != "open":
            pairing.second_try = True
            raise Stopped("this code was used by another phone; tell the skipper",
                          stop="pairing_used")
        claim = self._random(32).hex()
        pairing.claim, pairing.state = _hash(claim), "claimed"
        pairing.name = name or pairing.name
        pairing.digits = f"{int.from_bytes(self._random(4), 'big') % 10_000:04d}"
        pairing.until_ms = now_ms + GOOD_FOR_MS
        return pairing, claim

    def decide(self, ident: str, take: bool, now_ms: int) -> Pairing:
        """Let the skipper confirm or refuse the phone that stands there.

        Raises:
            NotFound: there is no such pairing.
            Conflict: no phone has shown the code, or it was decided before.
        """
        pairing = self.look(ident, now_ms)
        if pairing.state == "claimed" or (pairing.state == "open" and not take):
            pairing.state = "confirmed" if take else "refused"
        elif pairing.state != ("confirmed" if take else "refused"):
            raise Conflict(f"this pairing is {pairing.state}; nothing can be decided")
        return pairing

    def collect(self, claim: str, now_ms: int) -> Pairing:
        """Give a phone its pairing: claimed (it waits), or confirmed, and then done.

        Raises:
            Stopped: `stop` is wrong_code, pairing_refused, pairing_used or pairing_over.
        """
        self._expire(now_ms)
        asked = _hash(claim)
        found = [one for one in self._all.values() if one.claim and one.claim == asked]
        if not found:
            raise Stopped("this claim is not known; show the code again", stop="pairing_over")
        pairing = found[0]
        if pairing.state == "refused":
            raise Stopped("the skipper did not take this phone", stop="pairing_refused")
        if pairing.state not in ("claimed", "confirmed"):
            raise Stopped("this pairing is over; begin another", stop="pairing_over")
        return pairing

    def _count_try(self) -> None:
        """Count a wrong code against all that wait for one: nobody knows which was meant."""
        waiting = [one for one in self._all.values() if one.state in ("open", "locked")]
        for one in waiting:
            one.tries += 1
            one.state = "locked" if one.tries > MOST_TRIES else one.state
        if waiting and all(one.state == "locked" for one in waiting):
            raise _too_many()
        raise Stopped("this code is not right", stop="wrong_code")

    def _expire(self, now_ms: int) -> None:
        for one in self._all.values():
            if now_ms >= one.until_ms and one.state in ("open", "claimed", "confirmed", "locked"):
                one.state = "expired"

    def _forget(self, now_ms: int) -> None:
        self._expire(now_ms)
        old = [one.ident for one in self._all.values() if now_ms > one.until_ms + GOOD_FOR_MS]
        for ident in [*old, *list(self._all)[:-MOST_AT_ONCE]]:
            self._all.pop(ident, None)


def _too_many() -> Stopped:
    return Stopped("too many wrong codes; begin another pairing", stop="slow_down",
                   retry_after_s=GOOD_FOR_MS // 1000)


def _plain(shown: str) -> str:
    """Take away how a code was typed: dashes, small letters, O for 0."""
    text = shown.strip()
    return text if len(text) == 2 * SECRET_BYTES else text.upper().translate(_MISREAD)


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
