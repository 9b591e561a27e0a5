"""`spares serve`: run the server for the page of this computer."""

from __future__ import annotations

import textwrap
from contextlib import ExitStack
from typing import TYPE_CHECKING, Any

import click

from spares.cli import options
from spares.config import SETTINGS, Settings
from spares.errors import Conflict, InvalidInput, StoreDamaged

if TYPE_CHECKING:
    from datetime import date

    from spares.web.lan import Lan
    from spares.web.renewal import Renewal
    from spares.web.server import Door

_INDENT = " " * 6


def _setting(name: str, meaning: str, default: str) -> str:
    about = textwrap.wrap(f"{meaning} (default: {default})", 68, break_long_words=False)
    return "\n".join([f"  {name}", *(_INDENT + line for line in about)])


_SETTINGS = "\n".join(_setting(*one) for one in SETTINGS)


@click.command(epilog="\b\nSettings from the environment:\n" + _SETTINGS)
@options.common
@click.option("--port", type=click.IntRange(0, 65535), metavar="PORT",
              help="Port on this computer; 0 takes any free one.")
@click.option("--lan", is_flag=True, help="Also serve paired phones on the boat's net (https).")
@click.option("--find-page", is_flag=True,
              help="With --lan: anyone on the net may look where things lie (plain http).")
def serve(port: int | None, lan: bool, find_page: bool) -> None:
    """Serve the page for people and the API for programs.

    While it runs, commands that write hand their change to it. Ctrl-C ends it.

    With --lan phones on the boat's net can join: the vessel's own certificate is made once,
    a plain page tells how to install it, and nothing else answers without a paired device.
    With --find-page as well, that plain page also finds: names, places and counts, to look
    at only, for anyone on the net.

    \b
    Example:  spares serve
              spares serve --lan
    """
    settings = options.settings()
    if find_page and not lan:
        raise InvalidInput.at("#/find-page", "this page is for the boat's net: add --lan")
    serve_store(settings, settings.port if port is None else port, lan=lan, find_page=find_page)


def serve_store(settings: Settings, port: int, more: str = "", *, lan: bool = False,
                find_page: bool = False) -> None:
    """Serve the store of *settings* on *port* until told to stop; *more* is printed at the start.

    With *lan* the boat's net is served as well, with *find_page* a page that only looks, too.

    Raises:
        StoreBusy: another server runs on this store.
        InvalidInput: the port cannot be opened.
    """
    from spares.web import running, server
    from spares.web.app import create_app
    from spares.web.chores import Chores
    from spares.web.store import store_of

    if mark := running.find_server(settings):
        raise running.served_already(settings, mark)
    token = running.new_token()
    with server.listen(settings.host, port) as listening, ExitStack() as stack:
        address = server.address_of(listening)
        stack.enter_context(running.marked(settings, address, token))
        app, doors, told, renewal = _open_lan(stack, settings, token, find_page) if lan else (
            create_app(settings, token=token), (), "", None)
        chores = [Chores(app).run, *([renewal.run] if renewal else [])]
        stack.callback(lambda: store_of(app).close())
        _look_at_store(app)
        server.run([server.Door(app, listening), *doors],
                   lambda: _tell(settings, address, told + more), chores)


def _look_at_store(app: Any) -> None:
    """Open the store; one that is damaged is served all the same, so that phones are told."""
    from spares.web.store import store_of

    try:
        store_of(app).get()
    except StoreDamaged as err:
        click.echo(f"error: {err.detail}\nUntil then every request is answered so; "
                   "phones go on from their copies.", err=True)


def _open_lan(stack: ExitStack, settings: Settings, token: str, has_find: bool
              ) -> tuple[Any, tuple[Door, ...], str, Renewal]:
    from spares.web.app import create_app
    from spares.web.lan import Announcer, open_lan, own_addresses

    app, lan = stack.enter_context(open_lan(
        settings, lambda net: create_app(settings, token=token, net=net), own_addresses(),
        has_find=has_find))
    announcer = Announcer()
    stack.callback(announcer.close)
    announcer.say(lan.net)
    lan.renewal.on_change = announcer.say
    told = f"\nAnyone on the net may look where things lie: {lan.join_url}/find" if has_find else ""
    return app, lan.doors, _about_lan(lan) + told, lan.renewal


def _about_lan(lan: Lan) -> str:
    from spares.actions.devices import picture_for_terminal

    anew = ("\nA new certificate was made: every phone has to install it."
            if lan.certificates.made_authority else "")
    return (f"\n\n{picture_for_terminal(lan.join_url)}\n"
            f"To bring a phone aboard, open {lan.join_url} on it, or scan the code above.\n"
            f"Phones then use {lan.net.address}.\n"
            f"Fingerprint of the certificate: {lan.certificates.fingerprint}{anew}")


def _tell(settings: Settings, address: str, more: str) -> None:
    click.echo(f"Open {address} in a browser on this computer.")
    click.echo(f"The store is {settings.shown}. Ctrl-C ends the server.{more}")


@click.command()
@options.common
@click.option("--load-only", is_flag=True, help="Load into the store of the settings, and end.")
@click.option("--day-zero", metavar="DATE", help="The demo's present day; today unless said.")
@click.option("--port", type=click.IntRange(0, 65535), metavar="PORT",
              help="Port on this computer; 0 takes any free one.")
def demo(load_only: bool, day_zero: str | None, port: int | None) -> None:
    """Try the program on an invented vessel.

    A throw-away copy is served; with --load-only the vessel is loaded into the (empty)
    store of the settings instead, her records without her pictures.

    \b
    Example:  spares demo
              spares demo --load-only --day-zero 2027-03-15
    """
    import tempfile
    from datetime import date
    from pathlib import Path

    from spares.actions.amounts import day
    from spares.config import today

    settings = options.settings()
    zero = date.fromisoformat(day(day_zero, "day_zero", today(settings)))
    if load_only:
        _load_demo(settings, zero)
        return
    with tempfile.TemporaryDirectory(prefix="spares-demo-") as folder:
        copy = settings._replace(store=str(Path(folder) / "demo.sqlite"),
                       today=settings.today or (zero if day_zero else None))
        _load_demo(copy, zero, pictures=True)
        serve_store(copy, settings.port if port is None else port,
                    "\nThis is the demo: what you change is gone when it ends.")


def _load_demo(settings: Settings, zero: date, *, pictures: bool = False) -> None:
    from spares.actions.bring_in import load_demo
    from spares.actions.demo_pictures import show_pictures
    from spares.actions.vessels import vessels
    from spares.db.engine import open_store
    from spares.web import running

    if mark := running.find_server(settings):
        raise running.served_already(settings, mark)
    opened = open_store(settings.store, beside=settings.beside)
    try:
        if there := vessels(opened)["vessels"]:
            raise Conflict(f"the store holds {', '.join(one['mark'] for one in there)} already; "
                           "the demo goes into an empty store only", store=settings.shown)
        for answer in load_demo(opened, day_zero=zero):
            click.echo(f"Loaded {answer['vessel']}: {answer['changes']} changes.")
        if pictures:
            show_pictures(opened, zero)
    finally:
        opened.close()


COMMANDS = (serve, demo)
