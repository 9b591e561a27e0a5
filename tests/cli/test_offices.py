"""let-in-office, meet: an office keeps a vessel beside her own server, over a real connection."""

from __future__ import annotations

import hashlib
import io
import json
import ssl
import stat
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from wsgiref.simple_server import WSGIRequestHandler, make_server

import pytest
from PIL import Image

from spares.actions.context import open_context
from spares.actions.photos import photo, take_piece
from spares.config import read_settings
from spares.web.app import create_app
from spares.web.certificates import ready
from spares.web.net import DOOR, NET, Net
from spares.web.store import store_of
from tests.cli.conftest import Ran, is_error, is_json_error
from tests.stores import DAY_ZERO, state_of

NAME = "spares.local"


class Quiet(WSGIRequestHandler):
    """Says nothing of what it answers."""

    def log_message(self, *_: object) -> None:
        """Leave the terminal to the tests."""


@pytest.fixture
def served(demo_file: Path, tmp_path: Path) -> Iterator[tuple[Path, str, str]]:
    """The vessel's own store, the address of a server on it, and where to connect instead.

    Nothing here knows the name of that address, as at the end of a tunnel.
    """
    folder = tmp_path / "aboard"
    folder.mkdir()
    path = folder / "spares.sqlite"
    path.write_bytes(demo_file.read_bytes())
    found = ready(folder / "certificates", NAME, ("127.0.0.1",), datetime.now(UTC))
    trust = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    trust.load_cert_chain(found.server, found.server_key)
    server = make_server("127.0.0.1", 0, None, handler_class=Quiet)
    server.socket = trust.wrap_socket(server.socket, server_side=True)
    port = server.server_port
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}),
                     net=Net(NAME, port, ("127.0.0.1",)))

    def by_net(environ: dict[str, Any], start: Any) -> Any:
        return app({**environ, DOOR: NET}, start)

    server.set_app(by_net)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield path, f"https://{NAME}:{port}", f"127.0.0.1:{port}"
    server.shutdown()
    thread.join()
    server.server_close()
    store_of(app).close()


@pytest.mark.slow
def test_office_takes_a_vessel_in_and_both_have_what_each_wrote(
        run: Callable[..., Ran], served: tuple[Path, str, str], tmp_path: Path,
        monkeypatch: pytest.MonkeyPatch) -> None:
    aboard, address, there = served
    office, paper = tmp_path / "office.sqlite", tmp_path / "paper.json"
    monkeypatch.setenv("SPARES_TODAY", DAY_ZERO)

    def at(store: Path, *words: str) -> Ran:
        monkeypatch.setenv("SPARES_STORE", str(store))
        return run(*words)

    done = at(aboard, "let-in-office", "Quay office", str(paper), "--address", address,
              "--vessel", "TGL")
    assert done.code == 0 and "Quay office" in done.out
    assert stat.S_IMODE(paper.stat().st_mode) == 0o600
    met = at(office, "meet", str(paper), "--at", there, "--json").answer["met"][0]
    assert (met["mark"], met["fault"], met["brought"]) == ("TGL", None, 0)
    assert met["taken"] == met["rows"] > 500
    assert at(office, "vessels").out.startswith("TGL")
    assert at(office, "took", "P034", "L17", "1").code == 0
    assert at(aboard, "took", "P034", "L17", "1", "--vessel", "TGL").code == 0
    done = at(office, "meet", "--at", there)
    assert done.code == 0 and "1 of her changes came here, 1 of ours went to her" in done.out
    assert state_of(office)["TGL"] == state_of(aboard)["TGL"]
    for store in (office, aboard):      # two lay in L17 on day zero, says seed/tangloppe/stock.csv
        assert "KR 10-034 · None" in at(store, "find", "P034", "--vessel", "TGL").out
    for store, of in ((office, "HBR"), (aboard, "ENG")):
        take_photo(store, of)
    assert "Photos: 1 came, 1 went." in at(office, "meet", "--at", there).out
    photos = [{one.name for one in store.with_name(f"{store.name}.photos").glob("?" * 64)}
              for store in (office, aboard)]
    assert photos[0] == photos[1] and len(photos[0]) == 2
    again = at(office, "meet", "--at", there)
    assert "0 of her changes came here, 0 of ours went to her" in again.out
    by_letter(at, office, aboard, tmp_path)
    assert "1 of ours went to her" in at(office, "meet", "--at", there).out
    assert state_of(office)["TGL"] == state_of(aboard)["TGL"]
    known = json.loads(paper.read_text())
    another = ready(tmp_path / "another", NAME, ("127.0.0.1",), datetime.now(UTC))
    paper.write_text(json.dumps({**known, "authority": another.authority.read_text()}))
    wrong = at(office, "meet", str(paper), "--at", there)
    assert wrong.code == 2 and "not her server" in wrong.out


def take_photo(store: Path, of: str) -> None:
    """Let a person at the server itself put a photo there."""
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "red" if of == "ENG" else "blue").save(out, "PNG")
    data = out.getvalue()
    sha256 = hashlib.sha256(data).hexdigest()
    ctx = open_context(read_settings({"SPARES_STORE": str(store)}), "TGL")
    photo(ctx, of, sha256, len(data), "image/png")
    assert take_piece(ctx, sha256, 0, len(data), data)["whole"]
    ctx.store.close()


def by_letter(at: Callable[..., Ran], office: Path, aboard: Path, folder: Path) -> None:
    """Where no net leads to her, the same goes by two files, each taken in twice."""
    letter, answer = folder / "letter.json", folder / "answer.json"
    assert at(office, "put", "P034", "L17", "1").code == 0
    assert at(aboard, "put", "P034", "L17", "2", "--vessel", "TGL").code == 0
    assert at(office, "meet", "--write", str(letter)).code == 0
    assert at(office, "put", "P034", "L17", "1").code == 0      # too late for this letter
    for file in (answer, folder / "again.json"):
        assert at(aboard, "answer-office", str(letter), str(file)).code == 0
    for words in ("1 of her changes came here, 1 of ours", "met since"):
        done = at(office, "meet", "--read", str(answer))
        assert words in done.out + done.err
    for store, pieces in ((aboard, 3), (office, 4)):
        assert f"{pieces}  L17" in at(store, "find", "P034", "--vessel", "TGL").out


def test_paper_is_written_once_and_a_wrong_one_is_refused(
        run: Callable[..., Ran], demo_file: Path, tmp_path: Path,
        monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "aboard.sqlite"
    path.write_bytes(demo_file.read_bytes())
    monkeypatch.setenv("SPARES_STORE", str(path))
    is_error(run("let-in-office", "Quay office", str(tmp_path / "paper.json")), "certificate")
    is_error(run("let-in-office", "Quay office", str(path), "--address", "http://127.0.0.1:1"),
             "there already")
    is_error(run("meet"), "let-in-office")
    wrong = tmp_path / "wrong.json"
    for text in ("{", "[]", '{"spares_office": 1}',
                 '{"spares_office": 1, "vessel": "x", "key": "00"}'):
        wrong.write_text(text)
        is_json_error(run("meet", str(wrong), "--json"))
    assert run("let-in-office", "Quay office", str(tmp_path / "far.json"), "--address",
               "http://127.0.0.1:1", "--vessel", "TGL").code == 0
    far = run("meet", str(tmp_path / "far.json"))
    assert far.code == 2 and "not met" in far.out
