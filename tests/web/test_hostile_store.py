"""A store full of texts that would be scripts or commands is shown like any other."""

from __future__ import annotations

from pathlib import Path

import pytest

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests.hostile import HOSTILE, make_hostile
from tests.stores import DAY_ZERO, make_demo
from tests.web.conftest import ReadingClient
from tests.web.test_looking import SHAPES
from tests.web.test_papers import GOOD as PAPERS


@pytest.fixture(scope="module")
def hostile(tmp_path_factory):
    path: Path = make_demo(tmp_path_factory.mktemp("hostile"))
    make_hostile(path)
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}))
    app.test_client_class = ReadingClient
    yield app.test_client()
    store_of(app).close()


def test_s35_every_answer_about_a_hostile_store_is_plain_data(hostile):
    seen = 0
    for address in SHAPES:
        answer = hostile.get("/api/" + address)
        assert answer.status_code == 200, (address, answer.get_data(as_text=True)[:300])
        assert answer.mimetype == "application/json"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        seen += b"onerror=" in answer.data
    assert seen > len(SHAPES) // 3


@pytest.mark.parametrize("address", PAPERS)
def test_every_paper_of_a_hostile_store_is_printed(hostile, address):
    name, _, query = address.partition(".pdf")
    answer = hostile.get(f"/api/papers/{name}.pdf{query}")
    assert answer.status_code == 200, answer.get_data(as_text=True)[:300]
    assert answer.data.startswith(b"%PDF-")


@pytest.mark.parametrize("address", ["export/json", "export/csv", "export/ics"])
def test_a_hostile_store_goes_out(hostile, address):
    assert hostile.get(f"/api/{address}").status_code == 200


def test_a_hazard_without_a_caution_is_named_with_the_machine(hostile):
    cautions = hostile.get("/api/things/HBR").json["cautions"]
    assert [one for one in cautions if one["mark"] == HOSTILE and "hazard" in one["text"]]
