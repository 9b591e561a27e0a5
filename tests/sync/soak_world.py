"""Five phones and the real server for a month, with all that befalls them there.

The crew of crew_world.py: people leave, come back, look on as guests; phones are put back from
their own copies. Around it: a bad net, real backups put back, damaged ones refused, a disk
that fills, a computer that is switched off or loses time, another version of the program,
requests of a stranger's making. Phones run the client's modules and the server's by turns.
"""

from __future__ import annotations

import json
import random
import shutil
import zipfile
from collections import Counter
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import Any

from flask import Flask
from sqlalchemy import event

from spares.db.backup import make_backup
from spares.db.engine import Store, open_store
from spares.db.restore import restore_backup
from spares.errors import InvalidInput, Stopped
from spares.sync import exchange, request
from spares.web import sync as web_sync
from tests.sync.crew_world import CREW, CrewWorld
from tests.sync.database import DatabaseServer, DatabaseStore
from tests.sync.upgrades import NEWER, OLDER
from tests.sync.world import LOCKERS, PARTS, START_MS, VESSEL, YEARS_11_MIN

DAY_MIN = 24 * 60
STRANGER = "stranger"


class SoakStore(DatabaseStore):
    """A store whose backups are real ones, on a disk that can be full."""

    room: int | None = None         # pages that the file may have

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.now = lambda: datetime.now(UTC)
        self._watch(self.store)

    def _watch(self, store: Store) -> None:
        @event.listens_for(store.engine, "connect")
        def limited(connection: Any, _: Any) -> None:
            connection.execute(f"PRAGMA max_page_count={self.room or 10**9}").close()
        store.engine.dispose()

    def _reopen(self) -> None:
        self.store = open_store(self.path)
        self._watch(self.store)

    def backup(self) -> Path:
        """Make a backup as the program does."""
        if DatabaseStore.empty is None:
            return super().backup()
        self.copies += 1
        file = self.folder / f"{self.copies}.zip"
        make_backup(self.store, file, self.now())
        return file

    def put_back(self, backup: Path, *, by_hand: bool = False) -> None:
        """Put a backup back as the program does; a damaged one leaves all as it was."""
        self.store.close()
        if by_hand:
            with zipfile.ZipFile(backup) as archive:
                self.path.with_name(self.path.name + "-wal").unlink(missing_ok=True)
                self.path.write_bytes(archive.read("data.sqlite"))
            self._reopen()
            return
        whole, before = backup.read_bytes(), self.path.read_bytes()
        broken = backup.with_name("broken.zip")
        place = len(whole) * self.copies % 97 * len(whole) // 97 % len(whole)
        broken.write_bytes(whole[:place] + bytes([whole[place] ^ 4]) + whole[place + 1:])
        with suppress(InvalidInput):
            restore_backup(broken, self.path, self.now())
            raise AssertionError("a damaged backup was put back")
        assert self.path.read_bytes() == before, "a refused backup changed the store"
        restore_backup(backup, self.path, self.now())
        self._reopen()

    def switch_off(self) -> None:
        """Start again from what lies on the disk, as after a process that was killed."""
        left = {beside: self.path.with_name(self.path.name + beside).read_bytes()
                for beside in ("", "-wal") if self.path.with_name(self.path.name + beside).exists()}
        self.store.close()
        for beside, data in left.items():
            self.path.with_name(self.path.name + beside).write_bytes(data)
        self._reopen()

    @contextmanager
    def full(self, pages_left: int) -> Any:
        """Let the disk be full meanwhile, but for some pages."""
        connection = self.store.engine.raw_connection()
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.close()
        self.room = pages + pages_left
        self.store.engine.dispose()
        yield
        self.room = None
        self.store.engine.dispose()


