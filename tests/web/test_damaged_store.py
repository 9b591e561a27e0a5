"""A store whose file was damaged while the server runs: said plainly, with the way out."""

from __future__ import annotations

import pytest

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests.stores import DAY_ZERO, make_demo

PAGE_BYTES = 4096


@pytest.fixture
def damaged(tmp_path):
    """A client of a server whose store's pages, all but the first, were overwritten."""
    path = make_demo(tmp_path)
    whole = path.read_bytes()
    path.write_bytes(whole[:PAGE_BYTES] + b"\xa5" * (len(whole) - PAGE_BYTES))
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}))
    yield app.test_client()
    store_of(app).close()


@pytest.mark.parametrize("ask", ["summary", "find?q=impeller", "lockers", "check"])
def test_damaged_store_is_a_problem_that_names_the_way_out(damaged, ask):
    answer = damaged.get(f"/api/{ask}")
    assert answer.status_code == 503
    assert answer.content_type == "application/problem+json"
    assert "spares restore FILE" in answer.get_json()["detail"]
    assert "Traceback" not in answer.text and ".py" not in answer.text
