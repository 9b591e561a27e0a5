"""How far a file is that is brought in, and that a stop leaves nothing of it."""

from __future__ import annotations

import pytest

from spares.actions import bring_in as bringing_in
from spares.web.schemas.bringing import ProgressAnswer
from tests.problems import is_problem
from tests.stores import as_before
from tests.web.crew import Crew

ROWS = 5
PARTS = "no;name\n" + "".join(f"P90{n};Lamp {n}\n" for n in range(ROWS))


def post(client, **query):
    return client.post("/api/import", data=PARTS, content_type="text/csv",
                       query_string={"name": "parts.csv", "vessel": "TGL", **query})


@pytest.fixture
def far(demo, monkeypatch):
    """What was told after each change, told one by one; asks to stop before the one `stop_at`."""
    seen, when = [], {"stop_at": None}
    monkeypatch.setattr(bringing_in, "AT_ONCE", 1)
    really = bringing_in.submit

    def submit(*given, **named):
        answer = demo.get("/api/bringing?progress=mine").get_json()
        assert ProgressAnswer().validate(answer) == {}
        seen.append((answer["done"], answer["of"]))
        if when["stop_at"] == len(seen) - 1:
            assert demo.post("/api/bringing/stop?progress=mine").status_code == 200
        return really(*given, **named)
    monkeypatch.setattr(bringing_in, "submit", submit)
    return seen, when


def test_each_change_is_told_while_the_file_comes_in(demo, far):
    seen, _ = far
    assert demo.get("/api/bringing?progress=mine").get_json() == {"done": 0, "of": 0}
    of = post(demo, progress="mine").get_json()["changes"]
    assert of >= ROWS and seen == [(n, of) for n in range(of)]
    assert demo.get("/api/bringing?progress=mine").get_json() == {"done": of, "of": of}


@pytest.mark.parametrize("stop_at", [0, 2])
def test_a_stop_before_the_end_leaves_nothing(demo, far, own_surroundings, stop_at):
    seen, when = far
    when["stop_at"] = stop_at
    with as_before(own_surroundings):
        told = is_problem(post(demo, progress="mine"), 409)
    assert told["type"] == "/problems/given-up" and len(seen) == stop_at + 1
    assert post(demo).get_json()["changes"] > 0, "and can be brought in after all"


def test_a_stop_at_the_last_change_comes_too_late_and_says_so(demo, far):
    seen, when = far
    when["stop_at"] = post(demo, look=True).get_json()["changes"] - 1
    answer = post(demo, progress="mine")
    assert answer.status_code == 200 and answer.get_json()["changes"] == len(seen)


def test_a_phone_does_not_stop_it(boat):
    is_problem(Crew(boat, "skipper").client.post("/api/bringing/stop?progress=mine"), 403)
