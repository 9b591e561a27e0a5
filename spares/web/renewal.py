"""Keep the doors of the boat's net as they should be while the server runs.

A computer aboard runs for years, and gets other addresses when the router is changed. Every
quarter of an hour it is looked whether the certificate still names this computer's addresses
and will last; if not, a new one is put into the open door, and connections go on.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from flask import Flask

from spares.errors import SparesError
from spares.web.certificates import Certificates, ready
from spares.web.net import Net
from spares.web.server import Door

EVERY_S = 15 * 60
_log = logging.getLogger("spares")


class Renewal:
    """Looks after name, addresses and certificate of one run."""

    def __init__(self, folder: Path, net: Net, *, doors: Sequence[Door], apps: Sequence[Flask],
                 addresses: Callable[[], tuple[str, ...]]) -> None:
        """Look after *doors* and *apps*; *addresses* gives this computer's own on the net.

        Args:
            folder: Where the certificates are kept.
            net: How the program is served when it starts.
            doors: Those that show the certificate.
            apps: Those that are told of a change.
            addresses: Asked each time.
        """
        self.net = net
        self.on_change: Callable[[Net], None] = lambda net: None
        self._folder, self._doors, self._apps = folder, doors, apps
        self._addresses = addresses

    async def run(self) -> None:
        """Look again and again, until cancelled."""
        while True:
            await asyncio.sleep(EVERY_S)
            await asyncio.to_thread(self.look)

    def look(self, now: datetime | None = None) -> None:
        """Look once. What goes wrong is said, and tried again the next time."""
        try:
            self._look(now or datetime.now(UTC))
        except (SparesError, OSError, ValueError) as err:
            _log.error("the certificate could not be looked after: %s", err)

    def _look(self, now: datetime) -> None:
        addresses = self._addresses()
        made = ready(self._folder, self.net.name, addresses, now)
        if made.renewed:
            self._show(made)
        net = replace(self.net, addresses=addresses, until=made.until)
        if net == self.net:
            return
        _log.warning("the net was looked at anew: %s, certificate until %s",
                     ", ".join(net.addresses) or "no address", net.until)
        self.net = net
        for app in self._apps:
            app.config["NET"] = net
        self.on_change(net)

    def _show(self, made: Certificates) -> None:
        for door in self._doors:
            for context in door.contexts:
                context.load_cert_chain(made.server, made.server_key)
        if made.made_authority:
            _log.warning("a new authority was made: every phone has to install it")
