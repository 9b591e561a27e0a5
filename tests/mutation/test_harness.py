"""Can the figure of the run be trusted? Mutants planted for it, each with a known end."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.__main__ import report
from tests.mutation.near import USELESS
from tests.mutation.run import STUCK, Result

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def ends() -> dict[str, dict[str, str]]:
    """What became of each planted mutant."""
    environ = {k: v for k, v in os.environ.items() if not k.startswith(("PYTEST_", "SPARES_"))}
    done = subprocess.run([sys.executable, "-m", "tests.mutation.planted"], cwd=ROOT, env=environ,
                          capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-3000:]
    return json.loads(done.stdout.splitlines()[-1])


@pytest.mark.slow
@pytest.mark.parametrize("name", ["equal", "equal in data"])
def test_a_planted_equal_mutant_lives(ends, name):
    assert (ends[name]["killer"], ends[name]["fault"]) == ("", "")


@pytest.mark.slow
@pytest.mark.parametrize(("name", "killer"), [
    ("wrong", "test_cooling_limits"), ("raises", "test_cooling_limits"), ("endless", STUCK),
    ("wrong in data", "test_named_changes"), ("wrong with a folder", "test_own_kind_sheets"),
    ("cannot be worked out", "cannot be made")])
def test_a_planted_wrong_mutant_dies_by_a_test_or_its_time(ends, name, killer):
    assert killer in ends[name]["killer"] and not ends[name]["fault"]


@pytest.mark.slow
@pytest.mark.parametrize(("name", "says"), [
    ("crash", "planted crash"), ("crash in data", "planted crash"), ("shot", "signal 9"),
    ("leaves", "SystemExit"), ("no folder for files", "NotTheMutant")])
def test_a_crash_of_the_run_itself_is_no_kill(ends, name, says):
    assert ends[name]["killer"] == "" and says in ends[name]["fault"]


def test_fixtures_that_every_test_has_keep_none_from_being_called_straight(request):
    assert set(request.fixturenames) <= USELESS     # else each test opens a new store


def test_a_run_that_broke_down_or_stands_on_failing_tests_fails():
    killed = [Result(f"a: {n}", "somebody", 0.1) for n in range(100)]
    broke = Result("a: broke", "", 0.1, "Traceback")
    said: list[str] = []
    assert report(killed, 100, share=True, say=said.append) == 0
    assert report(killed, 100, ["fails without any mutant: b"], share=True, say=said.append) == 1
    assert report([*killed, broke], 101, share=True, say=said.append) == 1
    assert not any("a: broke" in line for line in said)     # neither killed nor alive


@pytest.mark.slow
@pytest.mark.parametrize("how", ["failing test", "phone apart"])
def test_a_baseline_that_does_not_hold_ends_the_run(how):
    environ = {k: v for k, v in os.environ.items() if not k.startswith(("PYTEST_", "SPARES_"))}
    done = subprocess.run([sys.executable, "-m", "tests.mutation.planted", how], cwd=ROOT,
                          env=environ, capture_output=True, text=True, check=False)
    assert done.returncode == 1, done.stdout[-3000:] + done.stderr[-3000:]
    assert "without any mutant" in done.stdout + done.stderr
    assert "mutants in" not in done.stdout      # none was tried
