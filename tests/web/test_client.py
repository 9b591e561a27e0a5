"""The client's files: types, freshness, compression, and the pages for programmers."""

from __future__ import annotations

import gzip
import json

import pytest

from spares.web.headers import CONTENT_SECURITY_POLICY


@pytest.fixture
def files(app, tmp_path):
    """A client of our own making, so that these tests do not hang on the real one."""
    app.config["CLIENT_FOLDER"] = tmp_path
    (tmp_path / "index.html").write_text("<!doctype html><title>x</title>" + " " * 2000)
    (tmp_path / "sw.js").write_text("// worker" + " " * 2000)
    (tmp_path / "manifest.webmanifest").write_text("{}")
    (tmp_path / "views").mkdir()
    (tmp_path / "views" / "find.js").write_text("export {};")
    (tmp_path / "icon.png").write_bytes(b"\x89PNG" + bytes(3000))
    (tmp_path / "icon.svg").write_text("<svg/>")
    (tmp_path / "style.css").write_text("a{}")
    (tmp_path / "x.wasm").write_bytes(b"\0asm")
    return tmp_path


@pytest.mark.parametrize(("name", "kind"), [
    ("/", "text/html"), ("/index.html", "text/html"), ("/sw.js", "text/javascript"),
    ("/views/find.js", "text/javascript"), ("/icon.png", "image/png"),
    ("/icon.svg", "image/svg+xml"), ("/style.css", "text/css"), ("/x.wasm", "application/wasm"),
    ("/manifest.webmanifest", "application/manifest+json")])
def test_files_are_served_at_the_root_with_their_type(client, files, name, kind):
    answer = client.get(name)
    assert answer.status_code == 200
    assert answer.mimetype == kind
    assert answer.headers["Cache-Control"] == "no-cache"
    assert answer.headers["ETag"]


def test_every_answer_carries_the_security_headers(client, files):
    for name in ("/", "/sw.js", "/api/docs", "/api/openapi.json", "/nothing"):
        headers = client.get(name).headers
        assert headers["Content-Security-Policy"] == CONTENT_SECURITY_POLICY
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert "Access-Control-Allow-Origin" not in headers


def test_large_texts_are_compressed_when_that_is_accepted(client, files):
    packed = client.get("/sw.js", headers={"Accept-Encoding": "gzip, br"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert "Accept-Encoding" in packed.headers["Vary"]
    assert gzip.decompress(packed.data) == (files / "sw.js").read_bytes()
    assert int(packed.headers["Content-Length"]) == len(packed.data)


@pytest.mark.parametrize(("name", "accept"), [("/sw.js", "identity"), ("/sw.js", "gzip;q=0"),
                                              ("/icon.png", "gzip"), ("/style.css", "gzip")])
def test_other_answers_are_left_as_they_are(client, files, name, accept):
    answer = client.get(name, headers={"Accept-Encoding": accept})
    assert "Content-Encoding" not in answer.headers
    assert answer.data == (files / name[1:]).read_bytes()


@pytest.mark.parametrize("accept", ["gzip", "identity"])
def test_a_file_that_has_not_changed_is_not_sent_again(client, files, accept):
    first = client.get("/sw.js", headers={"Accept-Encoding": accept})
    again = client.get("/sw.js", headers={"Accept-Encoding": accept,
                                          "If-None-Match": first.headers["ETag"]})
    assert again.status_code == 304
    assert not again.data


def test_the_openapi_document_is_version_3_1_and_has_a_page(client):
    document = json.loads(client.get("/api/openapi.json").data)
    assert document["openapi"] == "3.1.0"
    page = client.get("/api/docs").get_data(as_text=True)
    for path in document["paths"]:
        assert path in page
    assert client.get("/api/docs.css").mimetype == "text/css"


def test_the_pages_fetch_nothing_from_elsewhere(client):
    for name in ("/api/docs", "/problems/not-found"):
        page = client.get(name).get_data(as_text=True)
        assert "http:" not in page and "https:" not in page and "<script" not in page


def test_every_kind_of_problem_has_its_page(client):
    from spares.web.docs import problem_kinds
    assert len(problem_kinds()) > 10
    for code, kind in problem_kinds().items():
        page = client.get(f"/problems/{code}")
        assert page.status_code == 200
        assert kind.title.replace("'", "&#39;") in page.get_data(as_text=True)
