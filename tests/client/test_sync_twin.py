"""Do phone and server count, merge and check alike, on histories that nobody thought of?

Neither side gives the expected values: the cases worked out by hand do that, on both sides.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spares.domain.movements import Entry
from spares.domain.search_text import search, search_line
from spares.domain.service.meter import Reading, reading_doubt
from spares.domain.stock import fold
from spares.errors import Refused
from spares.sync.change import canonical, parse_change
from spares.sync.merge import read_document
from tests.client.node_process import Node
from tests.conftest import LONG
from tests.histories import histories

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")

TAKEN = [case["given"] for case in json.loads(
    (Path(__file__).parents[1] / "vectors/change/taken.json").read_text("utf-8"))["cases"]]
ODD = [None, True, -1, 0, 1, 2**53, 10**9 + 1, "", "x", "\ud800", "a\x00b", "é" * 2001, [], {}, [1],
       {"x": 1}, "part/00000000-0000-4000-8000-000000000001", "2027-02-30", "0000", "2024-02-29",
       {"__proto__": 1}, "-0.5", [[[[[[1]]]]]]]


@pytest.fixture(scope="module")
def node() -> Iterator[Node]:
    """The phone's modules."""
    process = Node("sync_answers.js")
    yield process
    process.close()


def _plain(value: Any) -> Any:
    return json.loads(json.dumps(value))


@settings(max_examples=2_000 if LONG else 60)
@given(entries=histories())
def test_phone_counts_any_history_as_the_server_does(node: Node, entries: list[Entry]) -> None:
    ours = [{"part": part, "locker": locker, "lot": lot, **asdict(cell)}
            for (part, locker, lot), cell in fold(entries).items()]
    theirs = node.ask("fold", entries=[asdict(entry) for entry in entries])["answer"]
    by_cell = lambda row: (row["part"], row["locker"], row["lot"])  # noqa: E731
    assert sorted(theirs, key=by_cell) == sorted(_plain(ours), key=by_cell)


@st.composite
def _edits(draw: st.DrawFn) -> list[Entry]:
    """Draw edits of two documents, each standing on any of the versions before it."""
    made: list[Entry] = []
    for seq in range(1, draw(st.integers(2, 12))):
        dev = draw(st.sampled_from("AB"))
        names = draw(st.sets(st.sampled_from(["name", "note", "gone"]), min_size=1))
        fields = {name: draw(st.booleans()) if name == "gone" else draw(
            st.sampled_from(["x", 5, {"b": 1, "a": [2]}, None])) for name in sorted(names)}
        base = {name: draw(st.lists(st.sampled_from([e.id for e in made]), max_size=2))
                for name in fields if made}
        seen = {"epoch": "0" * 16, "seq": draw(st.integers(0, seq - 1))}
        at = f"{draw(st.integers(1, 9)):012x}.{seq:04x}.{dev}"
        made.append(Entry(f"s{seq}", dev, seq, "set", at, 0, seen, {"0" * 16: seq},
                          {"doc": draw(st.sampled_from(["part/1", "part/2"])), "f": fields,
                           "base": base}))
    return made


@given(entries=_edits())
def test_phone_reads_documents_as_the_server_does(node: Node, entries: list[Entry]) -> None:
    theirs = node.ask("documents", entries=[asdict(entry) for entry in entries])["answer"]
    assert set(theirs) == {entry.body["doc"] for entry in entries}
    for doc, found in theirs.items():
        ours = read_document(entries, doc)
        assert ours is not None and found == _plain(asdict(ours))


_SAID = st.lists(st.sampled_from(
    ["Impeller", "impellers", "Kühlwasser", "1½", "ØRSTED", "seal", "KR 10-034", "neoprene",
     "ﬁlter", "12 V", "M8x30"]), min_size=1, max_size=4).map(" ".join)
_NUMBER = st.sampled_from(["KR 10-034", "FH-ZN-38", "10034", "77/1", "NTQ 6203-2RS"])
_TYPED = st.one_of(_SAID, _NUMBER, st.sampled_from(
    ["imp", "impelelr", "kuhl", "1 1/2", "orsted", "034", "10-03", "filtre", "sael", "6203",
     "neo imp", "m8", "xyzzy", "-", "fi"]))


@given(query=_TYPED, texts=st.lists(st.tuples(_SAID, st.lists(_NUMBER, max_size=2)), max_size=8))
def test_phone_finds_what_the_server_finds_in_the_same_order(
        node: Node, query: str, texts: list[tuple[str, list[str]]]) -> None:
    lines = [search_line(f"k{place}", text, numbers)
             for place, (text, numbers) in enumerate(texts)]
    theirs = node.ask("search", query=query, texts=[
        {"key": f"k{place}", "text": text, "numbers": numbers}
        for place, (text, numbers) in enumerate(texts)])["answer"]
    assert theirs == search(query, lines)


_READING = st.builds(
    Reading, st.dates(date(2026, 1, 1), date(2026, 3, 1)), st.integers(0, 4000),
    st.sampled_from([False, False, False, True]), st.sampled_from([None, None, None, "wet dial"]),
    st.sampled_from([False, False, True]))


def _told(reading: Reading) -> dict[str, Any]:
    return {"on": reading.on.isoformat(), "minutes": reading.minutes,
            "new_counter": reading.new_counter, "doubt": reading.doubt,
            "corrects": reading.corrects}


@given(history=st.lists(_READING, max_size=6), reading=_READING)
def test_phone_asks_about_the_readings_that_the_server_asks_about(
        node: Node, history: list[Reading], reading: Reading) -> None:
    ours = reading_doubt(history, reading)
    theirs = node.ask("doubt", history=[_told(one) for one in history], reading=_told(reading))
    assert theirs["answer"] == (ours.code if ours else None)


@st.composite
def _bent(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a good change with one thing in it bent, taken away or added."""
    change = json.loads(json.dumps(draw(st.sampled_from(TAKEN))))
    at = draw(st.sampled_from([change, change["body"], change["body"].get("f", change["body"])]))
    name = draw(st.sampled_from([*at, "added"]))
    if name in at and draw(st.booleans()):
        del at[name]
    else:
        at[name] = draw(st.sampled_from(ODD))
    return change


@given(change=_bent())
def test_phone_refuses_what_the_server_refuses_and_with_its_code(
        node: Node, change: dict[str, Any]) -> None:
    try:
        parsed = parse_change(json.loads(json.dumps(change)))
    except Refused as err:
        assert node.ask("parse", change=change) == {"refused": err.facts["reason"]}
    else:
        said = node.ask("parse", change=change)["answer"]["canonical"]
        assert said == canonical(parsed.to_json()).decode()
