"""Runs the tests of the client's modules, which need no browser, on node."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from spares.actions.fit_data import fit_data_bytes

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("*.test.js"))


@pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")
def test_modules_of_the_client_pass_their_own_tests(tmp_path: Path) -> None:
    data = tmp_path / "sheets.json"
    data.write_bytes(fit_data_bytes())
    done = subprocess.run(["node", "--test", "--test-reporter=tap", *map(str, FILES)],
                          capture_output=True, text=True, timeout=300, check=False,
                          env={**os.environ, "FIT_DATA": str(data), "PYTHON": sys.executable},
                          cwd=HERE.parents[1])
    assert done.returncode == 0, done.stdout[-6000:] + done.stderr[-2000:]
    ran = re.search(r"^# tests (\d+)$", done.stdout, re.MULTILINE)
    assert ran and int(ran[1]) >= len(FILES), "nothing ran"
