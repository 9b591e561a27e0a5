"""A server on the boat's net, and a browser that trusts its authority."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser

from tests.browser.conftest import QUIET, ROOT, _settings
from tests.conftest import chromium

NAME = "spares.local"


@dataclass(frozen=True)
class Lan:
    """The addresses of a running server and its authority's certificate."""

    secure: str
    join: str
    here: str
    authority: Path

    @property
    def port(self) -> int:
        return int(self.secure.rsplit(":", 1)[1])


@contextmanager
def serve_lan(store: Path) -> Iterator[Lan]:
    """Serve a store on the net, on free ports, until the end of the block."""
    server = subprocess.Popen(
        [sys.executable, "-c", "import sys; from spares.cli.main import main; sys.exit(main())",
         "serve", "--lan", "--port", "0"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        text=True, cwd=ROOT,
        env={**_settings(store), "SPARES_NET_PORT": "0", "SPARES_JOIN_PORT": "0"})
    try:
        said = ""
        while "Fingerprint" not in said:
            line = server.stdout.readline()
            assert line
            said += line
        here = re.search(r"Open (http://127\.0\.0\.1:\d+) in a browser", said)[1]
        port = re.search(rf"https://{NAME}:(\d+)", said)[1]
        join = re.search(r"open http://[^ ]*:(\d+) on it", said)[1]
        yield Lan(f"https://{NAME}:{port}", f"http://127.0.0.1:{join}", here,
                  store.parent / "certificates/authority.crt")
    finally:
        server.send_signal(signal.SIGTERM)
        server.communicate(timeout=20)


def opened_with(home: Path, browser: Browser, authority: Path | None) -> Browser:
    """Open a Chromium that finds the name on this computer, and trusts an authority if given."""
    if authority is not None:
        known = home / ".pki/nssdb"
        known.mkdir(parents=True)
        for more in (["-N", "--empty-password"],
                     ["-A", "-n", "spares", "-t", "C,,", "-i", str(authority)]):
            subprocess.run(["certutil", "-d", f"sql:{known}", *more], check=True,
                           capture_output=True)
    return browser.browser_type.launch(
        executable_path=chromium(), env={**os.environ, "HOME": str(home)},
        args=[*QUIET, f"--host-resolver-rules=MAP {NAME} 127.0.0.1"])
