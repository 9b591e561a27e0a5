"""The rules and tables of the fit check, made wrong: does a test notice? See the package."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutation.__main__ import LEAST_SHARE, SAMPLE, report, survivors
from tests.mutation.code import code_mutants
from tests.mutation.data import data_mutants
from tests.mutation.run import Result

HERE = Path(__file__).parent
ROOT = HERE.parents[1]


def mutation_run(*args: str) -> subprocess.CompletedProcess[str]:
    environ = {k: v for k, v in os.environ.items() if not k.startswith(("PYTEST_", "SPARES_"))}
    return subprocess.run([sys.executable, "-m", "tests.mutation", *args], cwd=ROOT, env=environ,
                          capture_output=True, text=True, check=False)


@pytest.mark.slow
def test_sampled_mutants_are_noticed():
    done = mutation_run("--sample")
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]


@pytest.fixture(scope="module")
def names() -> list[str]:
    """The names of all mutants."""
    return [m.id for m in (*code_mutants(), *data_mutants())]


def test_the_sample_is_still_made_of_mutants_that_there_are(names):
    drawn = json.loads((HERE / "sample.json").read_text(encoding="utf-8"))
    assert len(drawn) == SAMPLE
    assert len(set(names) & set(drawn)) >= SAMPLE * 3 // 4, "draw it anew: see the package"


@pytest.mark.long
def test_mutants_are_noticed_or_listed_with_the_reason_why_they_may_live():
    done = mutation_run()
    assert done.returncode == 0, done.stdout[-20000:] + done.stderr[-2000:]


def test_every_mutant_has_a_name_of_its_own(names):
    assert len(names) == len(set(names)) > 5000


def test_every_listed_survivor_is_still_a_mutant(names):
    assert sorted(set(survivors()) - set(names)) == [], "its rule has changed: take it off the list"


def test_every_listed_survivor_says_why():
    assert all(len(reason.split()) >= 4 for reason in survivors().values())


def test_run_fails_below_the_score_or_with_an_unlisted_survivor():
    listed = next(iter(survivors()))
    killed = [Result(f"a: {n}", "somebody", 0.1) for n in range(100)]
    few, many = [Result(listed, "", 0.1)], [Result(listed, "", 0.1)] * 9
    said: list[str] = []
    assert report(killed + few, 101, share=True, say=said.append) == 0
    assert report(killed + many, 109, share=True, say=said.append) == 1
    assert report(killed + [Result("a: new", "", 0.1)], 101, share=True, say=said.append) == 1
    assert report(killed, 101, share=True, say=said.append) == 1        # one was not tried
    assert 100 / 109 < LEAST_SHARE < 100 / 101
