"""Files stay small, documented, free of spelt-out inches and of anybody's folders."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.structure import habits
from tests.structure.layers import TOP, modules

AGREED = {"README.md", "DEVELOPERS.md", "pyproject.toml", "spares", "static", "tests", "seed"}
TEXT = {".py", ".js", ".mjs", ".css", ".html", ".md", ".toml", ".json", ".csv", ".txt",
        ".webmanifest", ""}


def _kept() -> list[Path]:
    """Give every file that is under version control, ours and vendored."""
    answer = subprocess.run(["git", "ls-files", "-z"], cwd=TOP, capture_output=True, text=True)
    if answer.returncode:
        pytest.skip("not under version control here")
    return [path for name in answer.stdout.split("\0") if name and (path := TOP / name).is_file()]


def _ours() -> list[Path]:
    return [path for path in _kept() if "vendor" not in path.parts]


def _read(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def _code(*suffixes: str) -> list[Path]:
    return [path for path in _ours() if path.suffix in suffixes]


def test_top_level_holds_only_agreed_names():
    tops = {path.relative_to(TOP).parts[0] for path in _kept()}
    assert {name for name in tops if not name.startswith(".")} - AGREED == set()


def test_no_file_of_code_is_longer_than_agreed():
    sizes = {str(path.relative_to(TOP)): habits.long_file(_read(path))
             for path in _code(".py", ".js", ".mjs", ".css")
             # an upgrade of the store is one list of columns, and the shell one list of files
             if path.parent.name != "versions" and path.name != "shell.js"}
    assert {name: size for name, size in sizes.items() if size} == {}


def test_no_file_names_a_folder_of_somebodys_machine():
    found = {str(path.relative_to(TOP)): lines for path in _ours()
             if path.suffix in TEXT and (lines := habits.machine_paths(_read(path)))}
    assert found == {}


def test_every_public_computation_says_what_it_does():
    silent = {name: missing for name, path in modules().items()
              if name.split(".")[0] in ("domain", "units")
              and (missing := habits.undocumented(_read(path)))}
    assert silent == {}


def test_every_public_function_has_types():
    bare = {name: missing for name, path in modules().items()
            if not name.startswith("db.upgrades")       # what Alembic calls, nobody else
            and (missing := habits.untyped(_read(path)))}
    assert bare == {}


def test_an_inch_is_spelt_out_in_the_units_alone():
    found = {name: lines for name, path in modules().items()
             if name.split(".")[0] not in ("units", "standards")
             and (lines := habits.inch_literals(_read(path)))}
    scripts = [path for path in _code(".js", ".mjs")
               if path.is_relative_to(TOP / "static") and path.stem != "units"
               and not path.is_relative_to(TOP / "static/words")]   # they reckon nothing
    found |= {path.name: lines for path in scripts
              if (lines := habits.inch_literals_in_script(_read(path)))}
    assert found == {}


def test_no_script_imports_what_it_does_not_use():
    found = {str(path.relative_to(TOP)): names for path in _code(".js", ".mjs")
             if (names := habits.unused_in_script(_read(path)))}
    assert found == {}


def test_nothing_is_caught_blindly_and_input_is_never_checked_by_assert():
    found = {name: lines for name, path in modules().items()
             if (lines := habits.bare_excepts_and_asserts(_read(path)))}
    assert found == {}


def test_linter_finds_nothing():
    told = subprocess.run([sys.executable, "-m", "ruff", "check", "--output-format=concise"],
                          cwd=TOP, capture_output=True, text=True)
    assert told.returncode == 0, told.stdout + told.stderr


def test_size_checker_counts_lines_with_something_on_them():
    assert habits.long_file("x = 1\n\n" * 300) == 0
    assert habits.long_file("x = 1\n\n" * 301) == 301


@pytest.mark.parametrize("line", [
    "see /" + "home/mate/boat.py", "C:\\" + "Users\\mate\\x", "open('/" + "root/x')",
    "in /" + "work/thing"])
def test_path_checker_sees_somebodys_folder(line):
    assert habits.machine_paths(line) == [line]


@pytest.mark.parametrize("line", [
    "https://example.org/" + "home/page", "~/spares.sqlite", "/api/parts", "static/" + "work/x.js"])
def test_path_checker_lets_addresses_and_own_paths_pass(line):
    assert habits.machine_paths(line) == []


def test_docstring_checker_sees_silent_functions_and_methods():
    source = ("def told():\n    'Yes.'\ndef silent(): pass\ndef _own(): pass\n"
              "class Thing:\n    def silent_too(self): pass\n")
    assert habits.undocumented(source) == ["silent", "silent_too"]


def test_type_checker_sees_a_missing_type():
    source = ("def a(x: int) -> int: ...\ndef b(x) -> int: ...\ndef c(x: int): ...\n"
              "class T:\n    def d(self, *, y): ...\n    def e(self) -> None: ...\n")
    assert habits.untyped(source) == ["b", "c", "d"]


def test_inch_checker_sees_every_spelling_and_no_comment():
    spelt = "25" + ".4"
    python = f"x = {spelt}\ny = Decimal('{spelt}0')\n# {spelt}\nz = 125.4\n'about {spelt} mm'\n"
    assert habits.inch_literals(python) == [1, 2]
    script = f"// {spelt}\n/* {spelt}\n */ const mm = {spelt} * x;\nconst y = 1{spelt};\n"
    assert habits.inch_literals_in_script(script) == [3]


def test_import_checker_sees_what_a_script_leaves_unused():
    source = ('import {\n  one, two as three,\n} from "./x.js";\n'
              'import { $a } from "./y.js";\none(two, $ab);\n')
    assert habits.unused_in_script(source) == ["three", "$a"]


def test_catch_checker_sees_blind_catches_and_asserts():
    source = "try:\n    pass\nexcept:\n    pass\nassert x\ntry:\n    pass\nexcept OSError: pass\n"
    assert sorted(habits.bare_excepts_and_asserts(source)) == [3, 5]
