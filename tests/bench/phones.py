"""A made-up vessel behind a server, and the phones of the benches that look at it."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

from playwright.sync_api import Page

PARTS, FEW = 20_000, 1_000
TODAY = "2027-03-15"
TYPED = "fuel impeller"
PATIENCE_S = 600
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True,
         "service_workers": "allow"}

KEEP = """async () => {
  const { keepHere, keeper } = await import("/kept/kept.js");
  const start = performance.now();
  await keepHere("bench");
  return [(performance.now() - start) / 1000, keeper.value.aboard().entries().length];
}"""
GATHERED = """async () => (await import("/kept/gather.js")).gatheredAt.value !== null"""


def until(page: Page, asked: str, pause_ms: int = 500) -> None:
    """Ask the page until it says yes; `wait_for_function` takes a promise itself for a yes."""
    for _ in range(PATIENCE_S * 1000 // pause_ms):
        if page.evaluate(asked):
            return
        page.wait_for_timeout(pause_ms)
    raise TimeoutError(asked)


def stand_back() -> None:
    """What is no part of the phone (the boat's computer, what measures) leaves it the processor."""
    os.nice(19)


class Served:
    """A made-up vessel behind a server that can be stopped."""

    def __init__(self, store: Path) -> None:
        with socket.socket() as found:
            found.bind(("127.0.0.1", 0))
            self.port = found.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self._server = subprocess.Popen(
            [sys.executable, "-c", "from spares.cli.main import main; main()", "serve"],
            stdout=subprocess.DEVNULL, preexec_fn=stand_back,
            env={**os.environ, "SPARES_STORE": str(store), "SPARES_PORT": str(self.port),
                 "SPARES_TODAY": TODAY})
        for _ in range(300):
            try:
                with urllib.request.urlopen(f"{self.address}/api/vessels", timeout=60):
                    return
            except OSError:
                time.sleep(0.2)
        raise TimeoutError(self.address)

    def stop(self) -> None:
        self._server.terminate()
        self._server.wait(120)       # it may be in the middle of a long answer