class SoakServer(DatabaseServer):
    """The application, asked as phones ask it: by HTTP and token."""

    def __init__(self, app: Flask, fresh: Any, folder: Path) -> None:
        super().__init__(VESSEL, bytes(32), fresh, folder)
        self.store.store.close()
        self.store = SoakStore(VESSEL, bytes(32), folder)
        self.app, self.program, self.pages = app, OLDER, {}
        app.extensions["spares_store"] = self

    def get(self) -> Store:
        """Give the open store, as the application asks for it."""
        return self.store.store

    def stop(self, why: str) -> None:
        """Write nothing more: nothing here may come to that."""
        raise AssertionError(why)

    def is_damaged(self) -> bool:
        """Say that the file is whole: nothing here damages it."""
        return False

    def post(self, token: str, body: Any, true_ms: int) -> Any:
        """Ask to be brought together, with any body."""
        web_sync.clock_ms = lambda: true_ms - self._behind_ms
        web_sync.BOOT = self._boot
        self.store.now = lambda: datetime.fromtimestamp(true_ms / 1000, UTC)
        for module in (exchange, request):
            module.SCHEMA = self.program
        try:
            return self.app.test_client().post(
                "/api/sync", data=body, content_type="application/json",
                headers={"Authorization": f"Bearer {token}", "X-Spares": "1"})
        finally:
            for module in (exchange, request):
                module.SCHEMA = OLDER

    def handle(self, token: str, request: dict[str, Any], true_ms: int) -> dict[str, Any]:
        """Answer a sync request at true time [ms].

        Raises:
            Stopped: nothing was taken.
        """
        page = {"schema": self.pages.get(token.rstrip("'"), OLDER)}
        answer = self.post(token, json.dumps({**request, **page}), true_ms)
        if answer.status_code == 200 or answer.json.get("stop") == "fork":
            return answer.json
        assert answer.status_code in (401, 403, 426, 507), answer.json
        raise Stopped(answer.json["detail"], stop=answer.json["stop"])


@dataclass
class Soak(CrewWorld):
    """The month: what happened how often, and what the server's clock said."""

    happened: Counter[str] = field(default_factory=Counter)
    server_ms: int = 0
    stranger_made: int = 0

    def one_more(self, happens: dict[str, int]) -> None:
        """Let the next thing happen, one of these, some more often than others."""
        rng, server = self.rng, self.server
        self.minute += rng.choice([0.5, 3, 20, 300])
        who, one = rng.randrange(5), rng.choice(CREW)
        what, = rng.choices(list(happens), list(happens.values()))
        self.happened[what] += 1
        HAPPENS[what](self, who if what in ("act", "sync", "note") else one)
        now_ms = server.store.clock().last_ms
        assert now_ms >= self.server_ms or "put back" in what, "the server's time went back"
        self.server_ms = now_ms

    def note(self, who: int) -> None:
        """Write something about a part, in sight of what was read of it."""
        self.record(who, "set", {"doc": self.rng.choice(PARTS), "f": {"note": f"{self.minute}"},
                                 "base": {}})

    def full_disk(self, who: int) -> None:
        """Let somebody sync while the disk is full."""
        with self.server.store.full(self.rng.randrange(3)):
            self.sync(who)

    def put_back_some(self, _: int) -> None:
        """Put some backup back."""
        if self.server.backups:
            self.put_log_back(self.rng.choice(list(self.server.backups)))

    def put_back_by_hand(self, _: int) -> None:
        """Copy an old file over the present one; whom it does not know is paired again."""
        server = self.server
        if not server.backups:
            return
        known = {ident for ident in self.saved if server.kept(ident) is not None}
        server.restore(self.rng.choice(list(server.backups)), by_hand=True)
        self.off_the_log |= {ident for ident in known if server.kept(ident) is None}
        for who, token in enumerate([*self.tokens, STRANGER]):
            try:
                server.store.device_of(token)
            except KeyError:
                server.pair(token, "crew", self.true_ms)
            if who in CREW:
                self.give_role(who, "guest" if who in self.guests else "crew")
        for who, why in self.gone.items():
            self.revoke(who, why)

    def strange_request(self, _: int) -> None:
        """Let a paired stranger send what nobody may: no fault of the server, no trace of it."""
        server, made = self.server, self.stranger_made
        before = server.store.size()
        asked = {"proto": 1, "schema": OLDER, "vessel": VESSEL, "inst": STRANGER, "cursor": None,
                 "now": self.true_ms, "off_prev": None, "boot_prev": None, "stepped": False,
                 "last": made, "ops": [], "relay": [], "gone": [], "want": 0}
        for body in ("[", '{"proto": NaN}', json.dumps({**asked, "now": "soon"}),
                     json.dumps({**asked, "vessel": PARTS[0][5:]}), "\ud800", "9" * 5000):
            answer = server.post(STRANGER, body.encode("utf-8", "surrogatepass"), self.true_ms)
            assert 400 <= answer.status_code < 500, answer.json
        forged = server.post(STRANGER, json.dumps({**asked, "cursor": f"{'0' * 16}:7:{'0' * 64}"}),
                             self.true_ms)
        assert forged.json.get("reset") or forged.json.get("reload"), forged.json
        bad = {"id": f"{made:08x}-0000-4000-8000-00000000bad0", "n": forged.json["next_n"],
               "kind": "put", "v": 1, "t": self.true_ms, "seen": None, "after": "", "dev": "me",
               "body": {"part": PARTS[0], "locker": LOCKERS[0], "lot": "", "q": 1000}}
        worse = {**bad, "n": bad["n"] + 1, "id": bad["id"][:-1] + "1",
                 "body": {**bad["body"], "q": 1.5}}
        del worse["dev"]
        answer = server.post(STRANGER, json.dumps({**asked, "ops": [bad, worse],
                                                   "last": worse["n"]}), self.true_ms)
        assert [one["result"] for one in answer.json["results"]] == ["refused"] * 2
        assert server.store.size() == before
        self.stranger_made += 2

    def upgrade(self, who: int) -> None:
        """Change the program of the server, or renew a page."""
        server = self.server
        if self.rng.random() < 0.4:
            server.program = NEWER if server.program == OLDER else OLDER
            server.lose_time(0)
        else:
            server.pages[f"t{who}"] = server.program

    def move_clock(self, who: int) -> None:
        """Move a phone's clock."""
        self.errors_min[who] += self.rng.choice([-1, 1]) * self.rng.choice([10, 60, 3 * DAY_MIN])

    def lose_time(self, _: int) -> None:
        """Let the server stand still while it is off."""
        self.server.lose_time(self.rng.randint(1, 4 * DAY_MIN))

    def deliver(self, _: int) -> None:
        """Let what was stuck on the way arrive."""
        self.deliver_late()


