"""Commands that write: what they say, that it is there after, and who does the writing."""

from __future__ import annotations

import pytest

from spares.db.door import submit
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.domain.draft import Draft
from spares.web.running import marked
from tests.cli.conftest import is_error
from tests.cli.test_serve import a_server
from tests.stores import heads_of

DEEDS = {
    "took": ("took", "P034", "L17"),
    "put": ("put", "P034", "L17", "2", "--expires", "2031-06", "--condition", "used-good"),
    "landed": ("landed", "P034", "EMJR", "2", "--note", "worn"),
    "counted": ("counted", "P034", "L17", "0"),
    "moved": ("moved", "P034", "L17", "L01", "--to-condition", "suspect"),
    "lent": ("lent", "P034", "L17", "the launch", "1"),
    "reading": ("reading", "HBR", "3106,1", "--at", "2027-03-15"),
    "odd reading": ("reading", "HBR", "3000", "--because", "new counter"),
    "exchange": ("exchange", "HBR-04", "P037", "--from", "L17", "--old-to", "landed"),
    "left-over": ("left-over", "P056", "give", "--note", "the yard"),
    "done": ("done", "S22", "--at", "2027-03-14", "--hours", "3105.6", "--by", "Kaj"),
    "done without kit": ("done", "S22", "--no-kit"),
    "missing": ("missing", "HBR", "impeller blade", "--pieces", "1", "--of", "6", "--point",
                "HBR-04", "--by", "Tove"),
    "found": ("found", "history", "S15", "told", "by the yard", "--done-on", "2026-06"),
    "baseline": ("baseline", "--at", "2027-03-01"),
    "same": ("same", "P001", "P002"),
    "trip new": ("trip", "new", "Round", "2027-08-01", "2027-08-20", "--hours", "ENG=60,5"),
    "trip edit": ("trip", "edit", "T1", "--leaves", "2027-05-04", "--hours", "HBR=200"),
}


@pytest.mark.parametrize("words", DEEDS.values(), ids=DEEDS.keys())
def test_every_command_writes_and_can_be_taken_back(run, demo, words):
    before = heads_of(demo)
    ran = run(*words)
    assert ran.code == 0, ran.err
    assert ran.err == "" and ran.out.strip()
    assert max(map(len, ran.out.splitlines())) <= 80
    assert heads_of(demo) != before
    undone = run("undo", "--json")
    assert undone.code == 0 and undone.answer["text"].startswith("Undid")
    answer = run(*words, "--json").answer
    assert answer.get("was_new") is True or answer["type"] == "trip"


def test_counts_follow_the_movements(run, demo):
    run("took", "P034", "L17")
    assert [place["quantity"] for place in run("show", "P034", "--json").answer["where"]] == [1]
    run("undo")
    assert [place["quantity"] for place in run("show", "P034", "--json").answer["where"]] == [2]


def test_what_two_devices_wrote_apart_is_shown_with_day_and_hand(run, demo):
    store = open_store(str(demo))
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    part = run("show", "P034", "--json").answer["id"]
    with store.writing(vessel) as session:      # 2027-03-15; neither stands on the other
        submit(session, vessel, [
            Draft("set", {"doc": f"part/{part}", "f": {"left_over_note": note}, "base": {}})
            for note in ("by post", None)], wall_ms=1_805_068_800_000)
    store.close()
    out = " ".join(run("show", "P034").out.split())
    assert ("left over note was written apart: by post (at this computer, 2027-03-15) or nothing "
            "(at this computer, 2027-03-15)") in out


@pytest.mark.slow
def test_a_running_server_does_the_writing(run, demo):
    with a_server() as (process, _):
        for words in DEEDS.values():
            ran = run(*words)
            assert ran.code == 0, (words, ran.err)
        refused = run("took", "P999", "L17")
        is_error(refused, "part: no part is called 'P999'")
        asked = run("reading", "HBR", "1", "--json")
        assert asked.code == 2 and "/problems/ask-first" in asked.err
        assert "differences" in run("check", "--rebuild", "--json").out
        # Locks and the log are in the other process; we only read.
        device_changes = run("changes", "--limit", "3", "--json").answer["changes"]
        assert len(device_changes) == 3
        process.terminate()
        assert process.wait(10) == 0
    assert run("took", "P034", "L01").code == 0


