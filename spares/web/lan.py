"""Serve the boat's net: this computer's addresses, its name announced, its three doors.

On this computer the plain page goes on as before. On the net one door is https and asks for
a device's token; the other is plain and has nothing but the page that installs the
certificate.
"""

from __future__ import annotations

import logging
import socket
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from ipaddress import ip_address
from typing import Any

from flask import Flask
from zeroconf import NonUniqueNameException, ServiceInfo, Zeroconf, get_all_addresses

from spares.config import Settings
from spares.web.certificates import Certificates, ready
from spares.web.join import create_join_app
from spares.web.net import DOOR, NET, Net
from spares.web.renewal import Renewal
from spares.web.server import Door, listen
from spares.web.store import store_of

EVERYWHERE = "0.0.0.0"      # the doors of the net alone; the plain page stays on loopback
SERVICE = "_https._tcp.local."
_log = logging.getLogger("spares")


@dataclass(frozen=True)
class Lan:
    """All that is open on the boat's net."""

    net: Net
    certificates: Certificates
    join_url: str
    doors: tuple[Door, ...]
    renewal: Renewal


def own_addresses() -> tuple[str, ...]:
    """Give this computer's addresses (IPv4) that others can reach."""
    found = {str(one) for one in get_all_addresses() if not ip_address(one).is_loopback}
    return tuple(sorted(found, key=lambda one: ip_address(one).packed))


@contextmanager
def open_lan(settings: Settings, make_app: Callable[[Net], Flask],
             addresses: tuple[str, ...], *, has_find: bool = False
             ) -> Iterator[tuple[Flask, Lan]]:
    """Make what the net needs and open its ports; *make_app* makes the application.

    With *has_find* the plain port also has the look-only find page.

    Raises:
        InvalidInput: a port is in use.
    """
    folder = settings.folder / "certificates"
    certificates = ready(folder, settings.name, addresses, datetime.now(UTC))
    with ExitStack() as stack:
        secure = stack.enter_context(listen(EVERYWHERE, settings.net_port))
        plain = stack.enter_context(listen(EVERYWHERE, settings.join_port))
        net = Net(settings.name, secure.getsockname()[1], addresses, certificates.until)
        join_port = plain.getsockname()[1]
        app = make_app(net)
        join = create_join_app(net, certificates, store_of(app) if has_find else None)
        join_url = f"http://{addresses[0] if addresses else settings.name}:{join_port}"
        doors = (Door(_by_net(app), secure, (certificates.server, certificates.server_key)),
                 Door(join, plain))
        renewal = Renewal(folder, net, doors=doors[:1], apps=(app, join), addresses=own_addresses)
        yield app, Lan(net, certificates, join_url, doors, renewal)


class Announcer:
    """Tells the net under which name this computer answers (multicast DNS, RFC 6762).

    Where that is not possible the router's own names may do; serving goes on.
    """

    def __init__(self) -> None:
        self._spoken = ExitStack()

    def say(self, net: Net) -> None:
        """Take back what was said before, and say this."""
        self.close()
        if not (net.name.endswith(".local") and net.addresses):
            return
        try:
            speaker = Zeroconf(interfaces=list(net.addresses))
            self._spoken.callback(speaker.close)
            speaker.register_service(_service(net), allow_name_change=True)
        except (OSError, NonUniqueNameException) as err:
            _log.warning("the name %s cannot be announced on the net: %s", net.name, err)

    def close(self) -> None:
        """Say nothing more."""
        self._spoken.close()


def _service(net: Net) -> ServiceInfo:
    return ServiceInfo(SERVICE, f"Spares at {net.name}.{SERVICE}", port=net.port,
                       server=f"{net.name}.",
                       addresses=[socket.inet_aton(one) for one in net.addresses])


def _by_net(app: Flask) -> Callable[..., Iterable[bytes]]:
    def answer(environ: dict[str, Any], start: Any) -> Iterable[bytes]:
        return app.wsgi_app({**environ, DOOR: NET}, start)
    return answer
