"""Five phones and the real server with a net between them that does all that nets do.

A set test: what was known to be taken is in the final log (none lost), each once (none double),
and what nobody knows of is counted apart: some of it arrived. That a test of this kind shows
faults and never their absence, its authors say themselves (Jepsen, checker `set-full`).
"""

from __future__ import annotations

import threading
from collections import Counter
from pathlib import Path
from typing import Any

from spares.domain.stock import fold
from tests.conftest import LONG
from tests.sync.bad_net import FAULTS, BadNet
from tests.sync.database import DatabaseStore
from tests.sync.near_server import NearServer
from tests.sync.server_process import Server
from tests.sync.test_real_server import VESSEL, Sailor, _sync_to_the_end, begun

PHONES, SYNCS = (5, 1_000) if LONG else (5, 8)
LATE_S = 60.0 if LONG else 0.3          # how late a request may come


class ByBadNet:
    """The server as phones see it through the net."""

    def __init__(self, server: Server, net: BadNet) -> None:
        self.near, self.net = server, net
        self.seen = Server(server.path)
        self.seen.port = net.port

    def post(self, path: str, body: Any, token: str = "") -> tuple[int, Any]:
        """Ask through the net; gives status and answer, if one comes."""
        return self.seen.post(path, body, token)

    def pair(self, role: str) -> dict[str, Any]:
        """Pair a phone, before it goes away."""
        return self.near.pair(role)


def rows_of(server: NearServer) -> list[tuple[int, Any]]:
    """Read the log beside the server that writes it."""
    kept = DatabaseStore.__new__(DatabaseStore)
    kept.vessel, kept.store = VESSEL, server.opened
    return kept.rows(0, 10**6)


def live(sailors: list[Sailor]) -> None:
    """Let all tap and sync so many times, at once."""
    def work(sailor: Sailor) -> None:
        for _ in range(SYNCS):
            for _ in range(sailor.rng.choice([0, 0, 1, 2]) if LONG else 2):
                sailor.tap()
            sailor.sync()
    threads = [threading.Thread(target=work, args=(sailor,)) for sailor in sailors]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def test_nothing_known_to_be_taken_is_lost_or_doubled_by_a_bad_net(tmp_path: Path) -> None:
    server = NearServer(begun(tmp_path / "store.sqlite"))
    server.start()
    net = BadNet(server.port, 5, LATE_S)
    try:
        sailors = [Sailor(ByBadNet(server, net), "skipper" if not who else "crew", 1 + who)
                   for who in range(PHONES)]
        live(sailors)
        net.close()
        assert {*FAULTS, ""} == net.befell.keys()
        check_set(server, sailors, is_quiet=False)
        for sailor in sailors:
            sailor.server = server
        _sync_to_the_end(sailors)
        check_set(server, sailors, is_quiet=True)
        cells = fold(sailors[0].phone.copy.entries())
        assert cells and all(fold(one.phone.copy.entries()) == cells for one in sailors)
    finally:
        net.close()
        server.kill()


def check_set(server: NearServer, sailors: list[Sailor], *, is_quiet: bool) -> None:
    """See that each change known to be taken is there once; when all is quiet, all are known."""
    there = Counter(one.id for _, one in rows_of(server) if one.kind != "set")
    made = {ident for sailor in sailors for ident in sailor.tapped}
    known = {ident for sailor in sailors for ident in sailor.answered}
    assert not known - there.keys(), "known to be taken, and lost"
    assert set(there.values()) == {1}, "taken twice"
    assert there.keys() <= made, "nobody made it"
    if is_quiet:
        assert there.keys() == known == made
        assert not any(sailor.phone.outbox for sailor in sailors)
    else:
        unknown = made - known
        print(f"{len(made)} made, {len(known)} known to be taken; of {len(unknown)} that nobody "
              f"knows of {len(unknown & there.keys())} arrived")
