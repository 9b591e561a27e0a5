"""`spares serve`: run the server for the page of this computer."""

from __future__ import annotations

import click

from spares.cli import options
from spares.config import SETTINGS, Settings

_SETTINGS = "\n".join(f"  {one.name}\n      {one.meaning}\n      (default: {one.default})"
                      for one in SETTINGS)


@click.command(epilog="\b\nSettings from the environment:\n" + _SETTINGS)
@options.common
@click.option("--port", type=click.IntRange(0, 65535), metavar="PORT",
              help="Port on this computer; 0 takes any free one.")
def serve(port: int | None) -> None:
    """Serve the store: the page for people, the API for programs.

    While it runs, commands that write hand their change to it. Ctrl-C ends it.

    \b
    Example:  spares serve
              spares serve --port 8480
    """
    settings = options.settings()
    serve_store(settings, settings.port if port is None else port)


def serve_store(settings: Settings, port: int, more: str = "") -> None:
    """Serve the store of *settings* on *port* until told to stop; *more* is printed at the start.

    Raises:
        StoreBusy: another server runs on this store.
        InvalidInput: the port cannot be opened.
    """
    from spares.web import running, server
    from spares.web.app import create_app

    if mark := running.find_server(settings):
        raise running.served_already(settings, mark)
    token = running.new_token()
    with server.listen(settings.host, port) as listening:
        address = server.address_of(listening)
        with running.marked(settings, address, token):
            app = create_app(settings, token=token)
            server.run(app, listening, lambda: _tell(settings, address, more))


def _tell(settings: Settings, address: str, more: str) -> None:
    click.echo(f"Open {address} in a browser on this computer.")
    click.echo(f"The store is {settings.store}. Ctrl-C ends the server.{more}")


COMMANDS = (serve,)
