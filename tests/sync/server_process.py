"""A server that is a process of its own, which can be killed and started again."""

from __future__ import annotations

import http.client
import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

from tests.postgresql import surroundings

TOP = Path(__file__).resolve().parents[2]


class Server:
    """A server process on one store, that can be killed and started again."""

    def __init__(self, path: Path) -> None:
        self.path, self.port = path, 0
        self.process: subprocess.Popen[str] | None = None

    def start(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-c",
             "import sys; from spares.cli.main import main; sys.exit(main())", "serve",
             "--port", str(self.port)], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
            text=True, cwd=TOP, env={**os.environ, **surroundings(self.path)})
        line = self.process.stdout.readline()
        self.port = int(line.split("http://127.0.0.1:")[1].split()[0])

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.communicate()

    def post(self, path: str, body: Any, token: str = "", *,
             timeout_s: float = 20) -> tuple[int, Any]:
        asking = http.client.HTTPConnection("127.0.0.1", self.port, timeout=timeout_s)
        try:
            asking.request("POST", path, json.dumps(body), {
                "X-Spares": "1", "Content-Type": "application/json",
                **({"Authorization": f"Bearer {token}"} if token else {})})
            answer = asking.getresponse()
            return answer.status, json.loads(answer.read())
        finally:
            asking.close()

    def pair(self, role: str) -> dict[str, Any]:
        _, begun = self.post("/api/pairings", {"role": role})
        _, claim = self.post("/api/pair", {"code": begun["code"]})
        self.post(f"/api/pairings/{begun['pairing']}/confirm", {})
        _, paired = self.post("/api/pair/collect", {"claim": claim["claim"], "bearer": True})
        return paired
