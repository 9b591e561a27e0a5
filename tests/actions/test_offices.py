"""An office asks a vessel's own server that is slow, hostile, or other than it thought."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from datetime import date
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from spares.actions import her_server, letters, meeting, sync
from spares.actions.context import Context, clock_ms, open_context
from spares.actions.devices import pair
from spares.actions.her_server import HerServer
from spares.actions.identify import identify
from spares.actions.offices import meet_all, take_paper
from spares.actions.photo_exchange import exchange_photos
from spares.actions.several import aboard_of
from spares.config import read_settings
from spares.db import devices, sync_store
from spares.db.before_writing import seen_in
from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.db.find import head_of
from spares.db.sync_store import SyncStore
from spares.domain.draft import Draft, setting
from spares.errors import Ambiguous, Conflict, InvalidInput, Stopped, StoreBusy
from spares.sync import meeting as her_meeting
from spares.sync.store import OFFICE
from tests.stores import DAY_ZERO

TODAY = date.fromisoformat(DAY_ZERO)
VESSEL, OTHER = "00000000-0000-4000-8000-0000000000aa", "00000000-0000-4000-8000-0000000000bb"
PART, LOCKER = f"part/{uuid4()}", f"locker/{uuid4()}"
ASKED: dict[str, Any] = {"now": 1_000_000, "want": 1000, "relay": []}
Says = tuple[int, dict[str, str], bytes]


class Answering(BaseHTTPRequestHandler):
    """Says what the test wants it to, and keeps what it was asked."""

    def do_POST(self) -> None:
        """Answer one request."""
        raw = self.rfile.read(int(self.headers["Content-Length"]))
        self.server.asked.append(raw)
        status, headers, body = self.server.says(raw)
        self.send_response(status)
        for name, value in {**headers, "Content-Length": str(len(body))}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    do_GET = do_POST

    def handle_one_request(self) -> None:
        """Leave one who has gone away alone."""
        with suppress(BrokenPipeError):
            super().handle_one_request()

    def log_message(self, *_: object) -> None:
        """Leave the terminal to the tests."""


@pytest.fixture
def there() -> Iterator[Any]:
    """Something that listens where her server should."""
    server: Any = HTTPServer(("127.0.0.1", 0), Answering)
    server.asked, server.waits = [], []
    server.her = HerServer({"address": f"http://127.0.0.1:{server.server_port}", "token": "t",
                            "authority": ""}, wait=server.waits.append)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    yield server
    server.shutdown()
    thread.join()
    server.server_close()


def fine(_: bytes) -> Says:
    return 200, {}, b'{"more": false}'


def test_one_who_always_asks_for_patience_is_left_in_the_end(
        there: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(her_server, "MOST_WAITS", 3)
    there.says = lambda raw: (429, {"Retry-After": "0"}, b"{}")
    with pytest.raises(StoreBusy):
        there.her(ASKED)
    assert len(there.waits) == len(her_server.TRIES) * 3
    assert min(there.waits) >= 1


def test_request_that_is_too_large_is_sent_in_smaller_parts(there: Any) -> None:
    there.says = lambda raw: fine(raw) if len(json.loads(raw)["relay"]) <= 2 else (413, {}, b"{}")
    assert there.her({**ASKED, "relay": [{"n": at} for at in range(8)]}) == {"more": False}


def test_letters_beyond_ascii_take_no_more_room_than_they_need(there: Any) -> None:
    there.says = fine
    there.her({**ASKED, "relay": [{"note": "λ" * 250_000}]})
    assert len(there.asked[0]) < 501_000        # two bytes each in UTF-8


def test_clock_goes_on_while_it_waits(there: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    seconds = [0.0]
    monkeypatch.setattr(her_server.time, "monotonic", lambda: seconds[0])

    def wait(waited_s: float) -> None:
        seconds[0] += waited_s

    there.her._wait = wait
    there.says = lambda raw: (429, {"Retry-After": "60"}, b"{}") if len(there.asked) < 4 else \
        fine(raw)
    there.her(ASKED)
    assert [json.loads(raw)["now"] for raw in there.asked] == [1_000_000 + 60_000 * at
                                                                for at in range(4)]


def test_what_drips_for_ever_is_ended(there: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(her_server, "LONGEST_S", 0.2)
    over = threading.Event()

    def drip(_: bytes) -> Says:
        over.wait(20)
        return fine(b"")

    there.says = drip
    with pytest.raises(StoreBusy):
        there.her.ask("GET", "/api/photos/missing", b"")
    over.set()


def test_what_is_no_answer_of_a_server_is_no_more_than_a_fault(there: Any) -> None:
    for body in (b"[" * 9999, b"<html>", b'{"a": NaN}'):
        there.says = lambda raw, body=body: (200, {}, body)
        with pytest.raises(StoreBusy):
            there.her(ASKED)


def test_refusal_is_told_as_one_line_without_signs_for_a_terminal(there: Any) -> None:
    there.says = lambda raw: (403, {}, json.dumps({"detail": "no\n\x1b[2J" + "x" * 9999}).encode())
    with pytest.raises(Stopped) as err:
        there.her(ASKED)
    assert err.value.detail.isprintable() and len(err.value.detail) <= her_server.LONGEST_SAID


NO_LISTS = (b"{}", b"[]", b"x", b'{"missing": [{"sha256": "../../key"}]}',
            b'{"missing": [{"sha256": 7}]}', b'{"missing": 7}')


def test_list_of_photos_that_is_none_is_no_more_than_a_fault(there: Any, ashore: Store) -> None:
    there.her.ask = lambda method, path: her_server.HerServer.ask(there.her, method, path, b"")
    for said in NO_LISTS:
        there.says = lambda raw, said=said: (200, {}, said)
        with pytest.raises(Stopped):
            exchange_photos(Context(ashore, VESSEL, TODAY), there.her)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Both stores, once: the vessel's own with an office let in, and the office's after a meeting.
    """
    folder = tmp_path_factory.mktemp("made")
    store, office = open_store(folder / "aboard.sqlite"), open_store(folder / "ashore.sqlite")
    with store.writing() as session:
        key = found_vessel(session, VESSEL).key
        submit(session, VESSEL, [
            setting(f"vessel/{VESSEL}", mark="TGL", name="Tangloppe"),
            setting(PART, no="P001", name="Impeller", unit="piece"),
            setting(LOCKER, no="L01", name="Port"),
            setting(f"trip/{uuid4()}", no="T1", name="Ålborg og hjem"),
            setting(f"machine/{uuid4()}", no="pø", name="Pump")], wall_ms=clock_ms())
    pair(store, VESSEL, "token", name="office", role="crew", grants=(OFFICE,))
    meeting.follow(office, VESSEL, key, address="http://127.0.0.1:1", token="token",
                   authority="", mark="TGL", name="Tangloppe")
    meeting.meet(office, VESSEL, sends(store))
    store.close()
    office.close()
    return folder


