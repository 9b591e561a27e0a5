"""`spares test`: what is lacking is brought or told, and pytest gets what was asked."""

from __future__ import annotations

import pytest

from spares import selftest
from spares.selftest import Need
from tests import conftest, postgresql


@pytest.fixture
def ran(monkeypatch) -> list[tuple[list[str], dict]]:
    """Let pytest be a list of what it was started with."""
    calls: list[tuple[list[str], dict]] = []

    def keep(args, environ):
        calls.append((args, dict(environ)))
        return 0

    monkeypatch.setattr(selftest, "run_pytest", keep)
    monkeypatch.setattr(selftest, "NEEDS", ())
    return calls


def test_whole_suite_runs_with_workers(ran):
    assert selftest.main(["test"]) == 0
    (args, environ), = ran
    assert args[1:3] == ["-n", str(selftest.WORKERS)]
    assert "SPARES_LONG" not in environ


@pytest.mark.parametrize(("room_bytes", "used"), [(0, True), (2**80, False)])
def test_files_lie_in_memory_where_there_is_room(ran, monkeypatch, tmp_path, room_bytes, used):
    monkeypatch.setattr(selftest, "IN_MEMORY", tmp_path)
    monkeypatch.setattr(selftest, "ROOM_BYTES", room_bytes)
    monkeypatch.delenv("PYTEST_DEBUG_TEMPROOT", raising=False)
    selftest.main(["test"])
    assert ran[0][1].get("PYTEST_DEBUG_TEMPROOT") == (str(tmp_path) if used else None)


def test_files_lie_on_the_disk_where_there_is_no_memory_for_them(ran, monkeypatch, tmp_path):
    monkeypatch.setattr(selftest, "IN_MEMORY", tmp_path / "not there")
    monkeypatch.delenv("PYTEST_DEBUG_TEMPROOT", raising=False)
    selftest.main(["test"])
    assert "PYTEST_DEBUG_TEMPROOT" not in ran[0][1]


def test_long_sets_its_variable_and_does_not_reach_pytest(ran):
    selftest.main(["test", "--long"])
    (args, environ), = ran
    assert args == selftest.IN_ORDER
    assert environ["SPARES_LONG"] == "1"


@pytest.mark.parametrize(("asked", "run"), [
    ([], [*selftest.IN_ORDER, "-m", "not slow"]),
    (["--slow"], [*selftest.IN_ORDER, "-m", "slow"]),
    (["tests/browser"], ["tests/browser"])])
def test_slow_stories_run_when_they_are_asked_for_or_named(ran, asked, run):
    selftest.main(["test", *asked])
    assert ran[0][0] == run


@pytest.mark.parametrize(("more", "asked"), [
    ([], [*selftest.IN_ORDER, *selftest.ON_A_DATABASE]), (["tests/db"], ["tests/db"])])
def test_a_run_on_another_kind_of_store_is_of_what_touches_the_store(ran, more, asked):
    selftest.main(["test", "--store", "postgresql", *more])
    (args, environ), = ran
    assert args == asked
    assert environ["SPARES_TEST_STORE"] == "postgresql"


@pytest.mark.parametrize(("kind", "says"), [
    ("postgresql", "apt install postgresql"), ("postgres", "sqlite and postgresql")])
def test_a_run_on_a_store_that_is_not_here_fails_and_says_why(monkeypatch, kind, says):
    monkeypatch.setattr(conftest, "KIND", kind)
    monkeypatch.setattr(postgresql, "programs", lambda: None)
    with pytest.raises(pytest.UsageError, match=says):
        conftest.look_for_store()


def test_what_is_asked_goes_to_pytest_as_it_stands(ran):
    selftest.main(["test", "tests/domain", "-k", "stock"])
    assert ran[0][0] == ["tests/domain", "-k", "stock"]


def test_benches_run_alone_without_workers(ran):
    selftest.main(["bench", "-k", "start"])
    args = ran[0][0]
    assert "tests/bench" in args and "-n" not in args
    assert args[-2:] == ["-k", "start"]


def test_outside_a_checkout_it_says_so(monkeypatch, tmp_path, capsys):
    monkeypatch.setattr(selftest, "TOP", tmp_path)
    assert selftest.main(["test"]) == 2
    assert "in a checkout" in capsys.readouterr().err


def _lacking(monkeypatch, *, user: int, after: bool) -> list[list[str]]:
    """Let one package be lacking; keep what apt is asked for, after which it is there or not."""
    asked: list[list[str]] = []
    need = Need("left-handed-spanner", lambda: bool(asked) and after,
                "to turn things the other way")
    monkeypatch.setattr(selftest, "NEEDS", (need,))
    monkeypatch.setattr(selftest, "_is_debian", lambda: True)
    monkeypatch.setattr(selftest.os, "geteuid", lambda: user, raising=False)
    monkeypatch.setattr(selftest, "_apt_get", asked.append)
    return asked


def test_as_root_on_debian_it_installs_and_says_why(monkeypatch, capsys):
    asked = _lacking(monkeypatch, user=0, after=True)
    selftest.bring_what_is_lacking()
    assert asked == [["left-handed-spanner"]]
    assert capsys.readouterr().out == (
        "Installing left-handed-spanner, to turn things the other way.\n")


def test_where_it_may_not_install_it_says_what_will_be_skipped(monkeypatch, capsys):
    asked = _lacking(monkeypatch, user=1000, after=True)
    selftest.bring_what_is_lacking()
    assert asked == []
    told = capsys.readouterr().out
    assert "Not here: left-handed-spanner, to turn things the other way; " in told
    assert "skipped" in told


def test_where_installing_fails_it_goes_on_and_says_so(monkeypatch, capsys):
    _lacking(monkeypatch, user=0, after=False)
    selftest.bring_what_is_lacking()
    assert "Not here: left-handed-spanner" in capsys.readouterr().out


def test_nothing_is_said_where_nothing_is_lacking(ran, capsys):
    selftest.bring_what_is_lacking()
    assert capsys.readouterr().out == ""
