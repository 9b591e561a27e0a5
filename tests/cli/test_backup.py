"""backup and restore on the command line."""

from __future__ import annotations

import shutil
import sqlite3
import stat
import sys
from contextlib import closing

import pytest

from spares.cli import backup as backup_command
from spares.cli.main import main
from spares.config import read_settings
from spares.web import running
from tests.cli.conftest import is_error, is_json_error
from tests.stores import as_before, heads_of, state_of


@pytest.fixture(scope="session")
def made_once(demo_file, tmp_path_factory):
    target = tmp_path_factory.mktemp("backup") / "ours.zip"
    assert main(["backup", str(target), "--store", str(demo_file)]) == 0
    return target


@pytest.fixture
def made(made_once, tmp_path):
    """The test's own copy of a backup of the demo."""
    return shutil.copy(made_once, tmp_path / "ours.zip")


def test_a_backup_goes_to_another_machine_whole(made, demo, run, tmp_path):
    target = tmp_path / "new.sqlite"
    answer = run("restore", made, "--store", target, "--json").answer
    assert [one["mark"] for one in answer["vessels"]] and answer["kept"] is None
    assert state_of(target) == state_of(demo)
    assert run("find", "EMJR", "--store", target).code == 0


def test_a_backup_tells_whose_it_is_and_how_much_is_in_it(demo, run, tmp_path):
    with as_before(demo):
        ran = run("backup", tmp_path / "ours.zip")
    with closing(sqlite3.connect(demo)) as store:
        counts = [one for one, in store.execute(
            "SELECT count(*) FROM log GROUP BY vessel ORDER BY count(*)")]
    assert f"TGL  TANGLOPPE: {counts[-1]} changes" in ran.out
    assert f"HRE  HESTEREJE: {counts[0]} changes" in ran.out
    assert stat.S_IMODE((tmp_path / "ours.zip").stat().st_mode) == 0o600


@pytest.mark.parametrize("said", [
    ("--vessel", "TGL", "backup", "FILE"), ("restore", "FILE", "--yes", "--vessel", "TGL")])
def test_what_is_about_all_vessels_is_not_asked_of_one(made, demo, run, said):
    """One who names a vessel would think that the others stay as they are."""
    with as_before(demo):
        ran = run(*(made if one == "FILE" else one for one in said))
    assert ran.code == 2 and "--vessel" in ran.err


@pytest.mark.slow
def test_restore_puts_things_back_and_keeps_what_was_there(made, demo, run):
    before = state_of(demo)
    run("took", "P034", "L17")
    with as_before(demo):
        looked = run("restore", made, "--look")
    assert "not in it: 1 of the store's changes" in " ".join(looked.out.split())
    ran = run("restore", made)
    assert ran.code == 0 and "is kept in" in ran.out
    assert state_of(demo) == before
    assert len(list(demo.parent.glob("*.before-restore-*.zip"))) == 1
    assert run("took", "P034", "L17").code == 0 and run("check", "--rebuild").code == 0


def test_restore_is_refused_while_a_server_runs_and_a_backup_is_not(made, demo, run, tmp_path):
    settings = read_settings()
    with running.marked(settings, "http://127.0.0.1:1", "token"), as_before(demo):
        is_error(run("restore", made), "served already")
        is_json_error(run("restore", made, "--json"))
        assert run("restore", made, "--look").code == 0
        assert run("backup", tmp_path / "while.zip").code == 0


def test_nobody_writes_while_a_store_is_put_back(made, demo, run):
    settings = read_settings()
    with running.marked(settings, backup_command.NOWHERE, "token"), as_before(demo):
        is_error(run("took", "P034", "L17"), "does not answer")


def test_at_a_terminal_it_asks_before_anything_is_set_aside(made, demo, run, monkeypatch):
    run("took", "P034", "L17")
    asked = []
    monkeypatch.setattr(sys.stdin, "isatty", lambda: True, raising=False)
    monkeypatch.setattr("click.confirm", lambda words, **_: asked.append(words))
    with as_before(demo):
        is_error(run("restore", made), "nothing was changed")
    assert asked == ["1 changes in the store came after this backup; it will be set aside. Go on?"]
    assert run("restore", made, "--yes").code == 0 and len(asked) == 1


@pytest.mark.parametrize("content", [b"", b"not a zip", b"PK\x05\x06" + bytes(18)])
def test_a_file_that_is_no_backup_is_refused_and_the_store_stays(demo, run, tmp_path, content):
    (tmp_path / "x.zip").write_bytes(content)
    before = heads_of(demo)
    is_error(run("restore", tmp_path / "x.zip"), "file:", "not a backup")
    is_json_error(run("restore", tmp_path / "x.zip", "--json"), field="#/file")
    assert heads_of(demo) == before


def test_a_damaged_backup_is_refused_by_the_name_of_its_member(made, demo, run):
    whole = bytearray(made.read_bytes())
    whole[len(whole) // 2] ^= 1
    made.write_bytes(whole)
    with as_before(demo):
        is_error(run("restore", made), "data.sqlite", "nothing was changed")


@pytest.mark.parametrize(("words", "named"), [
    (("backup",), "file"), (("backup", "nowhere/x.zip"), "file:"), (("backup", "a\0b"), "file:"),
    (("restore",), "file"), (("restore", "missing.zip"), "file:"), (("restore", "a\0b"), "file:"),
    (("restore", "."), "file:")])
def test_a_file_that_cannot_be_is_named(demo, run, tmp_path, monkeypatch, words, named):
    monkeypatch.chdir(tmp_path)
    before = heads_of(demo)
    is_error(run(*words), named)
    assert heads_of(demo) == before and list(tmp_path.iterdir()) == []


def test_the_store_itself_is_no_place_for_a_backup(demo, run):
    with as_before(demo):
        is_error(run("backup", demo), "there already")
