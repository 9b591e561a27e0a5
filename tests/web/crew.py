"""A small vessel served on the boat's net, and its crew: phones with tokens."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from itertools import count
from typing import Any
from uuid import uuid4

from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from spares.db.door import found_vessel, submit
from spares.db.find import head_of
from spares.domain.draft import setting
from spares.web.net import DOOR, NET, Net
from spares.web.store import store_of

NAME = "spares.local"
ADDRESS = "192.168.7.2"
SERVED = Net(NAME, 8443, (ADDRESS,), date(2027, 12, 1))
VESSEL = "00000000-0000-4000-8000-0000000000aa"
PART = "part/00000000-0000-4000-8000-000000000001"
OTHER = "part/00000000-0000-4000-8000-000000000003"
LOCKER = "locker/00000000-0000-4000-8000-000000000002"
CELL = {"part": PART, "locker": LOCKER, "lot": ""}
NOW = 1_800_000_000_000


def found(app: Flask, vessel: str = VESSEL, mark: str = "TGL") -> None:
    """Begin a vessel with one part and one locker."""
    with store_of(app).get().writing() as session:
        found_vessel(session, vessel)
        submit(session, vessel, [
            setting(f"vessel/{vessel}", mark=mark, name="Tangloppe"),
            setting(PART, no="P001", name="Impeller", unit="pcs"),
            setting(OTHER, no="P002", name="Gasket", unit="pcs"),
            setting(LOCKER, no="L01", name="Forepeak", code="EMJR", aboard=True)], wall_ms=NOW)


_places = count(10)         # each phone from a place of its own: places are counted, too


class NetClient(FlaskClient):
    """Asks by the name under which phones know the server, and reads answers to their end."""

    def open(self, *args: Any, **kwargs: Any) -> TestResponse:
        return super().open(*args, **{"base_url": f"https://{NAME}:8443", "buffered": True,
                                      **kwargs})


def on_net(app: Flask, address: str = "192.168.7.20") -> FlaskClient:
    """A client from another computer of the boat's net, as a program."""
    client = NetClient(app, app.response_class, use_cookies=True)
    client.environ_base |= {DOOR: NET, "REMOTE_ADDR": address, "HTTP_X_SPARES": "1"}
    return client


class Crew:
    """A phone that was paired: it knows its token, its numbers and its cursor."""

    def __init__(self, app: Flask, role: str = "crew", grants: tuple[str, ...] = ()) -> None:
        self.here = here(app)
        self.client = on_net(app, f"10.7.{next(_places) % 250}.20")
        begun = self.here.post("/api/pairings", json={"role": role, "grants": list(grants)}).json
        claim = self.client.post("/api/pair", json={"code": begun["code"], "name": role}).json
        self.here.post(f"/api/pairings/{begun['pairing']}/confirm")
        paired = self.client.post("/api/pair/collect",
                                  json={"claim": claim["claim"], "bearer": True}).json
        self.token, self.dev = paired["token"], paired["dev"]
        self.client.environ_base["HTTP_AUTHORIZATION"] = f"Bearer {self.token}"
        self.cursor: str | None = None
        self.made = 0

    def op(self, kind: str = "put", body: dict[str, Any] | None = None, **more: Any) -> dict:
        """Make a change."""
        self.made += 1
        return {"id": str(uuid4()), "n": self.made, "kind": kind, "v": 1, "t": NOW,
                "seen": None, "after": "", "body": {**CELL, "q": 1000} if body is None else body,
                **more}

    def request(self, *ops: Any, **more: Any) -> dict[str, Any]:
        """Write a request."""
        return {"proto": 1, "schema": 1, "vessel": VESSEL, "inst": f"inst-{self.dev}",
                "cursor": self.cursor, "now": NOW, "off_prev": None, "boot_prev": None,
                "stepped": False, "last": self.made, "ops": list(ops), "relay": [], "gone": [],
                "want": 1000, **more}

    def sync(self, *ops: Any, **more: Any) -> TestResponse:
        """Send a request."""
        answer = self.client.post("/api/sync", json=self.request(*ops, **more))
        if answer.status_code == 200 and answer.json["cursor"]:
            self.cursor = answer.json["cursor"]
        return answer

    def codes(self, *ops: Any, **more: Any) -> list[str]:
        """Send changes; give what became of each."""
        answer = self.sync(*ops, **more)
        assert answer.status_code == 200, answer.get_data(as_text=True)
        return [one.get("code", one["result"]) for one in answer.json["results"]]


def here(app: Flask) -> FlaskClient:
    """A client on the server itself."""
    client = app.test_client()
    client.environ_base["HTTP_X_SPARES"] = "1"
    return client


def head(app: Flask) -> Any:
    """The end of the log."""
    with store_of(app).get().reading() as session:
        return head_of(session, VESSEL)


@contextmanager
def changes_nothing(app: Flask, crew: Crew | None = None) -> Iterator[None]:
    """The log stays as it is meanwhile, and the crew's next good request works."""
    before = head(app)
    yield
    assert head(app) == before
    if crew is not None:
        crew.made = crew.sync().json["next_n"] - 1
        assert crew.codes(crew.op()) == ["ok"]


def raw(crew: Crew, body: bytes, **headers: str) -> Any:
    return crew.client.post("/api/sync", data=body, content_type="application/json",
                            headers=headers)