def test_a_file_is_brought_in_by_the_running_server(run, demo, tmp_path):
    table = tmp_path / "parts.csv"
    table.write_text("no;name\nP900;Spare key\n")
    folder = tmp_path / "tables"
    folder.mkdir()
    (folder / "parts.csv").write_text("no;name\nP901;Spare plug\n")
    (folder / "vessel.csv").write_text("mark;name\nTGL;TANGLOPPE\n")
    with a_server():
        assert run("import", table, "--vessel", "TGL").code == 0
        assert run("import", folder).code == 0
        assert run("import", table, "--vessel", "TGL", "--json").answer["changes"] == 0
    assert run("show", "P900").code == run("show", "P901").code == 0


def test_a_server_that_does_not_answer_is_named_and_not_gone_round(run, demo):
    from spares.config import read_settings
    before = heads_of(demo)
    with marked(read_settings(), "http://127.0.0.1:9", "a-token"):
        is_error(run("took", "P034", "L17"), "http://127.0.0.1:9", "does not answer")
    assert heads_of(demo) == before


def test_the_demo_is_loaded_once_into_an_empty_store(run, own_surroundings, monkeypatch):
    monkeypatch.setenv("SPARES_TODAY", "2027-03-15")
    ran = run("demo", "--load-only", "--day-zero", "2027-03-15")
    assert ran.code == 0 and "TGL" in ran.out and "HRE" in ran.out
    before = heads_of(own_surroundings)
    is_error(run("demo", "--load-only"), "TGL", "empty")
    assert heads_of(own_surroundings) == before
    is_error(run("demo", "--load-only", "--day-zero", "2027-02-30"), "day_zero")


def test_the_demo_is_served_from_a_copy_that_goes_away(own_surroundings):
    import json
    import os
    import re
    import subprocess
    import sys
    import urllib.request
    from pathlib import Path

    from tests.cli.test_serve import TOP

    process = subprocess.Popen(
        [sys.executable, "-c", "import sys; from spares.cli.main import main; sys.exit(main())",
         "demo", "--port", "0", "--day-zero", "2027-03-15"], stdout=subprocess.PIPE, text=True,
        cwd=TOP, env=os.environ.copy())
    try:
        text = ""
        while "gone when it ends" not in text:
            line = process.stdout.readline()
            assert line, "the demo ended by itself"
            text += line
        address = re.search(r"http://127\.0\.0\.1:\d+", text).group()
        copy = Path(re.search(r"The store is (\S+\.sqlite)", text).group(1))
        assert copy.exists() and copy != own_surroundings
        with urllib.request.urlopen(address + "/api/summary", timeout=30) as answer:
            summary = json.loads(answer.read())
        assert summary["today"] == "2027-03-15" and summary["vessel"]["mark"] == "TGL"
        with urllib.request.urlopen(address + "/api/photos?of=ENG", timeout=30) as answer:
            shown, = json.loads(answer.read())["photos"]
        assert shown["here"] and shown["mime"] == "image/jpeg" and shown["bytes"] < 100_000
        assert {"ENG-01", "ENG-06"} < {mark["point"] for mark in shown["marks"]}
        assert Path(f"{copy}.photos").is_dir()
        process.terminate()
        assert process.wait(15) == 0
        assert not copy.exists() and not Path(f"{copy}.photos").exists()
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()


def test_files_are_written_whole_where_they_were_asked(run, demo, tmp_path):
    for words, begins in ((("label", "lockers", "--sheet", "a4", "--outline"), b"%PDF-"),
                          (("export", "csv"), b"PK\x03\x04"), (("export", "json"), b"{"),
                          (("export", "ics"), b"BEGIN:VCALENDAR")):
        file = tmp_path / "out"
        ran = run(*words, "--out", file)
        assert ran.code == 0, ran.err
        assert file.read_bytes().startswith(begins)
        assert [path.name for path in tmp_path.iterdir() if ".part" in path.name] == []
        file.unlink()
    assert run("export", "ics").out.startswith("BEGIN:VCALENDAR")
    assert "BEGIN:VEVENT" in run("export", "ics", "--events").out


def test_an_export_comes_in_elsewhere_as_it_went_out(run, demo, tmp_path):
    run("export", "csv", "--out", tmp_path / "vessel.zip")
    before = run("find", "imp", "har", "--json").answer["hits"]
    other = ("--store", tmp_path / "other.sqlite")
    assert run("import", tmp_path / "vessel.zip", "--look", *other).code == 0
    assert run("find", "imp", "har", *other).code == 2
    assert run("import", tmp_path / "vessel.zip", *other).code == 0
    after = run("find", "imp", "har", "--json", *other).answer["hits"]
    assert [(hit["no"], hit["state"], len(hit["where"])) for hit in after] == [
        (hit["no"], hit["state"], len(hit["where"])) for hit in before]
