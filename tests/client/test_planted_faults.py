"""A fault planted in the modules of the client is noticed: each of these texts, changed, goes red.

The modules are copied, one place in the copy is changed, and the phones of the random histories
(or of a story) run on the copy.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from spares.errors import Stopped
from tests.client import node_phone
from tests.client import test_sync_phones as with_modules
from tests.client.node_phone import NodePhone
from tests.client.node_process import Node
from tests.sync import world as random_stories
from tests.sync.bench import NOW, VESSEL
from tests.sync.test_leaving import leave_after_a_restore
from tests.sync.test_new_number import (
    held_take_of_an_earlier_number_stays_before_the_count_after_it,
    leaver_is_not_told_that_what_was_approved_was_turned_down,
    number_of_what_was_approved_under_another,
)
from tests.sync.test_whole_changes import HERE, PART, Pair

TOP = Path(__file__).resolve().parents[2]
TRIES = 30

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")


def in_histories(**profile: Any) -> Callable[[pytest.MonkeyPatch], None]:
    """Play random histories; what is wrong raises."""
    def look(monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(random_stories, "Phone", NodePhone)
        for seed in range(TRIES):
            played = random_stories.build(seed)
            random_stories.play(played, 60, **profile)
            random_stories.bring_together(played)
            random_stories.check_copies(played)
            random_stories.check_causes(played)
            assert random_stories.silently_wrong(played) == []
            counts_as_the_server(played)
    return look


def counts_as_the_server(played: Any) -> None:
    """The phones' own counting gives what the server's gives."""
    cells = {key: (cell.quantity, cell.low, cell.high) for key, cell in random_stories.fold(
        played.server.entries()).items()}
    for phone in played.phones:
        assert cells == {(row["part"], row["locker"], row["lot"]):
                         (row["quantity"], row["low"], row["high"])
                         for row in phone.state()["cells"]}


def in_stories(monkeypatch: pytest.MonkeyPatch) -> None:
    """Play all stories to what was worked out by hand."""
    for case in with_modules.STORIES:
        with_modules.test_story_ends_with_the_phone_as_worked_out_by_hand(case, monkeypatch)


def behind_a_restore() -> tuple[Pair, NodePhone, Callable[..., dict[str, Any]], str]:
    """One made a change, another pulled it, a restore lost it; gives also how the other asks."""
    pair = Pair(NodePhone)
    other = NodePhone(VESSEL, pair.server.pair("other", "crew", NOW), lambda _: "")

    def send(request: dict[str, Any]) -> dict[str, Any]:
        return pair.server.handle("other", request, NOW)
    other.sync(send, NOW)
    pair.server.backup("before")
    ident = pair.record("put", locker=HERE, q=1000)
    pair.sync()
    other.sync(send, NOW)
    pair.server.restore("before")
    return pair, other, send, ident


def another_brings_it_back(_: pytest.MonkeyPatch) -> None:
    """What a restore lost comes back from a phone that is not its author's."""
    pair, other, send, ident = behind_a_restore()
    other.sync(send, NOW)
    assert [entry.id for entry in pair.server.entries()] == [ident]


def its_copy_stays_whole(_: pytest.MonkeyPatch) -> None:
    """Also between the new copy and the bringing back, while the net is gone."""
    _, other, send, ident = behind_a_restore()

    def cut_off(request: dict[str, Any]) -> dict[str, Any]:
        if request["relay"]:
            raise Stopped("the net is gone", stop="no_answer")
        return send(request)
    with suppress(Stopped):
        other.sync(cut_off, NOW)
    assert [entry.id for entry in other.entries()] == [ident]


def asked_with(hours: int) -> list[dict[str, Any]]:
    """Two taps, the clock moved by some hours between; gives the requests, one change each."""
    pair, asked = Pair(NodePhone), []
    pair.sync()

    def send(request: dict[str, Any]) -> dict[str, Any]:
        asked.append({**request, "ops": request["ops"][:1]})
        return pair.server.handle("t", asked[-1], NOW)
    for n in range(2):
        pair.phone.record(f"00000000-0000-4000-8000-{n:012x}", "put",
                          {"part": PART, "locker": HERE, "lot": "", "q": 1000},
                          NOW + n * hours * 3_600_000)
    pair.phone.sync(send, NOW + hours * 3_600_000)
    return asked


def clock_that_went_back_is_told(_: pytest.MonkeyPatch) -> None:
    """A phone says that it saw its own clock go back."""
    assert asked_with(-1)[0]["stepped"] and not asked_with(0)[0]["stepped"]


def doubt_is_kept(_: pytest.MonkeyPatch) -> None:
    """What is still unsent when the server doubts the clock says so when it is sent."""
    first, second = (request["ops"][0] for request in asked_with(24)[:2])
    assert "g" not in first and second["g"] == 1


