"""Collect the tests once; then fork for each mutant, and run what came near it until one fails."""

from __future__ import annotations

import functools
import gc
import json
import random
import select
import signal
import tempfile
import time
import tomllib
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import NamedTuple

import pytest

from spares.domain.fit import load_sheets
from spares.standards import table, table_ids
from tests.mutation.code import ROOT, CannotBeMade, Mutant
from tests.mutation.forks import Told, hear, start
from tests.mutation.near import ALSO_FOR_CODE, OUTSIDE, TWIN, Heard, Tests, forget, run_item
from tests.mutation.phone import Phone

NOT_ASKED = ("test_published_sources_are_installed", "test_whatever_stands_in_a_line_loading")
BATCH = 25                      # data mutants one after the other in a child
MOST_S = 30                     # a mutant that runs longer is stuck: noticed
STUCK = "takes too long"


class Result(NamedTuple):
    """What became of a mutant: `killer` names the test, empty for a survivor or after a `fault`."""

    id: str
    killer: str
    seconds: float
    fault: str = ""     # how the run itself broke down; nothing is known of the mutant then


def _judge(tests: Tests, mutant: Mutant, first: str = "") -> str:
    forget(mutant.place[0])
    try:
        mutant.make()
    except CannotBeMade as err:
        return f"cannot be made: {err}"
    items = tests.in_order(mutant)
    if first in tests.items:
        items = [tests.items[first], *items]
    killer = next((item.nodeid for item in items if run_item(item)), "")
    if killer or mutant.data or tests.phone is None:
        return killer
    return tests.phone.differs(tests.near_enough(mutant))


def run_all(tests: Tests, mutants: Iterable[Mutant], jobs: int, done: Callable[[Result], None],
            first: dict[str, str] | None = None) -> None:
    """Try the mutants in children, *jobs* at a time."""
    _folder_factory(tests).getbasetemp()     # made once: a child that makes it ends the others'
    forget()
    load_sheets()
    for name in table_ids():
        table(name)
    gc.collect()
    gc.freeze()                     # shared with every child, and left alone there
    waiting = _batches(mutants)
    running: dict[int, tuple[int, list[Mutant], float]] = {}
    while waiting or running:
        while len(running) < jobs and waiting:
            batch = waiting.pop()
            child, out = start(functools.partial(_try, tests, batch, first or {}))
            running[out] = (child, batch, time.monotonic())
        for out in select.select(list(running), [], [])[0]:
            child, batch, since = running.pop(out)
            told = hear(child, out)
            if len(batch) > 1 and (told.stuck or told.fault):   # one of them: each alone
                waiting += [[mutant] for mutant in batch]
                continue
            each = (time.monotonic() - since) / len(batch)
            for mutant, killer in zip(batch, _killers(told, batch), strict=True):
                tests.learn(mutant, killer)
                done(Result(mutant.id, killer, each, told.fault))


def _killers(told: Told, batch: list[Mutant]) -> list[str]:
    """Give who killed each: only what a child said, or its time limit, is a kill."""
    if told.fault:
        return [""] * len(batch)
    return [STUCK] if told.stuck else json.loads(told.text)


def _batches(mutants: Iterable[Mutant]) -> list[list[Mutant]]:
    """Put data mutants together, which can be taken back; those of code are each alone."""
    data, alone = [], []
    for mutant in mutants:
        (data if mutant.data else alone).append(mutant)
    batches = [data[n:n + BATCH] for n in range(0, len(data), BATCH)] + [[m] for m in alone]
    random.Random(len(batches)).shuffle(batches)
    return batches


def _try(tests: Tests, batch: list[Mutant], first: dict[str, str]) -> str:
    readers = tomllib.loads, json.loads
    killers = []
    factory = _folder_factory(tests)
    factory._basetemp = Path(tempfile.mkdtemp(dir=factory.getbasetemp()))   # one each
    for mutant in batch:
        signal.setitimer(signal.ITIMER_VIRTUAL, MOST_S)     # of work, however busy the machine
        killers.append(_judge(tests, mutant, first.get(mutant.id, "")))
        tests.learn(mutant, killers[-1])
        tomllib.loads, json.loads = readers
        forget(mutant.place[0])
    return json.dumps(killers)


def _folder_factory(tests: Tests) -> pytest.TempPathFactory:
    return next(iter(tests.items.values())).config._tmp_path_factory


class Loop:
    """A pytest plugin that takes the place of pytest's own loop over the tests."""

    def __init__(self, work: Callable[[Tests], None], ask_phone: bool) -> None:
        self.work, self.ask_phone = work, ask_phone

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Hand the collected tests to the mutation run."""
        if session.testsfailed:
            raise session.Interrupted("the tests cannot be collected")
        items = [i for i in session.items if not any(name in i.nodeid for name in NOT_ASKED)
                 and ("test_fit_twin" not in i.nodeid or TWIN in i.nodeid)]
        twins = [item for item in items if TWIN in item.nodeid]
        phone = None
        if self.ask_phone:
            if not twins or any(run_item(item) for item in twins):
                print("phone and server do not agree without any mutant", flush=True)
                raise session.Failed("nothing to compare a mutant with")
            phone = Phone(twins[0].module, twins[0].nodeid)
        self.work(Tests([item for item in items if item not in twins], phone))
        return True


def collect(work: Callable[[Tests], None], *, ask_phone: bool,
            places: Iterable[str] = (*OUTSIDE, *ALSO_FOR_CODE)) -> int:
    """Collect the tests and do *work* with them; give pytest's exit code."""
    with tempfile.TemporaryDirectory(prefix="mutants-") as base:
        return int(pytest.main(
            ["-q", "-s", "-p", "no:xdist", "-p", "no:cacheprovider",
             "--basetemp", f"{base}/tests", "--rootdir", str(ROOT), "-W", "ignore", *places],
            plugins=[Loop(work, ask_phone), Heard()]))


def listed(path: Path) -> dict[str, str]:
    """Read results of an earlier run: killer by mutant."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return {r["id"]: r["killer"] for r in map(json.loads, lines)}
