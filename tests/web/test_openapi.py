"""The OpenAPI document against the server: what fits the document is answered as it says.

A generator (schemathesis) makes requests from the document, right ones and wrong ones, and
holds every answer against it: status, type, shape, Allow header, and never a fault of ours.
"""

from __future__ import annotations

import shutil

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from schemathesis.checks import load_all_checks, not_a_server_error
from schemathesis.specs.openapi import checks

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests.conftest import LONG
from tests.stores import DAY_ZERO, make_demo

load_all_checks()
CHECKS = (not_a_server_error, checks.status_code_conformance, checks.content_type_conformance,
          checks.response_schema_conformance, checks.negative_data_rejection,
          checks.allow_header_conformance)
EXAMPLES = 150 if LONG else 4


@pytest.fixture(scope="module")
def document(tmp_path_factory):
    """The document of a server on a copy of the demo that may be written to."""
    path = make_demo(tmp_path_factory.mktemp("openapi"))
    shutil.copy(path, path.with_name("copy.sqlite"))
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}))
    yield schemathesis.openapi.from_wsgi("/api/openapi.json", app)
    store_of(app).close()


def operations():
    app = create_app(read_settings({"SPARES_STORE": "not-opened.sqlite"}))
    paths = app.test_client().get("/api/openapi.json").get_json()["paths"]
    return [(path, method) for path, item in paths.items()
            for method in item if method != "parameters"]


OPERATIONS = operations()


@pytest.mark.parametrize(("path", "method"), OPERATIONS, ids=[" ".join(one) for one in OPERATIONS])
def test_what_is_made_from_the_document_is_answered_as_it_says(document, path, method):
    operation = document[path][method]

    @settings(max_examples=EXAMPLES, deadline=None, database=None, derandomize=not LONG,
              phases=(Phase.generate,), suppress_health_check=list(HealthCheck))
    @given(data=st.data())
    def ask(data):
        case = data.draw(st.one_of(
            operation.as_strategy(), operation.as_strategy(
                generation_mode=schemathesis.GenerationMode.NEGATIVE)))
        answer = case.call(headers={"X-Spares": "1", "Accept-Encoding": "identity"})
        too_long = answer.status_code in (413, 414)     # rightly so; the generator knows it not
        case.validate_response(answer, checks=[
            one for one in CHECKS if not (too_long and one is checks.negative_data_rejection)])
    ask()
