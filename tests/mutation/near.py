"""The collected tests: what each comes near, how long it takes, and in which order to ask them."""

from __future__ import annotations

import functools
import gc
import inspect
import json
import sys
import time
import traceback
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import pytest

from spares.domain.fit import load_sheets
from tests.mutation.code import Mutant
from tests.mutation.forks import in_child
from tests.mutation.phone import Phone

OUTSIDE = (
    *(f"tests/published/test_{name}.py" for name in (
        "belts", "cooling_and_torque", "seals_and_bearings", "tables", "threads")),
    *(f"tests/vectors/test_{name}.py" for name in ("fit", "fit_lines", "remembered")),
    *(f"tests/domain/test_{name}.py" for name in (
        "code_spellings", "cooling_limits", "fit_codes", "fit_edges", "fit_limits",
        "fit_places", "fit_refusals", "fit_rows", "fit_told", "fit_unsaid", "named_changes",
        "own_kind_sheets", "sheet_folder", "standards", "trade_spellings")))
ALSO_FOR_CODE = ("spares/domain/fit", "spares/domain/cooling.py", "spares/domain/torque.py",
                 "tests/client/test_fit_twin.py")
TWIN = "answer_random_requests_alike"
# fixtures that every test has, and the rules of the fit check have no use for
USELESS = {"own_surroundings", "stores_of_this_run", "kind_of_store", "new_stores",
           "empty_folders", "tmp_path_factory", "monkeypatch", "request", "pytestconfig",
           "_pw_trace_api_requests", "delete_output_dir"}


class Tests:
    """The collected tests, with how long each takes and what it comes near."""

    def __init__(self, items: Sequence[pytest.Item], phone: Phone | None = None) -> None:
        self.items = {item.nodeid: item for item in items}
        self.phone = phone
        self.known: set[tuple[str, ...]] = set()
        self.near: dict[str, set[tuple[str, ...]]] = {}
        self.seconds: dict[str, float] = {}
        self.failing: list[str] = []
        self.killers: dict[tuple[str, ...], Counter[str]] = defaultdict(Counter)

    def look(self, *, data_alone: bool = False) -> None:
        """Run all once in a child, unchanged; note what each comes near, and which fail."""
        if data_alone:
            self.items = {n: i for n, i in self.items.items() if n.startswith(OUTSIDE)}
            self.phone = None
        found = json.loads(in_child(self._walk))
        self.failing = found["failed"]
        self.near = {name: set(map(tuple, near)) for name, near in found["near"].items()}
        self.seconds = found["seconds"]
        if self.phone:
            self.phone.near = [set(map(tuple, near)) for near in found["phone"]]
        self.known = set().union(*self.near.values())

    def hold(self, names: Iterable[str]) -> None:
        """Run the tests of *names* once in a child, unchanged; note which fail."""
        items = [self.items[name] for name in sorted(set(names) & set(self.items))]
        self.failing = json.loads(in_child(lambda: json.dumps(
            [item.nodeid for item in items if run_item(item)])))

    def _walk(self) -> str:
        near: dict[str, list[tuple[str, ...]]] = {}
        seconds, failed, kinds = {}, [], {(kind,) for kind in load_sheets()}
        for name, item in self.items.items():
            seen: set[tuple[str, ...]] = set()
            forget("/tables/")
            start = time.perf_counter()
            if _watched(functools.partial(run_item, item), seen):
                failed.append(name)
            seconds[name] = time.perf_counter() - start
            if ("sheets",) in seen and not {at for at in seen if at in kinds}:
                seen.update(kinds)      # it looks at sheets themselves, whichever they are
            near[name] = sorted(seen)
        phone = self.phone.look(_places_of) if self.phone and not failed else []
        return json.dumps({"near": near, "seconds": seconds, "failed": failed,
                           "phone": [sorted(places) for places in phone]})

    def in_order(self, mutant: Mutant) -> list[pytest.Item]:
        """Give the tests that may notice a mutant, likeliest first."""
        earlier, wide = self.killers[mutant.place], self.killers[mutant.place[:1]]
        names = [n for n in self.items if not mutant.data or n.startswith(OUTSIDE)]
        if near := self.near_enough(mutant):
            names = [n for n in names if not self.near[n] or near & self.near[n]] or names

        def rank(name: str) -> tuple[Any, ...]:
            touched = len(set(_parts(mutant.place)) & self.near.get(name, set()))
            return -earlier[name], -touched, -wide[name], self.seconds.get(name, 0)
        return [self.items[n] for n in sorted(names, key=rank)]

    def near_enough(self, mutant: Mutant) -> set[tuple[str, ...]]:
        """Give what a test must have noted, one of them; nothing where all are to be asked."""
        if not self.near or mutant.place[0].endswith(_BUILDERS):
            return set()
        if len(mutant.place) == 3:      # a line of a kind
            return {mutant.place[1:2]}
        return {mutant.place} if mutant.place in self.known else {mutant.place[:1]}

    def learn(self, mutant: Mutant, killer: str) -> None:
        """Remember who killed, for the next mutant of the place."""
        if killer in self.items:
            self.killers[mutant.place][killer] += 1
            self.killers[mutant.place[:1]][killer] += 1


