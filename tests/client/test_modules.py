"""Runs the tests of the client's modules, which need no browser, on node."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("*.test.js"))


@pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")
def test_modules_of_the_client_pass_their_own_tests() -> None:
    done = subprocess.run(["node", "--test", "--test-reporter=tap", *map(str, FILES)],
                          capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stdout[-6000:] + done.stderr[-2000:]
    ran = re.search(r"^# tests (\d+)$", done.stdout, re.MULTILINE)
    assert ran and int(ran[1]) >= len(FILES), "nothing ran"