QUIET = in_histories()

#: What is wrong, in which module, which text becomes which, and what must go red.
FAULTS: dict[str, tuple[str, str, str, Callable[[pytest.MonkeyPatch], None]]] = {
    "a change is sent and forgotten": (
        "sync/exchange.js", "ops: fitting(ops, most), relay,",
        "ops: fitting(ops, most).map((c) => { box.waiting.delete(c.n); return c; }), relay,",
        QUIET),
    "what was answered stays in the box": (
        "sync/box.js", "    box.waiting.delete(change.n);\n", "", QUIET),
    "numbers are used again": (
        "sync/box.js", "  box.made = change.n;\n", "", QUIET),
    "a reset is not heeded": (
        "sync/copy.js", "if (answer.reset) copy.rebuilt = newCopy();", "",
        another_brings_it_back),
    "nothing is brought back": (
        "sync/copy.js", "      copy.relay.push(envelope);\n", "", another_brings_it_back),
    "what was pulled anew does not keep what it lacks": (
        "sync/copy.js", "      keep(rebuilt, envelope);\n", "", its_copy_stays_whole),
    "numbers that are asked for are not brought": (
        "sync/copy.js", "if (envelope && !there.has(envelope.id)) copy.relay.push(envelope);", "",
        lambda _: leave_after_a_restore(NodePhone)),
    "a clock that went back is not noticed": (
        "sync/box.js", "box.stepped ||= clockMs < box.latest_t;", "",
        clock_that_went_back_is_told),
    "what was seen is not told": (
        "sync/copy.js", "({ seen: copy.seen, after: copy.latest })",
        "({ seen: null, after: \"\" })", in_stories),
    "a doubtful clock is not marked": (
        "sync/box.js", "box.waiting.set(n, { ...change, g: 1 });",
        "box.waiting.set(n, change);", doubt_is_kept),
    "what waits for the skipper keeps the number of before": (
        "sync/box.js",
        "elsewhere: {}, gone: [] });\n  box.held.clear();\n",
        "elsewhere: {}, gone: [] });\n  waiting.splice(0, waiting.length, ...unsent);\n",
        lambda _: held_take_of_an_earlier_number_stays_before_the_count_after_it(NodePhone)),
    "nobody knows what a number stood for": (
        "sync/box.js", "const made = found(box, copy, box.elsewhere[n]);", "const made = null;",
        lambda _: number_of_what_was_approved_under_another(NodePhone)),
    "what waits there no longer is taken for turned down": (
        "sync/box.js",
        "      box.made += 1;\n      box.waiting.set(box.made, { ...change, n: box.made });\n",
        "      box.refused.set(id, { change, code: \"rejected\", say: \"\" });\n",
        lambda _: leaver_is_not_told_that_what_was_approved_was_turned_down(NodePhone)),
    "movements before a count are added to it": (
        "domain/stock.js", "return side === undefined ? event.entry.at > base.entry.at",
        "return side === undefined ? true", QUIET),
    "everybody has seen everything": (
        "domain/stock.js", "if (!areConcurrent(one.entry, other.entry)) return false;",
        "return false;", QUIET),
}


@pytest.fixture
def node(tmp_path: Path) -> Iterator[Callable[[str, str, str], None]]:
    """Start the phones on a copy of the modules in which one text was changed."""
    script = tmp_path / "tests" / "client" / "sync_phones.js"
    script.parent.mkdir(parents=True)
    shutil.copy(TOP / "tests" / "client" / "sync_phones.js", script)
    for folder in ("sync", "domain", "standards"):
        shutil.copytree(TOP / "static" / folder, tmp_path / "static" / folder)
    (tmp_path / "package.json").write_text('{"type": "module"}')

    def start(module: str, text: str, instead: str) -> None:
        path = tmp_path / "static" / module
        source = path.read_text("utf-8")
        assert source.count(text) == 1, f"{module} has {source.count(text)} times: {text}"
        path.write_text(source.replace(text, instead), "utf-8")
        NodePhone.node = Node(str(script))
    yield start
    NodePhone.node.close()


@pytest.mark.parametrize("fault", FAULTS)
def test_noticed_when(fault: str, node: Callable[[str, str, str], None],
                      monkeypatch: pytest.MonkeyPatch) -> None:
    module, text, instead, look = FAULTS[fault]
    monkeypatch.setattr(node_phone, "MOST_ROUNDS", 40)
    node(module, text, text)
    if look is not QUIET:           # that holds in a test of its own
        look(monkeypatch)
    NodePhone.node.close()
    node(module, text, instead)
    with pytest.raises((AssertionError, KeyError)):
        look(monkeypatch)
