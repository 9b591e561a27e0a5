"""What may come in at all: host, origin, size, type, and how it is refused."""

from __future__ import annotations

import pytest

from spares.web.guard import MAX_BODY_BYTES
from tests.problems import is_problem
from tests.web.conftest import TOKEN

ADDRESS = "/api/compute/nothing"        # an address that writes to nothing; 404 once let in


@pytest.mark.parametrize("host", ["localhost", "localhost:8470", "127.0.0.1:1", "[::1]",
                                  "[::1]:8470", "LOCALHOST:80"])
def test_names_of_this_computer_are_answered(client, host):
    assert client.get("/api/docs", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize("host", ["evil.example", "localhost.evil.example", "127.0.0.1.evil",
                                  "localhost:80@evil", "evil.example:8470", "10.0.0.7",
                                  "localhost:x", "[::1", "[::1]x"])
def test_other_host_names_are_refused(client, host):
    body = is_problem(client.get("/api/docs", headers={"Host": host}), 421)
    assert body["stop"] == "wrong_host"


@pytest.mark.parametrize("headers", [
    {"Origin": "http://localhost"}, {"Sec-Fetch-Site": "same-origin"}, {"X-Spares": "1"},
    {"X-Spares-Token": TOKEN},
    {"Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"}])
def test_own_page_and_programs_may_write(app, headers):
    answer = app.test_client().post(ADDRESS, json={}, headers=headers)
    is_problem(answer, 404)


@pytest.mark.parametrize("headers", [
    {"Origin": "http://evil.example"}, {"Origin": "null"}, {"Origin": "https://localhost"},
    {"Origin": "http://localhost:81"}, {"Sec-Fetch-Site": "cross-site", "X-Spares": "1"},
    {"Sec-Fetch-Site": "same-site"}, {"Origin": "http://[", "X-Spares": "1"},
    {"X-Spares-Token": "guessed"}, {"X-Spares-Token": "guessed", "X-Spares": "1"}])
def test_other_sites_may_not_even_compute(app, headers):
    body = is_problem(app.test_client().post(ADDRESS, json={}, headers=headers), 403)
    assert body["stop"] == "wrong_origin"


def test_compute_is_open_to_programs_that_do_not_say_who_they_are(app):
    is_problem(app.test_client().post(ADDRESS, json={}), 404)


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "",
                                  "application/json; charset=latin-1", "multipart/form-data"])
def test_bodies_of_another_type_are_refused(client, kind):
    body = is_problem(client.post(ADDRESS, data=b"{}", content_type=kind), 415)
    assert body["stop"] == "not_json"


def test_compressed_bodies_are_not_unpacked(client):
    answer = client.post(ADDRESS, data=b"{}", content_type="application/json",
                         headers={"Content-Encoding": "gzip"})
    is_problem(answer, 415)


def test_a_body_beyond_the_limit_is_refused(client):
    answer = client.post(ADDRESS, data=b" " * (MAX_BODY_BYTES + 1),
                         content_type="application/json")
    assert is_problem(answer, 413)["stop"] == "too_big"


def test_very_long_addresses_are_refused(client):
    is_problem(client.get("/api/docs?q=" + "a" * 9000), 414)


@pytest.mark.parametrize("address", ["/api/docs?q=%00", "/api/%00", "/api/docs?q=%ff",
                                     "/api/%ff", "/%ed%a0%80"])
def test_addresses_that_are_no_text_are_refused(client, address):
    is_problem(client.get(address), 400)


@pytest.mark.parametrize("address", [
    "/nothing", "/api", "/api/", "/api/nothing", "/.git/config", "/../pyproject.toml",
    "/%2e%2e/pyproject.toml", "/..%2fpyproject.toml", "/views/", "/problems/", "/console",
    "/static/index.html", "/api/../../etc/passwd", "/problems/nothing"])
def test_what_is_not_served_is_not_found(client, address):
    is_problem(client.get(address), 404)


@pytest.mark.parametrize("method", ["TRACE", "PUT", "DELETE", "PATCH", "GET"])
def test_a_wrong_method_is_told_the_right_ones(client, method):
    answer = client.open("/api/compute/fit", method=method)
    is_problem(answer, 405)
    assert "POST" in answer.headers["Allow"]


BAD_JSON = {
    "nothing": b"", "no end": b"{", "name twice": b'{"a": 1, "a": 1}', "not a number": b"[NaN]",
    "infinite": b"[-Infinity]", "too large": b"[1e400]", "whole too large": b"[9007199254740992]",
    "5000 digits": b"[" + b"9" * 5000 + b"]", "not UTF-8": b'["\xff"]', "latin-1": b'["\xe9"]',
    "surrogate bytes": b'["\xed\xa0\x80"]', "half a surrogate pair": b'["\\ud800"]',
    "NUL": b'["\\u0000"]', "NUL in a name": b'{"\\u0000": 1}', "byte order mark": b"\xef\xbb\xbf{}",
    "more after the end": b"{} {}", "comment": b"{} // x", "single quotes": b"{'a': 1}",
    "65 deep": b"[" * 65 + b"]" * 65, "100,000 deep": b"[" * 100_000,
    "UTF-16": '{"a":1}'.encode("utf-16"),
    "raw control character": b'["\x01"]', "trailing comma": b"[1,]",
}


@pytest.mark.parametrize("data", BAD_JSON.values(), ids=BAD_JSON.keys())
def test_json_that_readers_differ_on_is_refused(client, data):
    answer = client.post("/api/compute/stock", data=data, content_type="application/json")
    assert is_problem(answer, 400)["stop"] == "malformed"


def test_a_crash_tells_nothing_of_the_inside(app, client):
    app.add_url_rule("/api/crash", view_func=lambda: 1 / 0)
    body = is_problem(client.get("/api/crash"), 500)
    assert "division" not in str(body) and "Zero" not in str(body)
