"""Two vessels' stores, one lends to the other: by commands and a file that goes between them."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

from tests.cli.conftest import Ran, is_error


def test_two_stores_lend_and_give_back_by_file(
        run: Callable[..., Ran], demo: Path, tmp_path: Path) -> None:
    theirs = str(shutil.copy(demo, tmp_path / "hestereje.sqlite"))
    out, home = str(tmp_path / "to-hre.json"), str(tmp_path / "back.json")
    assert run("lent", "P041", "L17", "launch HRE", "2").code == 0
    loan = run("loans", "--json").answer["lent"][0]["loan"]
    assert run("slip", loan, out).code == 0
    hers = ("--store", theirs, "--vessel", "HRE")
    is_error(run("slip-in", out), "her own slip")
    locker = run("find", "--json", *hers, "L01").answer["hits"][0]["no"]
    came = run("slip-in", out, locker, *hers)
    assert came.code == 0 and came.out.startswith("Borrowed 2 of "), came
    assert "was recorded before" in run("slip-in", out, locker, *hers).out
    shown = run("loans", *hers)
    assert "Borrowed:\n  2 of " in shown.out and "TANGLOPPE" in shown.out.upper()
    assert run("give-back", loan, "1", *hers).out.startswith("Gave back 1 of ")
    assert run("slip", loan, home, *hers).code == 0
    assert run("slip-in", home).out.startswith("Back 1 of P041")
    assert "was recorded before" in run("slip-in", home).out
    assert ", 1 back\n    " in run("loans").out


def test_file_that_is_no_slip_or_was_damaged_is_refused(
        run: Callable[..., Ran], demo: Path, tmp_path: Path) -> None:
    run("lent", "P041", "L17", "launch HRE", "1")
    out = tmp_path / "slip.json"
    run("slip", run("loans", "--json").answer["lent"][0]["loan"], str(out))
    slip = json.loads(out.read_text("utf-8"))
    for text, said in ((out.read_text("utf-8")[:-20], "JSON"), ("{}", "no slip"),
                       (json.dumps({**slip, "borrower": "me"}), "damaged"),
                       ("[" + "1," * 60_000 + "1]", "no slip")):
        out.write_text(text, "utf-8")
        is_error(run("slip-in", str(out), "L01", "--vessel", "HRE"), said)
