"""Commands that cannot be done: exit 2, a sentence that names the field, the store as before."""

from __future__ import annotations

import pytest

from spares.cli.main import main
from spares.cli.main import spares as group
from tests.cli.conftest import is_error, is_json_error
from tests.stores import heads_of, state_of

CALLS = [
    (("find",), "text"), (("find", ""), "q:"), (("find", "x" * 300), "q:"),
    (("find", "x" * 10_000_000), "q:"), (("show",), "thing"), (("show", "P999"), "thing:"),
    (("show", ""), "thing"), (("show", "../../etc/passwd"), "thing:"), (("show", "a\0b"), "thing:"),
    (("fit", "HBR-04"), "part"), (("fit", "HBR-99", "P037"), "point:"),
    (("fit", "HBR-04", "P999"), "part:"), (("fit", "HBR-04", "L17"), "part:"),
    (("restock",), "trip"), (("restock", "T9"), "trip:"),
    (("restock", "T1", "--why", "P999"), "part:"), (("restock", "T1", "--why"), "why"),
    (("due", "--until", "2027-02-30"), "until:"), (("due", "--until", "tomorrow"), "until:"),
    (("took",), "part"), (("took", "P034"), "locker"), (("took", "P999", "L17"), "part:"),
    (("took", "P034", "L99"), "locker:"), (("took", "P034", "L17", "-1"), "quantity:"),
    (("took", "P034", "L17", "0"), "quantity:"), (("took", "P034", "L17", "NaN"), "quantity:"),
    (("took", "P034", "L17", "two"), "quantity:"), (("took", "P034", "L17", "1e9"), "quantity:"),
    (("took", "P034", "L17", "0.0001"), "quantity:"), (("took", "P034", "L17", ""), "quantity:"),
    (("took", "P034", "L17", "1", "2"), "extra"), (("took", "P034", "EMJA"), "locker:"),
    (("took", "P034", "L17", "--lot", "X"), "lot:"),
    (("took", "P034", "L17", "--lots"), "quantity"),
    (("took", "P034", "L17", "--machine", "X"), "machine:"),
    (("put", "P034", "L17", "--expires", "2027-02-30"), "expires:"),
    (("put", "P034", "L17", "--condition", "shiny"), "condition:"),
    (("landed", "P034", "L17", "--note", "x" * 3000), "note:"),
    (("counted", "P034", "L17"), "N"), (("counted", "P034", "L17", "-2"), "quantity:"),
    (("moved", "P034", "L17", "L17"), "to:"), (("moved", "P034", "L17"), "to"),
    (("lent", "P034", "L17", ""), "who:"), (("reading", "HBR", "-5"), "hours:"),
    (("reading", "HBR", "abc"), "hours:"), (("reading", "XXX", "5"), "machine:"),
    (("reading", "HBR", "3106", "--at", "2027-02-29"), "at:"),
    (("reading", "HBR", "3106", "--at", "2028-01-01"), "at:"), (("reading", "HBR", "1"), "lower"),
    (("exchange", "HBR-04", "P999"), "part:"), (("exchange", "X", "P037"), "point:"),
    (("exchange", "HBR-04", "P037", "--from", "X"), "from:"), (("done", "S99"), "service:"),
    (("done", "S22", "--hours", "-1"), "hours:"), (("done", "S22", "--at", "2027-13"), "at:"),
    (("settle", "x", "before"), "change:"), (("same", "P001", "P001"), "drop:"),
    (("undo", "x"), "change:"), (("undo", "00000000-0000-4000-8000-000000000000"), "change:"),
    (("changes", "--limit", "0"), "limit"), (("trip", "show", "T9"), "thing:"),
    (("trip", "new", "x", "2027-06-31", "2027-07-01"), "departs_on:"),
    (("trip", "new", "x", "2027-07-02", "2027-07-01"), "returns_on:"),
    (("trip", "new", "", "2027-07-02", "2027-07-03"), "name:"),
    (("trip", "new", "x", "2027-07-02", "2027-07-03", "--hours", "ENG"), "hours:"),
    (("trip", "new", "x", "2027-07-02", "2027-07-03", "--hours", "ENG=x"), "hours/ENG:"),
    (("trip", "edit", "T9", "--name", "x"), "trip:"), (("trip", "sail"), "sail"),
    (("label", "anchors"), "kind:"), (("label", "lockers", "--size", "XL"), "size:"),
    (("label", "lockers", "--dpi", "72"), "dpi"), (("label", "lockers", "--sheet", "a0"), "sheet:"),
    (("label", "lockers", "--only", "L99"), "only:"),
    (("label", "lockers", "--out", "/nowhere/at/all.pdf"), "out:"),
    (("export", "xml"), "form:"), (("export", "json", "--out", "/nowhere/x"), "out:"),
    (("import", "missing.csv"), "file:"), (("import", "a\0b"), "file:"),
    (("import", "."), "error"), (("find", "imp", "--vessel", "XYZ"), "vessel:"),
    (("miracle",), "miracle"), (("find", "--miracle", "x"), "miracle"),
]
TAKES_NO_JSON = ("label", "export")


