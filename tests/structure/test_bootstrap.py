"""The start from a bare checkout: what is lacking is made, and told in a sentence."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from spares import __main__ as start
from spares import environment as bootstrap
from spares import made_from
from spares.environment import CannotStart, Environment, has_all, wanted


@pytest.fixture
def checkout(tmp_path: Path) -> Environment:
    (tmp_path / "pyproject.toml").write_text("[project]\nname = 'x'\n")
    return Environment(tmp_path)


def _pretend_install(monkeypatch, checkout: Environment) -> list[tuple[str, ...]]:
    """Let pip be a list of what it was asked for, and the environment an empty folder."""
    asked: list[tuple[str, ...]] = []

    def make_folder() -> None:
        checkout.python.parent.mkdir(parents=True)
        checkout.python.touch()

    monkeypatch.setattr(checkout, "_make_folder", make_folder)
    monkeypatch.setattr(checkout, "_has_pip", checkout.python.exists)
    monkeypatch.setattr(checkout, "_pip", lambda *what: asked.append(what))
    return asked


def test_first_start_installs_and_the_second_only_looks(monkeypatch, checkout):
    asked = _pretend_install(monkeypatch, checkout)
    assert checkout.made_ready([]) == checkout.python
    assert checkout.made_ready([]) == checkout.python
    assert asked == [("-e", ".")]


def test_a_changed_project_file_installs_again(monkeypatch, checkout):
    asked = _pretend_install(monkeypatch, checkout)
    checkout.made_ready([])
    (checkout.top / "pyproject.toml").write_text("[project]\nname = 'y'\n")
    checkout.made_ready([])
    assert len(asked) == 2


def test_tests_ask_for_more_and_what_was_asked_once_stays(monkeypatch, checkout):
    asked = _pretend_install(monkeypatch, checkout)
    checkout.made_ready([])
    checkout.made_ready(["test"])
    assert asked[1:] == [("-e", ".[test]"), ("--no-deps", *bootstrap.for_their_tables())]
    (checkout.top / "pyproject.toml").write_text("[project]\nname = 'y'\n")
    checkout.made_ready([])
    assert asked[3] == ("-e", ".[test]")


def test_an_environment_left_half_made_is_made_anew(monkeypatch, checkout):
    asked = _pretend_install(monkeypatch, checkout)
    checkout.made_ready([])
    half = checkout.folder / "half-written"
    half.touch()
    checkout.made_from.unlink()
    checkout.lock.write_text("unfinished")      # what a power cut leaves
    checkout.made_ready([])
    assert not half.exists()
    assert len(asked) == 2
    assert checkout.lock.read_text() == ""


def test_an_interrupted_install_is_remembered(monkeypatch, checkout):
    _pretend_install(monkeypatch, checkout)

    def interrupted(*what: str) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(checkout, "_pip", interrupted)
    with pytest.raises(KeyboardInterrupt):
        checkout.made_ready([])
    assert checkout.lock.read_text() == "unfinished"


def test_an_environment_somebody_made_is_used_not_wiped(monkeypatch, checkout):
    _pretend_install(monkeypatch, checkout)
    checkout._make_folder()
    theirs = checkout.folder / "theirs"
    theirs.touch()
    checkout.made_ready([])
    assert theirs.exists()


def test_without_network_it_goes_on_with_what_is_there(monkeypatch, checkout, capsys):
    _pretend_install(monkeypatch, checkout)
    checkout.made_ready([])
    (checkout.top / "pyproject.toml").write_text("[project]\nname = 'y'\n")

    def no_network(*what: str) -> None:
        raise CannotStart("no network")

    monkeypatch.setattr(checkout, "_pip", no_network)
    monkeypatch.setattr(checkout, "_has_all", lambda extras: True)
    assert checkout.made_ready([]) == checkout.python
    assert "Going on with what is installed" in capsys.readouterr().err


def test_without_network_and_packages_it_says_so_and_keeps_what_is_there(monkeypatch, checkout):
    _pretend_install(monkeypatch, checkout)
    checkout._make_folder()

    def no_network(*what: str) -> None:
        raise CannotStart("no network")

    monkeypatch.setattr(checkout, "_pip", no_network)
    monkeypatch.setattr(checkout, "_has_all", lambda extras: False)
    with pytest.raises(CannotStart):
        checkout.made_ready([])
    assert checkout.lock.read_text() == ""      # nothing to be wiped next time


def test_a_spoilt_stamp_counts_as_none(monkeypatch, checkout):
    asked = _pretend_install(monkeypatch, checkout)
    checkout.made_ready([])
    whole = checkout.made_from.read_bytes()
    for spoilt in (b"", b"[]", whole[:-1], b"\xff" + whole):
        checkout.made_from.write_bytes(spoilt)
        checkout.made_ready([])
    assert len(asked) == 5


def test_lacking_ensurepip_is_told_with_the_command_that_helps(monkeypatch, checkout):
    monkeypatch.setattr(bootstrap.importlib.util, "find_spec",
                        lambda name: None if name == "ensurepip" else object())
    with pytest.raises(CannotStart, match="sudo apt install -y python3-venv"):
        checkout.made_ready([])


def test_a_folder_that_cannot_be_written_is_told_by_name(tmp_path):
    gone = Environment(tmp_path / "gone")
    with pytest.raises(CannotStart, match="cannot write into .*gone"):
        gone.made_ready([])


def test_packages_count_only_at_their_lower_bound():
    assert has_all(["pytest>=8", "Flask", "psutil >= 1.2"])
    assert not has_all(["pytest>=999"])
    assert not has_all(["no-such-package-of-anybody"])
    assert has_all(wanted([]))


def test_tests_want_more_than_the_program():
    assert set(wanted([])) < set(wanted(["test"]))


def test_the_exit_code_of_the_inner_run_is_given_on(tmp_path):
    (tmp_path / "spares").mkdir()
    (tmp_path / "spares" / "__init__.py").touch()
    (tmp_path / "spares" / "__main__.py").write_text("import sys; sys.exit(int(sys.argv[1]))")
    inside = (f"import sys; sys.path.insert(0, {str(bootstrap.TOP)!r}); from spares.__main__ "
              "import run_inside; sys.exit(run_inside(sys.executable, sys.argv[1:]))")
    for code in (0, 5):
        assert subprocess.run([sys.executable, "-c", inside, str(code)],
                              cwd=tmp_path).returncode == code


@pytest.mark.parametrize(("fresh", "prefix", "where"), [
    (True, "checkout", "here"),         # inside already
    (True, "system", "inside"),         # the usual start: nothing is looked up
    (True, "own", "looks"),             # somebody's own environment, which is used if it can
    (False, "system", "looks"), (False, "checkout", "looks")])
def test_a_start_looks_at_packages_only_where_it_must(monkeypatch, fresh, prefix, where):
    monkeypatch.setattr(made_from, "is_fresh", lambda top, extras: fresh)
    monkeypatch.setattr(made_from, "is_this", lambda top: prefix == "checkout")
    monkeypatch.setattr(sys, "prefix", sys.base_prefix if prefix == "system" else "/own")
    monkeypatch.setattr(start, "run_here", lambda args: "here")
    monkeypatch.setattr(start, "run_inside", lambda python, args: "inside")
    monkeypatch.setattr(start, "_run_where_it_can", lambda extras, args: "looks")
    assert start.main() == where


def test_the_start_itself_imports_next_to_nothing():
    """Every command pays for it twice: hashing, JSON or paths would double the second start."""
    ask = "import sys; before = set(sys.modules); import spares.__main__; print(*set(sys.modules)"
    told = subprocess.run([sys.executable, "-c", ask + " - before)"], capture_output=True,
                          text=True, cwd=bootstrap.TOP, check=True)
    assert set(told.stdout.split()) <= {"__future__", "gc", "spares", "spares.__main__",
                                        "spares.made_from"}


def test_an_old_python_is_told_in_one_sentence():
    plant = ("import sys; sys.version_info = (3, 9, 2, 'final', 0)\n"
             "sys.argv = ['spares', 'demo']; import spares")
    told = subprocess.run([sys.executable, "-c", plant], capture_output=True, text=True,
                          cwd=bootstrap.TOP)
    assert told.returncode != 0
    assert told.stderr == "Spares needs Python 3.11 or newer; this is 3.9.\n"
