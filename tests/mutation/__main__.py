"""`python3 -m tests.mutation`: see the package."""

from __future__ import annotations

import argparse
import json
import random
import re
import sys
import time
import tomllib
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from tests.mutation.code import Mutant, code_mutants
from tests.mutation.data import data_mutants
from tests.mutation.run import Result, Tests, collect, listed, run_all

HERE = Path(__file__).parent
SAMPLE, SEED, LEAST_SHARE = 100, 20270412, 0.95
CONTROLS = 40       # mutants that change nothing, put among the others


def main(args: list[str]) -> int:
    """Run what is asked; give 0 where the score is reached and every survivor is listed."""
    asked = _asked(args)
    if asked.write_sample:
        return write_sample(asked.write_sample)
    shuffled = [*code_mutants(), *data_mutants()]
    random.Random(SEED).shuffle(shuffled)       # a run cut short is a fair sample
    mutants = {m.id: m for m in shuffled}
    first: dict[str, str] = {}
    if asked.sample:
        first = {k: v for k, v in json.loads((HERE / "sample.json").read_text()).items()
                 if k in mutants}
        mutants = {name: mutants[name] for name in first}
    if asked.again:
        killers = listed(asked.again)
        first = {name: killer for name, killer in killers.items() if killer}
        mutants = {n: m for n, m in mutants.items() if not killers.get(n)}
    chosen = [m for n, m in mutants.items() if re.search(asked.only, n)]
    if not chosen:
        print(f"no mutant is named like {asked.only!r}")
        return 2
    done: list[Result] = []
    wrong: list[str] = []
    code = collect(lambda tests: wrong.extend(_run(tests, chosen, asked, first, done)),
                   ask_phone=not asked.sample and not all(m.data for m in chosen))
    return code or report(done, len(chosen), wrong, share=not (asked.only or asked.again))


def _asked(args: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python3 -m tests.mutation", description=__doc__)
    parser.add_argument("-j", "--jobs", type=int, default=2)
    parser.add_argument("--only", default="")
    parser.add_argument("--sample", action="store_true")
    parser.add_argument("--again", type=Path)
    parser.add_argument("--results", type=Path)
    parser.add_argument("--write-sample", type=Path)
    return parser.parse_args(args)


def _run(tests: Tests, mutants: list[Mutant], asked: argparse.Namespace, first: dict[str, str],
         done: list[Result]) -> list[str]:
    """Try the mutants, noting into *done*; give why the figure cannot be trusted."""
    start = time.monotonic()
    if not asked.sample:
        tests.look(data_alone=all(m.data for m in mutants))
        if tests.failing:
            return _failing(tests)
    unchanged = [] if asked.sample else _unchanged(mutants)
    controls = {m.id for m in unchanged}
    out = asked.results.open("w", encoding="utf-8") if asked.results else None
    wrong: list[str] = []

    def note(result: Result) -> None:
        if result.fault:
            wrong.append(f"broke down at {result.id}: {result.fault[-1500:]}")
        if result.id in controls:
            if result.killer:
                wrong.append(f"{result.id}, and yet {result.killer} fails")
            return
        done.append(result)
        if not result.killer:
            print(f"lives: {result.id}", flush=True)
        if out:
            print(json.dumps(result._asdict(), ensure_ascii=False), file=out, flush=True)
        if len(done) % 500 == 0:
            print(f"{len(done)} of {len(mutants)}, {time.monotonic() - start:.0f} s", flush=True)
    run_all(tests, [*mutants, *unchanged], asked.jobs, note, first)
    if out:
        out.close()
    print(f"{len(done)} mutants in {time.monotonic() - start:.0f} s")
    if asked.sample:        # nobody looked before: those that killed have to hold without a mutant
        tests.hold(result.killer for result in done)
        wrong += _failing(tests)
    return wrong


def _failing(tests: Tests) -> list[str]:
    return [f"fails without any mutant: {name}" for name in tests.failing]


def _unchanged(mutants: list[Mutant]) -> list[Mutant]:
    """Give mutants that change nothing, of a few of the places: whoever kills one kills falsely."""
    drawn = random.Random(SEED).sample(mutants, min(CONTROLS, 1 + len(mutants) // 50))
    return [replace(m, id=f"nothing changed near {m.id}", make=lambda: None) for m in drawn]


def survivors() -> dict[str, str]:
    """Give what may live: reason by mutant."""
    given = tomllib.loads((HERE / "survivors.toml").read_text(encoding="utf-8"))
    return {name: group["reason"] for group in given["may_live"] for name in group["mutants"]}


def report(done: list[Result], wanted: int, wrong: Sequence[str] = (), *, share: bool,
           say: Callable[[str], None] = print) -> int:
    """Count by folder and class; give 1 where a survivor is unlisted or the figure not sound.

    That is where the share is low, something went *wrong*, or a mutant was not tried.
    """
    known = survivors()
    done = [r for r in done if not r.fault]
    lives = [r.id for r in done if not r.killer]
    unlisted = [name for name in lives if name not in known]
    killed = len(done) - len(lives)
    for part, n in sorted(Counter(_part(r.id) for r in done).items()):
        say(f"{part}: {n} mutants, {sum(_part(name) == part for name in lives)} live")
    say(f"killed {killed} of {len(done)} ({100 * killed / max(1, len(done)):.2f} %)")
    for name in unlisted:
        say(f"lives and is not listed: {name}")
    for line in wrong:
        say(f"cannot be trusted: {line}")
    if len(done) != wanted or not done:
        say(f"only {len(done)} of {wanted} were tried")
        return 1
    return 1 if wrong or unlisted or share and killed < LEAST_SHARE * len(done) else 0


def _part(name: str) -> str:
    file = name.split(":")[0]
    return "tables" if "/tables/" in file else "kind sheets" if file.endswith(".toml") else "code"


def write_sample(results: Path) -> int:
    """Draw the quick run's mutants from the killed ones of a whole run."""
    killed = [(name, k) for name, k in listed(results).items() if "::" in k and "twin" not in k]
    rng, drawn = random.Random(SEED), []
    for n, part in enumerate(("code", "kind sheets", "tables")):     # alike of each
        there = sorted(pair for pair in killed if _part(pair[0]) == part)
        drawn += rng.sample(there, min(len(there), (SAMPLE - len(drawn)) // (3 - n)))
    text = json.dumps(dict(sorted(drawn)), ensure_ascii=False, indent=0)
    (HERE / "sample.json").write_text(text + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
