"""The look-only find page on the plain port: shut unless opened, and nothing but places."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime

import pytest

from spares.config import read_settings
from spares.web.certificates import ready
from spares.web.join import create_join_app
from spares.web.store import OpenStore, store_of
from tests.hostile import HOSTILE, make_hostile
from tests.problems import is_problem
from tests.stores import DAY_ZERO, as_before
from tests.web.crew import ADDRESS, SERVED

NOW = datetime(2027, 3, 15, tzinfo=UTC)


@pytest.fixture(scope="module")
def certificates(tmp_path_factory):
    return ready(tmp_path_factory.mktemp("certificates"), SERVED.name, SERVED.addresses, NOW)


@pytest.fixture
def opened():
    stores = []

    def at(path):
        stores.append(OpenStore(read_settings({"SPARES_STORE": str(path),
                                               "SPARES_TODAY": DAY_ZERO})))
        return stores[-1]
    yield at
    for one in stores:
        one.close()


def phone(app):
    client = app.test_client()
    client.environ_base |= {"HTTP_HOST": f"{ADDRESS}:8480", "REMOTE_ADDR": "192.168.7.30"}
    return client


def test_it_is_shut_unless_the_skipper_opens_it(certificates):
    client = phone(create_join_app(SERVED, certificates))
    is_problem(client.get("/find?q=impeller"), 404)
    assert "/find" not in client.get("/").text


def test_it_shows_where_a_thing_lies_and_how_many(certificates, opened, demo_file):
    client = phone(create_join_app(SERVED, certificates, opened(demo_file)))
    assert 'href="/find"' in client.get("/").text
    with as_before(demo_file):
        page = client.get("/find?q=P061")
        assert page.status_code == 200 and page.mimetype == "text/html"
        for shown in ("P061 Impeller for G80", "Quillsund QS G80-I", "F3JE",
                      "Engine room, starboard drawer: seals"):
            assert shown in page.text
        locker = client.get("/find?q=EMJR").text
        assert "Forepeak, box on frame 6: harbour set" in locker and "Lube oil filter" in locker
        # What speaks against pieces stands beside their count: P120 lies suspect in L14.
        assert "6, suspect" in client.get("/find?q=P120").text
        assert "P120" in client.get("/find?q=L14").text
        assert "Nothing that lies anywhere" in client.get("/find?q=S22").text
        assert "No such label" in client.get("/find?q=EMRJ").text
        assert client.get("/find").status_code == 200
        assert client.get("/find?q=" + "x" * 300).status_code == 200


def test_it_tells_no_prices_notes_or_people_and_takes_nothing(certificates, opened, demo_file):
    client = phone(create_join_app(SERVED, certificates, opened(demo_file)))
    with as_before(demo_file):
        for query in ("impeller", "P034", "EMJR", "pump", "filter", "ENG", "S22", "HBR"):
            text = client.get(f"/find?q={query}").text
            assert "EUR" not in text and "lent to" not in text and "<script" not in text
        for method in ("POST", "PUT", "PATCH", "DELETE", "OPTIONS"):
            is_problem(client.open("/find", method=method), 405)
        for path in ("/api/find?q=x", "/api/summary", "/api/sync", "/find/x", "/index.html"):
            is_problem(client.get(path), 404)
        is_problem(client.get("/find?q=x", headers={"Host": "evil.example"}), 421)


def test_who_has_a_lent_piece_is_not_told(certificates, demo):
    assert demo.post("/api/do/lent", json={
        "part": "P061", "locker": "L14", "who": "Anna Vindheim"}).json["was_new"]
    client = phone(create_join_app(SERVED, certificates, store_of(demo.application)))
    pages = [client.get("/find", query_string={"q": asked}).text
             for asked in ("P061", "LENT1", "Vindheim")]
    assert "Lent out" in pages[0] and "Anna" not in "".join(pages)


def test_texts_are_shown_as_texts(certificates, opened, demo_file, tmp_path):
    path = shutil.copy(demo_file, tmp_path / "hostile.sqlite")
    make_hostile(path)
    client = phone(create_join_app(SERVED, certificates, opened(path)))
    page = client.get("/find", query_string={"q": "onerror"})
    assert "&lt;script&gt;" in page.text and "<script" not in page.text
    typed = client.get("/find", query_string={"q": HOSTILE}).text
    assert "<script" not in typed and "<img" not in typed


def test_one_address_cannot_ask_without_end(certificates, opened, demo_file):
    client = phone(create_join_app(SERVED, certificates, opened(demo_file)))
    said = [client.get("/find").status_code for _ in range(70)]
    assert said[0] == 200 and said[-1] == 429
    assert client.get("/").status_code == 200
    other = {"REMOTE_ADDR": "192.168.7.31"}
    assert client.get("/find", environ_overrides=other).status_code == 200


def test_a_store_without_a_vessel_has_nothing_to_find(certificates, opened, tmp_path):
    client = phone(create_join_app(SERVED, certificates, opened(tmp_path / "empty.sqlite")))
    is_problem(client.get("/find?q=x"), 404)