@pytest.fixture
def aboard(made: Path, tmp_path: Path) -> Iterator[Store]:
    """The vessel's own store."""
    yield from copied(made / "aboard.sqlite", tmp_path)


@pytest.fixture
def ashore(made: Path, tmp_path: Path) -> Iterator[Store]:
    """The office's store."""
    yield from copied(made / "ashore.sqlite", tmp_path)


def copied(made: Path, folder: Path) -> Iterator[Store]:
    path = folder / made.name
    path.write_bytes(made.read_bytes())
    store = open_store(path)
    yield store
    store.close()


def sends(aboard: Store, spoil: Callable[[dict[str, Any]], Any] = lambda answer: answer
          ) -> Callable[[dict[str, Any]], Any]:
    """Give what hands a request to the vessel's store."""
    with aboard.reading() as session:
        dev = sync.devices.by_token(session, "token").dev

    def send(request: dict[str, Any]) -> Any:
        return spoil(json.loads(json.dumps(sync.sync(
            aboard, VESSEL, dev, json.dumps(request).encode(), wall_ms=clock_ms(), boot="one"))))
    return send


def put(store: Store, q: int = 1000) -> None:
    with store.writing(VESSEL) as session:
        submit(session, VESSEL, [Draft("put", {"part": PART, "locker": LOCKER, "lot": "", "q": q})],
               wall_ms=clock_ms())


