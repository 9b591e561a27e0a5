"""The OpenAPI document against the server: what fits the document is answered as it says.

A generator (schemathesis) makes requests from the document, right ones and wrong ones, and
holds every answer against it: status, type, shape, Allow header, and never a fault of ours.
The same is asked at the server itself and by phones of each role, over the boat's net.
"""

from __future__ import annotations

import shutil

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis.checks import load_all_checks, not_a_server_error
from schemathesis.specs.openapi import checks

from spares.actions.devices import pair
from spares.config import read_settings
from spares.db.find import vessels
from spares.web.app import create_app
from spares.web.net import DOOR, NET
from spares.web.store import store_of
from tests.conftest import LONG
from tests.stores import DAY_ZERO, make_demo
from tests.web.crew import NAME, SERVED

load_all_checks()
CHECKS = (not_a_server_error, checks.status_code_conformance, checks.content_type_conformance,
          checks.response_schema_conformance, checks.negative_data_rejection,
          checks.allow_header_conformance)
HERE = "here"
#: Who asks, and how many requests are made for each operation.
ASKERS = {HERE: 500, "skipper": 40, "crew": 40, "guest": 40} if LONG else {
    HERE: 4, "skipper": 3, "crew": 3, "guest": 2}


@pytest.fixture(scope="session")
def made(tmp_path_factory):
    return make_demo(tmp_path_factory.mktemp("openapi"))


@pytest.fixture(scope="module")
def documents(made, tmp_path_factory):
    """The documents of servers, each on a copy of the demo, by who asks: see `as_phone`."""
    opened, found = [], {}
    for asker in ASKERS:
        path = shutil.copy(made, tmp_path_factory.mktemp(asker) / "spares.sqlite")
        app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}),
                         net=SERVED)
        opened.append(app)
        found[asker] = schemathesis.openapi.from_wsgi(
            "/api/openapi.json", app if asker == HERE else as_phone(app, asker))
    yield found
    for app in opened:
        store_of(app).close()


def as_phone(app, role):
    """The application as a paired device of this role meets it, at another address."""
    store, token = store_of(app).get(), f"token of {role}"
    with store.reading() as session:
        vessel = next(ident for ident, mark in vessels(session) if mark == "TGL")
    pair(store, vessel, token, name=role, role=role, grants=("take",) if role == "guest" else ())

    def answer(environ, start):
        return app.wsgi_app({**environ, DOOR: NET, "REMOTE_ADDR": "192.168.7.66",
                             "HTTP_HOST": f"{NAME}:8443", "wsgi.url_scheme": "https",
                             "HTTP_AUTHORIZATION": f"Bearer {token}"}, start)
    return answer


def operations():
    app = create_app(read_settings({"SPARES_STORE": "not-opened.sqlite"}))
    paths = app.test_client().get("/api/openapi.json").get_json()["paths"]
    return [(path, method) for path, item in paths.items()
            for method in item if method != "parameters"]


OPERATIONS = operations()


@pytest.mark.parametrize("asker", ASKERS)
@pytest.mark.parametrize(("path", "method"), OPERATIONS, ids=[" ".join(one) for one in OPERATIONS])
def test_what_is_made_from_the_document_is_answered_as_it_says(documents, path, method, asker):
    operation = documents[asker][path][method]

    @settings(max_examples=ASKERS[asker], deadline=None, database=None,
              derandomize=not LONG, phases=(Phase.generate,),
              suppress_health_check=list(HealthCheck))
    @given(data=st.data())
    def ask(data):
        case = data.draw(st.one_of(
            operation.as_strategy(), operation.as_strategy(
                generation_mode=schemathesis.GenerationMode.NEGATIVE)))
        answer = case.call(headers={"X-Spares": "1", "Accept-Encoding": "identity"})
        # Rightly so, whatever was asked; the generator knows it not.
        turned_away = answer.status_code in (403, 413, 414, 426, 429)
        assert asker == HERE or answer.status_code != 401
        case.validate_response(answer, checks=[
            one for one in CHECKS if not (turned_away and one is checks.negative_data_rejection)])
    ask()


@pytest.mark.parametrize("asker", ASKERS)
def test_who_asks_is_who_the_test_says(documents, asker):
    # Long enough to be packed, after the requests of a long run.
    answer = documents[asker]["/api/devices/me"]["GET"].Case().call(
        headers={"Accept-Encoding": "identity"})
    role = "skipper" if asker == HERE else asker
    assert (answer.json()["role"], answer.json()["here"]) == (role, asker == HERE)