@pytest.fixture(scope="module")
def whole(demo_file):
    """All that the demo says, to be found the same after every bad call of this file."""
    before = state_of(demo_file)
    yield demo_file
    assert state_of(demo_file) == before


@pytest.fixture
def bad(run, whole, tmp_path, monkeypatch):
    monkeypatch.setenv("SPARES_STORE", str(whole))
    monkeypatch.setenv("SPARES_TODAY", "2027-03-15")
    monkeypatch.chdir(tmp_path)
    before = heads_of(whole)
    yield run
    assert heads_of(whole) == before
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("words", "named"), CALLS, ids=range(len(CALLS)))
def test_a_command_that_cannot_be_done_names_what_is_wrong(bad, words, named):
    is_error(bad(*words), named)


@pytest.mark.parametrize("words", [
    words for words, named in CALLS if named.endswith(":") and words[0] not in TAKES_NO_JSON])
def test_with_json_the_same_is_one_problem_object(bad, words):
    is_json_error(bad(*words, "--json"))


@pytest.mark.parametrize("name", ["SPARES_TODAY", "SPARES_PORT"])
def test_a_setting_that_cannot_be_read_is_named(bad, monkeypatch, name):
    monkeypatch.setenv(name, "soon")
    is_error(bad("due"), name)


@pytest.mark.parametrize(("name", "content"), [
    ("parts.csv", b"no;name\nP900"), ("parts.csv", b"no;nam\nP900;x\n"),
    ("parts.csv", b"no;name\nP900;\xff\n"), ("parts.csv", b"no;name\nP900;a\nP900;b\n"),
    ("parts.csv", b""), ("stock.csv", b"part;locker;quantity\nP034;L17;-1\n"),
    ("stock.csv", b"part;locker;quantity\nP034;L17;NaN\n"), ("vessel.json", b"{"),
    ("vessel.json", b'{"a": 1, "a": 2}'), ("vessel.zip", b"PK\x03\x04"),
    ("big.csv", b"x" * 11_000_000)], ids=range(11))
def test_a_file_that_cannot_come_in_changes_nothing(run, whole, tmp_path, monkeypatch, name,
                                                    content):
    monkeypatch.setenv("SPARES_STORE", str(whole))
    before = heads_of(whole)
    (tmp_path / name).write_bytes(content)
    for more in ((), ("--look",)):
        is_error(run("import", tmp_path / name, "--vessel", "TGL", *more))
        is_json_error(run("import", tmp_path / name, "--vessel", "TGL", "--json", *more))
    assert heads_of(whole) == before


@pytest.mark.parametrize("content", [b"", b"not a store", b"SQLite format 3\0" + bytes(100)])
def test_a_file_that_is_no_store_is_refused_and_left_alone(run, tmp_path, content):
    path = tmp_path / "other.sqlite"
    path.write_bytes(content)
    if content:
        is_error(run("find", "x", "--store", path))
        assert path.read_bytes() == content
    else:
        is_error(run("find", "x", "--store", path), "no vessel")


def test_every_command_says_how_with_an_example(run):
    import click

    def commands(of: click.Group, path: tuple[str, ...] = ()):
        for name in of.list_commands(click.Context(of)):
            command = of.get_command(click.Context(of), name)
            if isinstance(command, click.Group):
                yield from commands(command, (*path, name))
            yield (*path, name), command
    found = dict(commands(group))
    assert len(found) > 30
    for path, command in found.items():
        assert "Example:" in (command.help or ""), path
        if "--help" in {name for one in command.get_params(click.Context(command))
                        for name in one.opts}:
            ran = run(*path, "--help")
            assert ran.code == 0
            assert max(map(len, ran.out.splitlines())) <= 80, path


def test_help_and_version_end_with_nought(capsys):
    assert main([]) == 0
    assert main(["--help"]) == 0
    assert main(["--version"]) == 0
    assert main(["trip"]) == 2
