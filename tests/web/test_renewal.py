"""Certificate and addresses while the server runs: seen by a client that trusts the authority."""

from __future__ import annotations

import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from flask import Flask

from spares.web.certificates import ready
from spares.web.join import create_join_app
from spares.web.net import Net
from spares.web.renewal import Renewal
from spares.web.server import Door, listen

NAME, FIRST, OTHER = "spares.local", "192.168.7.2", "10.0.0.4"
NOW = datetime.now(UTC)
NO_CHECK_TIME = 0x200000        # X509_V_FLAG_NO_CHECK_TIME of OpenSSL, from memory


class Aboard:
    """A door with its renewal, on a computer whose addresses and clock the test sets."""

    def __init__(self, folder: Path, listening: socket.socket) -> None:
        self.folder, self.addresses = folder, (FIRST,)
        made = ready(folder, NAME, self.addresses, NOW)
        net = Net(NAME, 8443, self.addresses, made.until)
        self.door = Door(lambda environ, start: [], listening, (made.server, made.server_key))
        self.door.config()
        self.app, self.join = Flask("x"), create_join_app(net, made)
        self.told: list[Net] = []
        self.renewal = Renewal(folder, net, doors=[self.door], apps=[self.app, self.join],
                               addresses=lambda: self.addresses)
        self.renewal.on_change = self.told.append

    @contextmanager
    def greeted(self) -> Iterator[tuple[ssl.SSLSocket, ssl.SSLSocket]]:
        """Greet a client that trusts the made authority and nothing else; gives both ends."""
        trusts = ssl.create_default_context(cafile=str(self.folder / "authority.crt"))
        trusts.verify_flags |= NO_CHECK_TIME        # the test's clock is not this computer's
        ends, made = socket.socketpair(), []
        (context,) = self.door.contexts
        asked = threading.Thread(target=lambda: made.append(
            context.wrap_socket(ends[0], server_side=True)))
        asked.start()
        client = trusts.wrap_socket(ends[1], server_hostname=NAME)
        asked.join(10)
        try:
            yield client, made[0]
        finally:
            client.close()
            made[0].close()

    def shown(self) -> tuple[set[str], date]:
        """Give addresses and last moment of the certificate that a new connection is shown."""
        with self.greeted() as (client, _):
            shown = client.getpeercert()
        ends = datetime.fromtimestamp(ssl.cert_time_to_seconds(shown["notAfter"]), UTC)
        return {text for kind, text in shown["subjectAltName"] if kind == "IP Address"}, ends.date()


@pytest.fixture
def aboard(tmp_path: Path) -> Iterator[Aboard]:
    with listen("127.0.0.1", 0) as listening:
        yield Aboard(tmp_path / "certificates", listening)


def test_new_addresses_are_in_the_certificate_of_the_next_connection(aboard):
    authority = (aboard.folder / "authority.crt").read_bytes()
    assert aboard.shown()[0] == {FIRST}
    aboard.addresses = (OTHER, FIRST)
    aboard.renewal.look(NOW)
    assert aboard.shown()[0] == {FIRST, OTHER}
    assert (aboard.folder / "authority.crt").read_bytes() == authority
    assert aboard.app.config["NET"].addresses == (OTHER, FIRST)
    assert [net.addresses for net in aboard.told] == [(OTHER, FIRST)]
    aboard.renewal.look(NOW)
    assert len(aboard.told) == 1


def test_join_page_answers_at_the_new_address_and_no_more_at_the_old(aboard):
    def status(host: str) -> int:
        return aboard.join.test_client().get("/", headers={"Host": f"{host}:8480"}).status_code
    assert (status(FIRST), status(OTHER)) == (200, 421)
    aboard.addresses = (OTHER,)
    aboard.renewal.look(NOW)
    assert (status(FIRST), status(OTHER)) == (421, 200)


def test_certificate_near_its_end_is_replaced_and_connections_go_on(aboard):
    before = aboard.shown()[1]
    with aboard.greeted() as (client, server):
        aboard.renewal.look(NOW + timedelta(days=300))
        assert aboard.shown()[1] == before and aboard.told == []
        aboard.renewal.look(NOW + timedelta(days=370))
        client.sendall(b"still here")
        assert server.recv(100) == b"still here"
    after = aboard.shown()[1]
    assert after > before + timedelta(days=360)
    assert aboard.app.config["NET"].until == after - timedelta(days=1)


def test_address_that_is_gone_for_a_while_costs_no_certificate(aboard):
    server = (aboard.folder / "server.crt").read_bytes()
    for addresses in ((), (FIRST,)):
        aboard.addresses = addresses
        aboard.renewal.look(NOW)
        assert aboard.app.config["NET"].addresses == addresses
    assert (aboard.folder / "server.crt").read_bytes() == server


def test_what_goes_wrong_is_said_and_the_old_certificate_is_shown_on(aboard, monkeypatch, caplog):
    def full(*_):
        raise OSError("no room")
    monkeypatch.setattr("spares.web.certificates._write", full)
    aboard.addresses = (OTHER,)
    aboard.renewal.look(NOW)
    assert aboard.shown()[0] == {FIRST} and aboard.told == []
    assert "could not be looked after: no room" in caplog.text
    monkeypatch.undo()
    aboard.renewal.look(NOW)
    assert aboard.shown()[0] == {OTHER}