def head(store: Store) -> Any:
    with store.reading() as session:
        return head_of(session, VESSEL)


MALFORMED: dict[str, Callable[[dict[str, Any]], Any]] = {
    "nothing": lambda answer: {},
    "a row that is none": lambda answer: {**answer, "changes": [["envelope"]]},
    "a row without its number": lambda answer: {**answer, "changes": [{"envelope": {}}]},
    "epochs that are none": lambda answer: {**answer, "epochs": [[{}, "1"]]},
    "results that are none": lambda answer: {**answer, "relayed": ["ok"]},
    "a cursor that is none": lambda answer: {**answer, "cursor": {"epoch": 1}},
}


def test_answer_that_cannot_be_read_stops_the_meeting_and_changes_nothing(
        aboard: Store, ashore: Store) -> None:
    for store in (aboard, ashore):
        put(store)
    before = head(ashore)
    for what, spoil in MALFORMED.items():
        with pytest.raises(Stopped) as err:
            meeting.meet(ashore, VESSEL, sends(aboard, spoil))
        assert (err.value.facts["stop"], head(ashore)) == ("malformed", before), what


def test_vessel_that_cannot_be_met_keeps_no_other_from_being_met(ashore: Store) -> None:
    bad = ({"address": "http://far.example"}, {"address": "https://[", "authority": "x"},
           {"address": "https://far.example", "authority": "no certificate"},
           {"address": "https://far.example", "authority": "æ"})
    for at, known in enumerate(bad):
        meeting.follow(ashore, OTHER[:-1] + str(at), bytes(32), **{
            "token": "t", "authority": "", "mark": f"O{at}", "name": "", **known})
    met = meet_all(ashore)
    assert [one["mark"] for one in met] == ["TGL", "O0", "O1", "O2", "O3"]
    assert all(one["fault"] for one in met) and "no way" in met[0]["fault"]


def test_two_vessels_with_one_mark_are_never_taken_for_each_other(ashore: Store) -> None:
    """The second comes by a paper, or takes the first one's mark later, aboard."""
    paper = {"spares_office": 1, "vessel": OTHER, "key": "00" * 32, "address": "", "token": "t",
             "mark": "tgl", "name": "Tanglop", "authority": ""}
    with pytest.raises(Conflict, match="bears the mark tgl"):
        take_paper(ashore, paper)
    assert take_paper(ashore, {**paper, "mark": "TNG"}) == OTHER
    with ashore.writing(OTHER) as session:
        submit(session, OTHER, [setting(f"vessel/{OTHER}", mark="TGL", name="Tanglop")], wall_ms=1)
    named = lambda mark: open_context(read_settings({}), mark, store=ashore)  # noqa: E731
    with pytest.raises(Ambiguous) as caught:
        named("tgl")
    assert {one["id"] for one in caught.value.facts["candidates"]} == {VESSEL, OTHER}
    for vessel in (VESSEL, OTHER):
        assert named(vessel).vessel == aboard_of(named(VESSEL), vessel).vessel == vessel
    assert [one["mark"] for one in meet_all(ashore, mark=OTHER)] == ["TGL"], "hers of now"
    with ashore.writing() as session:
        for vessel in (VESSEL, OTHER):
            devices.pair(session, vessel, "two", name="phone", role="crew", now_ms=1)
    with pytest.raises(Ambiguous):
        identify(ashore, "two", "TGL")
    assert identify(ashore, "two", OTHER).vessel == OTHER


