"""The program on the boat's net: under which name, and by which door a request came."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from flask import current_app, request

#: In the environ: by which of the server's ports a request came. Without it: this computer's own.
DOOR = "spares.door"
NET = "net"


@dataclass(frozen=True)
class Net:
    """The one name and port under which phones know the program, and this computer's addresses.

    What a browser keeps belongs to a name and a port: neither may ever change. `until` is the
    last day of the certificate that is shown.
    """

    name: str
    port: int
    addresses: tuple[str, ...] = ()
    until: date | None = None

    @property
    def address(self) -> str:
        """Give the address that phones use."""
        return f"https://{self.name}" + ("" if self.port == 443 else f":{self.port}")


def of_app() -> Net | None:
    """Give how this application is served on the net, None if it is not."""
    found: Net | None = current_app.config["NET"]
    return found


def came_by_net() -> bool:
    """Say whether this request came by the port that the boat's net can reach."""
    return request.environ.get(DOOR) == NET
