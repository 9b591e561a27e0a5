"""A broken piece from the command line: the mark, the places, the last one found."""

from __future__ import annotations

from tests.cli.conftest import is_error


def test_a_trail_goes_from_the_mark_to_the_last_piece(run, demo):
    assert "No piece is missing." in run("trails").out
    run("missing", "HBR", "impeller blade", "--pieces", "2", "--of", "6", "--point", "HBR-04")
    assert "DO NOT RUN: HBR Harbour set" in run("trails").out
    shown = run("trails", "HBR-T1").out
    # as the machine's note has it, from the pump on
    assert [line.split("] ")[1] for line in shown.splitlines() if ". [ ]" in line] == [
        "oil cooler inlet: not looked", "heat exchanger inlet cap HBR-06: not looked",
        "zinc HBR-07: not looked", "injection elbow: not looked", "water lock: not looked"]
    assert "2 x P040 End-cap gasket: 1 in L04" in shown
    assert "! Caution, pieces: Do not run before the trail is closed" in " ".join(shown.split())
    for words in (("due",), ("card", "S22"), ("show", "HBR")):
        assert "DO NOT RUN" in run(*words).out, words
    assert "1 missing" in run("looked", "HBR-T1", "2", "1", "--by", "Tove").out
    ran = run("accepted", "HBR-T1", "--by", "Tove", "--why", "flushed both ways")
    assert "closed with pieces missing, accepted by Tove" in ran.out
    assert "accepted by Tove on 2027-03-15" in run("trails").out
    assert "every piece is found" in run("looked", "HBR-T1", "5", "1").out
    assert run("trails", "--json").answer["do_not_run"] == []
    assert "DO NOT RUN" not in run("due").out


def test_a_trail_is_printed_and_what_is_wrong_is_said(run, demo, tmp_path):
    run("missing", "ENG", "vane")
    file = tmp_path / "trail.pdf"
    assert run("trails", "ENG-T1", "--out", str(file)).code == 0
    assert file.read_bytes().startswith(b"%PDF-")
    is_error(run("trails", "ENG-T9"), "trail: no trail is called 'ENG-T9'")
    is_error(run("looked", "ENG-T1", "99"), "place: there is no such place on this trail")
    assert run("accepted", "ENG-T1", "--by", "Tove").code == 2
