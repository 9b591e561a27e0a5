"""let-in-office, meet: an office keeps a vessel beside her own server, over a real connection."""

from __future__ import annotations

import stat
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from wsgiref.simple_server import WSGIRequestHandler, make_server

import pytest

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests.cli.conftest import Ran, is_error, is_json_error
from tests.stores import DAY_ZERO, state_of


class Quiet(WSGIRequestHandler):
    """Says nothing of what it answers."""

    def log_message(self, *_: object) -> None:
        """Leave the terminal to the tests."""


@pytest.fixture
def served(demo_file: Path, tmp_path: Path) -> Iterator[tuple[Path, str]]:
    """The vessel's own store, and the address of a server on it."""
    path = tmp_path / "aboard.sqlite"
    path.write_bytes(demo_file.read_bytes())
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}))
    server = make_server("127.0.0.1", 0, app, handler_class=Quiet)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield path, f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()
    store_of(app).close()


def test_office_takes_a_vessel_in_and_both_have_what_each_wrote(
        run: Callable[..., Ran], served: tuple[Path, str], tmp_path: Path,
        monkeypatch: pytest.MonkeyPatch) -> None:
    aboard, address = served
    office, paper = tmp_path / "office.sqlite", tmp_path / "paper.json"
    monkeypatch.setenv("SPARES_TODAY", DAY_ZERO)

    def at(store: Path, *words: str) -> Ran:
        monkeypatch.setenv("SPARES_STORE", str(store))
        return run(*words)

    done = at(aboard, "let-in-office", "Quay office", str(paper), "--address", address,
              "--vessel", "TGL")
    assert done.code == 0 and "Quay office" in done.out
    assert stat.S_IMODE(paper.stat().st_mode) == 0o600
    met = at(office, "meet", str(paper), "--json").answer["met"][0]
    assert (met["mark"], met["fault"], met["brought"]) == ("TGL", None, 0)
    assert met["taken"] == met["rows"] > 500
    assert at(office, "vessels").out.startswith("TGL")
    assert at(office, "took", "P034", "L17", "1").code == 0
    assert at(aboard, "took", "P034", "L17", "1", "--vessel", "TGL").code == 0
    done = at(office, "meet")
    assert done.code == 0 and "1 of her changes came here, 1 of ours went to her" in done.out
    assert state_of(office)["TGL"] == state_of(aboard)["TGL"]
    for store in (office, aboard):      # two lay in L17 on day zero, says seed/tangloppe/stock.csv
        assert "KR 10-034 · None" in at(store, "find", "P034", "--vessel", "TGL").out
    again = at(office, "meet")
    assert "0 of her changes came here, 0 of ours went to her" in again.out
    by_letter(at, office, aboard, tmp_path)


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
    for store, usable in ((aboard, 3), (office, 4)):
        assert f"{usable} usable" in at(store, "find", "P034", "--vessel", "TGL").out
    assert "1 of ours went to her" in at(office, "meet").out
    assert state_of(office)["TGL"] == state_of(aboard)["TGL"]


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