def test_meeting_that_never_ends_is_given_up(aboard: Store, ashore: Store,
                                             monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(meeting, "MOST_ROUNDS", 3)
    with pytest.raises(StoreBusy):
        meeting.meet(ashore, VESSEL, sends(aboard, lambda answer: {**answer, "more": True}))


def altered(file: dict[str, Any], part: str) -> list[dict[str, Any]]:
    """Give a letter or answer with something else in each thing that no row's seal protects."""
    first = file[part][0]
    return [{**file, "cursor": None}, {**file, "seal": "0" * 64}, {**file, "seal": None},
            {name: value for name, value in file.items() if name != "seal"},
            *({**file, part: [{**first, **change}, *file[part][1:]]}
              for change in ({"epochs": [["0" * 16, 3]]}, {"relay": [], "relayed": []}))]


def test_letter_or_answer_that_was_altered_is_not_taken(aboard: Store, ashore: Store) -> None:
    ctx = Context(aboard, VESSEL, TODAY)
    for store in (aboard, ashore):
        put(store)
    letter = json.loads(json.dumps(letters.write_letter(ashore, VESSEL)))
    before = head(aboard), head(ashore)
    for one in (*altered(letter, "requests"), {**letter, "vessel": OTHER}, {}, []):
        with pytest.raises(InvalidInput):
            letters.answer_letter(one, ctx)
    assert head(aboard) == before[0]
    answer = json.loads(json.dumps(letters.answer_letter(letter, ctx)))
    for one in (*altered(answer, "answers")[1:], {**answer, "vessel": OTHER}, {}, []):
        with pytest.raises(InvalidInput):
            letters.take_answer(ashore, one)
    assert head(ashore) == before[1]
    assert letters.take_answer(ashore, answer)["taken"] == 1
    assert head(ashore) == head(aboard)


def test_what_is_learnt_of_places_shows_though_the_log_stays(aboard: Store) -> None:
    """The count was made in an epoch of the office, by one who had seen the take before it."""
    ctx = Context(aboard, VESSEL, TODAY)
    assert ctx.remembered("how often", lambda: [1]) == ctx.remembered("how often", lambda: [2])
    was, log = ctx.aboard(), head(aboard)
    with aboard.writing(VESSEL) as session:
        store = SyncStore(session, VESSEL)
        store.learn_epochs([("0123456789abcdef", 3)])
        store.close()
    assert head(aboard) == log
    assert ctx.aboard() is not was and ctx.remembered("how often", lambda: [2]) == [2]


def test_what_several_ask_for_at_once_is_computed_once(aboard: Store) -> None:
    ctx, made = Context(aboard, VESSEL, TODAY), []

    def slowly() -> list[int]:
        made.append(threading.get_ident())
        time.sleep(0.05)        # in which the others come
        return [1]
    with ThreadPoolExecutor(4) as threads:
        found = list(threads.map(lambda _: ctx.remembered("asked by four", slowly), range(4)))
    assert len(made) == 1 and all(one is found[0] for one in found)


def test_any_number_of_epochs_is_learnt_at_once(aboard: Store) -> None:
    with aboard.reading() as session:
        assert seen_in(session, VESSEL, {f"{at:016x}": 0 for at in range(2000)}) == []


def test_her_log_is_not_looked_through_for_each_page_of_a_long_meeting(
        aboard: Store, ashore: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[int] = []

    def counted(session: Any, vessel: str, epochs: dict[str, int]) -> list[str]:
        looked.append(head_of(session, vessel)[0] - min(epochs.values()))
        return seen_in(session, vessel, epochs)
    monkeypatch.setattr(sync_store, "seen_in", counted)
    monkeypatch.setattr(her_meeting, "MOST_WANTED", 5)
    for _ in range(100):
        put(aboard)
    meeting.meet(ashore, VESSEL, sends(aboard))
    assert head(ashore) == head(aboard)
    assert len(looked) > 10 and sum(looked) < 1.5 * head(aboard)[0]


def test_names_beyond_a_to_z_are_found_in_small_and_capital(aboard: Store) -> None:
    ctx = Context(aboard, VESSEL, TODAY)
    for kind, names in (("trip", ("Ålborg og hjem", "ÅLBORG OG HJEM")), ("machine", ("pø", "PØ"))):
        for asked in names:
            assert ctx.named(asked, kind, kind).startswith(f"{kind}/")
