"""What is installed is whole: client, demo data, tables; and every import is declared."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

from tests.structure.layers import TOP

# Where the name that is imported is not the name of the package.
PACKAGE_OF = {"PIL": "pillow", "bd_warehouse": "bd-warehouse", "flask_smorest": "flask-smorest",
              "me_toolbox": "me-toolbox", "zxingcpp": "zxing-cpp",
              # what these two stand on and never come without
              "werkzeug": "flask", "webargs": "flask-smorest"}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> list[str]:
    """Build the wheel and list what is in it."""
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=TOP, capture_output=True, text=True)
    assert built.returncode == 0, built.stderr
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as whole:
        return whole.namelist()


def _kept(folder: str) -> set[str]:
    listed = subprocess.run(["git", "ls-files", "-z", folder], cwd=TOP, capture_output=True,
                            text=True)
    if listed.returncode:
        pytest.skip("not under version control here")
    return {name for name in listed.stdout.split("\0") if name and (TOP / name).is_file()}


@pytest.mark.parametrize(("folder", "inside"), [
    ("static", "spares/_static"), ("seed", "spares/_seed"), ("spares", "spares")])
def test_wheel_carries_every_file(wheel, folder, inside):
    kept = _kept(folder)
    assert kept, f"{folder} holds nothing"
    assert {inside + name.removeprefix(folder) for name in kept} <= set(wheel)


def test_wheel_leaves_the_tests_at_home(wheel):
    assert [name for name in wheel if name.startswith("tests")] == []


def _project() -> dict:
    return tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))


def _names(requirements: list[str]) -> set[str]:
    return {re.split(r"[\[<>=!~; ]", r, maxsplit=1)[0].lower() for r in requirements}


def _outsiders(folder: str) -> set[str]:
    """Give the packages from outside that the Python files of *folder* import."""
    roots = set()
    for path in (TOP / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                roots |= {alias.name.partition(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                roots.add(node.module.partition(".")[0])
    roots -= {"spares", "tests", *sys.stdlib_module_names}
    return {PACKAGE_OF.get(root, root).lower() for root in roots}


def test_everything_imported_by_the_program_is_declared():
    project = _project()["project"]
    fleet = _names(project["optional-dependencies"]["fleet"])
    assert _outsiders("spares") <= _names(project["dependencies"]) | fleet


def test_everything_imported_by_the_tests_is_declared():
    told = _project()
    declared = _names(told["project"]["dependencies"])
    declared |= _names(told["project"]["optional-dependencies"]["test"])
    declared |= _names(told["project"]["optional-dependencies"]["fleet"])
    declared |= _names(told["tool"]["spares"]["test-tables"])
    assert _outsiders("tests") <= declared


def test_only_pytest_is_held_below_a_version():
    project = _project()["project"]
    listed = [*project["dependencies"]]
    for extra in project["optional-dependencies"].values():
        listed += extra
    assert [line for line in listed if re.search(r"<|==|~=", line)] == ["pytest>=8.4,<10"]


def test_the_command_that_is_installed_exists():
    target = _project()["project"]["scripts"]["spares"]
    module, name = target.split(":")
    source = (TOP / Path(*module.split(".")).with_suffix(".py")).read_text(encoding="utf-8")
    assert name in {node.name for node in ast.parse(source).body
                    if isinstance(node, ast.FunctionDef)}
