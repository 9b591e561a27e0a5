"""The boat's computer with a program that a test may change: a copy, run as a process."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests.browser.conftest import ROOT, TODAY, await_answer, free_port


def copied_program(folder: Path) -> Path:
    """Copy the program and the client's files into a folder, which is given back."""
    for name in ("spares", "static", "seed"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", folder)
    return folder


class Boat:
    """The boat's computer at one address, running one version or the other on one store."""

    def __init__(self, store: Path) -> None:
        self.store, self.address, self._server = store, "", None

    def run(self, folder: Path) -> str:
        """Start the version in *folder*; at the same address as before."""
        self.stop()
        port = self.address.rsplit(":", 1)[-1] or str(free_port())
        kept = {name: value for name, value in os.environ.items()
                if not name.startswith("SPARES_")}
        self.address = f"http://127.0.0.1:{port}"
        self._server = subprocess.Popen(
            [sys.executable, "-m", "spares", "--store", str(self.store), "serve", "--port", port],
            cwd=folder, env={**kept, "SPARES_TODAY": TODAY}, stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL)
        server = self._server
        await_answer(self.address, lambda: server.poll() is None)
        return self.address

    def stop(self) -> None:
        """Stop it."""
        if self._server is not None:
            self._server.terminate()
            self._server.wait(timeout=20)
            self._server = None