#: What happens, and how.
HAPPENS: dict[str, Any] = {
    "act": Soak.act, "sync": Soak.sync, "note": Soak.note, "stuck requests arrive": Soak.deliver,
    "somebody goes or comes": Soak.go, "a mistake": Soak.mistake,
    "the skipper decides": lambda soak, _: soak.decide(),
    "backup": lambda soak, _: soak.server.backup(f"b{soak.minute}"),
    "put back": Soak.put_back_some, "a phone is put back": Soak.put_phone_back,
    "full disk": Soak.full_disk, "switched off": lambda soak, _: soak.server.store.switch_off(),
    "strange request": Soak.strange_request, "upgrade": Soak.upgrade,
    "clock moved": Soak.move_clock, "time lost": Soak.lose_time,
    "put back by hand": Soak.put_back_by_hand,
}
#: How often among a hundred; with the rest nobody could tell what truly lies where.
MUCH = {"act": 38, "sync": 28, "note": 5, "stuck requests arrive": 4, "somebody goes or comes": 6,
        "a mistake": 3, "the skipper decides": 3, "backup": 2, "put back": 1,
        "a phone is put back": 3, "full disk": 2, "switched off": 2, "strange request": 1,
        "upgrade": 2}
EVERYTHING = MUCH | {"clock moved": 2, "time lost": 2, "put back by hand": 1}


def build(seed: int, app: Flask, folder: Path, makes: list[Any]) -> Soak:
    """Make server and phones, the phones by turns of *makes*."""
    rng, numbers = random.Random(seed), count(1)

    def fresh(length: int) -> str:
        return f"{next(numbers):0{length}x}"

    server = SoakServer(app, fresh, folder)
    errors = [rng.choice([0, 0, rng.randint(-YEARS_11_MIN, YEARS_11_MIN)]) for _ in range(5)]
    phones = [makes[who % len(makes)](
        VESSEL, server.pair(f"t{who}", "crew" if who else "skipper", START_MS), fresh)
        for who in range(5)]
    server.pair(STRANGER, "crew", START_MS)
    return Soak(rng, server, phones, errors, late=[])


def let_go(soak: Soak) -> None:
    """Close and remove the store."""
    soak.server.store.store.close()
    shutil.rmtree(soak.server.store.folder)
