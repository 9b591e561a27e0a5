"""Every rule of the program, by every method, for one who comes over the net with no token."""

from __future__ import annotations

import pytest
from flask import Flask

from spares.web.who import OPEN
from tests.problems import is_problem
from tests.web.crew import VESSEL, Crew, changes_nothing, here, on_net

METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE")
#: The page that pairs, its files, and what a problem's address explains: nothing of the vessel.
PLAIN = {"client.index", "client.client_file", "docs.problem_page"}
FILLED = {"ident": "00000000-0000-4000-8000-000000000001", "sha256": "0" * 64,
          "code": "not-found", "name": "app.js"}
TOKENS = [{}, {"Authorization": "Bearer nobodys"}, {"Cookie": "__Host-spares=nobodys"},
          {"Cookie": "spares-here=nobodys"}]


@pytest.fixture(scope="module")
def app(boat: Flask) -> Flask:
    return boat


def addresses(app: Flask) -> list[tuple[str, str]]:
    """Every rule as an address that can be asked, with its endpoint."""
    adapter = app.url_map.bind("spares.local")
    return [(adapter.build(rule.endpoint, {
        name: FILLED.get(name, "x") for name in rule.arguments}, method=next(iter(rule.methods))),
        rule.endpoint) for rule in app.url_map.iter_rules()]


@pytest.mark.slow
@pytest.mark.parametrize("headers", TOKENS, ids=["nothing", "bearer", "cookie", "cookie of here"])
@pytest.mark.parametrize("door", ["net", "another address at the plain port"])
def test_no_address_answers_over_the_net_without_a_token(app, door, headers):
    client = on_net(app)
    more = {}
    if door != "net":
        client, more = here(app), {"environ_overrides": {"REMOTE_ADDR": "192.168.7.66"}}
    asked = 0
    with changes_nothing(app, Crew(app)):
        for address, endpoint in addresses(app):
            if endpoint in PLAIN or address in OPEN:
                continue
            for method in METHODS:
                answer = client.open(address, method=method, headers=headers, buffered=True,
                                     json=None if method in ("GET", "HEAD") else {}, **more)
                asked += 1
                assert answer.status_code == 401, (method, address, answer.status_code)
                if method != "HEAD":
                    assert is_problem(answer, 401)["stop"] == "not_paired"
    assert asked > 8 * 80


def test_what_is_open_is_pairing_and_the_page_alone(app):
    rules = {endpoint: address for address, endpoint in addresses(app)}
    opened = {address for endpoint, address in rules.items() if endpoint in PLAIN}
    assert opened == {"/", "/app.js", "/problems/not-found"}
    assert set(OPEN) == {"/api/pair", "/api/pair/collect"} and set(OPEN) <= set(rules.values())
    with changes_nothing(app):
        for address in (*opened, *OPEN):
            for method in METHODS:
                answer = on_net(app).open(address, method=method, buffered=True,
                                          json=None if method in ("GET", "HEAD") else {})
                assert answer.status_code in (200, 405, 422), (method, address)
                for secret in (b"Tangloppe", b"Impeller", VESSEL.encode()):
                    assert secret not in answer.data


@pytest.mark.parametrize("path", [
    "/api", "/api/", "/api//summary", "//api/summary", "/API/summary", "/api/%2e/summary",
    "/api/pair/../summary", "/api/pair/x", "/api/pair/", "/api/pair/collect/",
    "/api/pair%2fcollect", "/./api/summary", "/api;x/summary", "/%61pi/summary", "/api/summary/"])
def test_no_spelling_of_an_address_gets_around_the_token(app, path):
    answer = on_net(app).get(path, buffered=True, follow_redirects=True)
    assert answer.status_code in (401, 404, 405), (path, answer.status_code, answer.data[:200])
    assert b"Tangloppe" not in answer.data
