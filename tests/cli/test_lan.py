"""`serve --lan` as a process: three doors, and what each lets through."""

from __future__ import annotations

import http.client
import json
import os
import re
import signal
import socket
import ssl
import stat
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from spares.config import read_settings
from tests.cli.test_serve import TOP
from tests.stores import make_demo

NAME = "spares.local"
pytestmark = pytest.mark.skipif(os.name == "nt", reason="other signals there")


@dataclass
class Served:
    """A running server: its ports, its certificate, what it printed."""

    port: int
    net_port: int
    join_port: int
    said: str
    folder: Path

    def ask(self, method: str, path: str, body: Any = None, *, host: str = NAME,
            token: str = "") -> tuple[int, dict[str, str], bytes]:
        """Ask the https door, trusting the made authority and nothing else."""
        context = ssl.create_default_context(cafile=str(self.folder / "authority.crt"))
        context.verify_flags |= ssl.VERIFY_X509_STRICT
        with socket.create_connection(("127.0.0.1", self.net_port), 10) as plain, \
                context.wrap_socket(plain, server_hostname=NAME) as secure:
            asking = http.client.HTTPSConnection(NAME, timeout=10)
            asking.sock = secure
            headers = {"Host": f"{host}:{self.net_port}", "X-Spares": "1",
                       "Content-Type": "application/json"}
            if token:
                headers["Authorization"] = f"Bearer {token}"
            asking.request(method, path, None if body is None else json.dumps(body), headers)
            answer = asking.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()

    def plainly(self, port: int, method: str, path: str, body: Any = None,
                **headers: str) -> tuple[int, dict[str, str], bytes]:
        """Ask a plain door."""
        asking = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
        try:
            asking.request(method, path, None if body is None else json.dumps(body),
                           {"X-Spares": "1", "Content-Type": "application/json", **headers})
            answer = asking.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()
        finally:
            asking.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    path = make_demo(tmp_path_factory.mktemp("lan"))
    env = {**os.environ, "SPARES_STORE": str(path), "SPARES_NET_PORT": "0",
           "SPARES_JOIN_PORT": "0"}
    process = subprocess.Popen(
        [sys.executable, "-c", "import sys; from spares.cli.main import main; sys.exit(main())",
         "serve", "--lan", "--port", "0"], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        text=True, cwd=TOP, env=env)
    said = ""
    try:
        while "Fingerprint" not in said:
            line = process.stdout.readline()
            assert line, process.stderr.read()
            said += line
        ports = [re.search(pattern, said)[1] for pattern in (
            r"http://127\.0\.0\.1:(\d+) in a browser", rf"https://{NAME}:(\d+)",
            r"open http://[^ ]*:(\d+) on it")]
        yield Served(*map(int, ports), said, path.parent / "certificates")
        process.send_signal(signal.SIGTERM)
        assert process.wait(20) == 0
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()


def test_it_tells_how_a_phone_comes_aboard(served):
    fingerprint = re.search(r"Fingerprint of the certificate: ((?:[0-9A-F]{2}:){31}[0-9A-F]{2})",
                            served.said)
    assert fingerprint and "█" in served.said
    status, _, page = served.plainly(served.join_port, "GET", "/")
    assert status == 200 and fingerprint[1] in page.decode()
    assert "iPhone" in page.decode() and "Android" in page.decode()


def test_plain_door_gives_the_certificate_and_nothing_else(served):
    status, headers, der = served.plainly(served.join_port, "GET", "/authority.crt")
    assert status == 200 and headers["content-type"] == "application/x-x509-ca-cert"
    pem = (served.folder / "authority.crt").read_text()
    assert ssl.PEM_cert_to_DER_cert(pem) == der
    for method, path in (("GET", "/api/summary"), ("POST", "/api/pair"), ("GET", "/index.html"),
                         ("GET", "/authority.key"), ("GET", "/server.key"),
                         ("POST", "/api/sync")):
        status, _, body = served.plainly(served.join_port, method, path, {})
        assert status == 404, (path, body)
    assert served.plainly(served.join_port, "GET", "/", Host="evil.example")[0] == 421


@pytest.mark.slow
def test_https_door_gives_the_page_to_all_and_the_vessel_to_none_without_a_token(served):
    assert served.ask("GET", "/")[0] == 200
    document = json.loads(served.plainly(served.port, "GET", "/api/openapi.json")[2])
    for path, operations in document["paths"].items():
        for method in operations.keys() & {"get", "post", "patch", "put", "delete"}:
            filled = re.sub(r"\{[^}]*\}", "00000000-0000-4000-8000-000000000001", path)
            if filled in ("/api/pair", "/api/pair/collect"):
                continue
            status, _, body = served.ask(method.upper(), filled, {} if method != "get" else None)
            assert status == 401, (method, path, body)
            assert json.loads(body)["stop"] == "not_paired"
    for path in ("/api/docs", "/api/openapi.json", "/api/nothing"):
        assert served.ask("GET", path)[0] == 401


def test_phone_joins_and_syncs_over_https(served):
    here = served.port
    begun = json.loads(served.plainly(here, "POST", "/api/pairings", {"role": "crew"})[2])
    status, _, body = served.ask("POST", "/api/pair", {"secret": begun["secret"], "name": "A"})
    claim = json.loads(body)["claim"]
    assert status == 202
    served.plainly(here, "POST", f"/api/pairings/{begun['pairing']}/confirm", {})
    status, _, body = served.ask("POST", "/api/pair/collect", {"claim": claim, "bearer": True})
    paired = json.loads(body)
    assert status == 201 and paired["here"] is False
    assert date.fromisoformat(paired["certificate_until"]) > date.today() + timedelta(days=300)
    request = {"proto": 1, "schema": 1, "vessel": paired["vessel"]["id"], "inst": "i",
               "cursor": None, "now": 1, "off_prev": None, "boot_prev": None, "stepped": False,
               "last": 0}
    status, _, body = served.ask("POST", "/api/sync", request, token=paired["token"])
    answer = json.loads(body)
    assert status == 200 and answer["dev"] == paired["dev"] and len(answer["changes"]) > 100
    assert served.ask("GET", "/api/summary", token=paired["token"])[0] == 200
    assert served.ask("GET", "/api/summary", token="another")[0] == 401


def test_other_names_are_refused_and_the_keys_are_the_owners(served):
    status, _, body = served.ask("GET", "/", host="evil.example")
    assert status == 421 and json.loads(body)["stop"] == "wrong_host"
    for key in ("authority.key", "server.key"):
        assert stat.S_IMODE((served.folder / key).stat().st_mode) == 0o600


def test_name_that_is_none_is_refused(monkeypatch):
    for name in ("no name", "-x.local", "local", "a..b", "x" * 120 + ".local"):
        with pytest.raises(ValueError, match="SPARES_NAME"):
            read_settings({"SPARES_NAME": name})


def test_find_page_is_for_the_net_alone(run):
    ran = run("serve", "--find-page")
    assert ran.code == 2 and "--lan" in ran.err


def test_plain_door_finds_nothing_unless_it_was_opened(served):
    assert served.plainly(served.join_port, "GET", "/find?q=impeller")[0] == 404
