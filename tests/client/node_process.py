"""A node process that stays: one JSON request a line, one answer a line."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any


class Node:
    """A script of this folder, asked as often as wanted."""

    def __init__(self, script: str) -> None:
        self._process = subprocess.Popen(
            ["node", str(Path(__file__).parent / script)], stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, text=True, encoding="utf-8")

    def ask(self, verb: str, **given: Any) -> Any:
        """Ask one thing; gives what was answered, or the code of the refusal as `refused`."""
        assert self._process.stdin and self._process.stdout
        self._process.stdin.write(json.dumps({"verb": verb, **given}) + "\n")
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        assert line, f"node ended on {verb}"
        return json.loads(line)

    def close(self) -> None:
        """End the process."""
        assert self._process.stdin and self._process.stdout
        self._process.stdin.close()
        self._process.wait(timeout=20)
        self._process.stdout.close()