def _parts(place: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Give what a test may have noted of a place: a function, a kind with line, a table."""
    if len(place) == 3:
        return [place[1:], place[1:2]]
    return [place]


def _watched(work: Callable[[], Any], seen: set[tuple[str, ...]]) -> Any:
    sys.setprofile(functools.partial(_note, seen))
    try:
        return work()
    finally:
        sys.setprofile(None)


def _places_of(work: Callable[[], object]) -> set[tuple[str, ...]]:
    seen: set[tuple[str, ...]] = set()
    _watched(work, seen)
    return seen


def _note(seen: set[tuple[str, ...]], frame: Any, event: str, _arg: Any) -> None:
    if event != "call":
        return
    code = frame.f_code
    at = code.co_filename.find("spares/")
    if at < 0 or "site-packages" in code.co_filename:
        return
    file = code.co_filename[at:]
    if code.co_qualname == "named_changes":
        seen.add(("changes",))
    elif code.co_qualname == "table" and file.startswith("spares/standards"):
        seen.add((f"spares/standards/tables/{frame.f_locals['table_id']}.json",))
    elif code.co_qualname == "load_sheets":
        seen.add(("sheets",))
    elif code.co_qualname == "check_fit":
        asked = frame.f_locals["request"]
        seen.add((asked.kind,))
        seen.update((asked.kind, claim.attr) for claim in (*asked.requires, *asked.offers))
    if file.startswith(("spares/domain/fit", "spares/domain/cooling", "spares/domain/torque")):
        seen.update(((file,), (file, code.co_qualname.split(".<locals>")[0])))


_BUILDERS = ("sheets.py", "sheet_shape.py")      # run once, and every test stands on them
_SHEETS = ("_own_sheets", "named_changes")


@functools.cache
def _caches() -> list[tuple[str, Callable[[], None]]]:
    gc.unfreeze()       # what is frozen after collecting the tests is not listed
    return [(one.__name__, one.cache_clear) for one in gc.get_objects()
            if isinstance(one, functools._lru_cache_wrapper)
            and str(getattr(one, "__module__", "")).startswith("spares")]


def forget(file: str = "") -> None:
    """Empty the caches that a change of *file* might reach; all of them without one."""
    keep: tuple[str, ...] = ()
    if "/tables/" in file:
        keep = _SHEETS
    elif file.endswith(".toml"):
        keep = ("table", "table_ids")
    elif file and not file.endswith(_BUILDERS):
        keep = ("table", "table_ids", *_SHEETS)
    for name, clear in _caches():
        if name not in keep:
            clear()


class NotTheMutant(Exception):
    """A test broke where no mutant is: in its fixtures, or on files. That is no answer."""


class Heard:
    """A pytest plugin that hears whether a test failed which cannot be called straight."""

    failed = False
    elsewhere = ""      # what broke outside the test and the rules, by which nothing is shown

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_makereport(self, item: pytest.Item, call: pytest.CallInfo[None]) -> None:
        """Note an error that no mutant can have made."""
        if call.excinfo and not call.excinfo.errisinstance(pytest.skip.Exception) and (
                call.when != "call" or _of_files(call.excinfo.value)) \
                and not _through_rules(call.excinfo.value):
            Heard.elsewhere = f"{item.nodeid}, {call.when}: {call.excinfo.exconly()}"

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note a failure."""
        Heard.failed = Heard.failed or report.failed


def _of_files(error: BaseException) -> bool:
    return isinstance(error, OSError | MemoryError)


def _through_rules(error: BaseException) -> bool:
    """Tell whether an error came out of the code that mutants are made of, or through it."""
    frames = (frame.f_code.co_filename for frame, _ in traceback.walk_tb(error.__traceback__))
    return any("/spares/domain/" in name or "/spares/standards/" in name for name in frames)


def run_item(item: pytest.Item) -> bool:
    """Run one test; tell whether it fails. Those that want a folder at most are called straight."""
    names = set(getattr(item, "fixturenames", ())) - USELESS
    given = dict(item.callspec.params) if hasattr(item, "callspec") else {}
    if (not isinstance(item, pytest.Function) or item.cls or "kind_of_store" in given
            or names - {*given, "tmp_path"}):
        Heard.failed, Heard.elsewhere = False, ""
        item.ihook.pytest_runtest_protocol(item=item, nextitem=None)
        if Heard.elsewhere:
            raise NotTheMutant(Heard.elsewhere)
        return Heard.failed
    if any(mark.name in ("skip", "long") for mark in item.iter_markers()):
        return False
    try:
        if "tmp_path" in names:
            given["tmp_path"] = item.config._tmp_path_factory.mktemp("straight")
        item.obj(**{name: given[name] for name in names
                    if name in inspect.signature(item.obj).parameters})
    except pytest.skip.Exception:
        return False
    except (KeyboardInterrupt, SystemExit):
        raise
    except BaseException as err:
        if _of_files(err) and not _through_rules(err):
            raise NotTheMutant(f"{item.nodeid}: {err!r}") from err
        return True
    return False
