"""Settings: everything that the surroundings may say about how the program runs.

All come from `SPARES_*` environment variables, all have a default, and `SETTINGS` lists
them once: help texts, the guide and the reader below use that one list.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from datetime import date
from ipaddress import ip_address
from pathlib import Path
from typing import NamedTuple

from spares.errors import InvalidInput

_HOST_NAME = re.compile(r"(?!-)[a-z0-9-]{1,60}(?<!-)(\.(?!-)[a-z0-9-]{1,60}(?<!-))+")
_NOT_IN_NAMES = re.compile(r"[^A-Za-z0-9_-]+")
_PASSWORD = re.compile(r"(://[^:/@]*):[^@/]*@")
_PASSWORD_BEHIND = re.compile(r"(?i)([?&][a-z]*password=)[^&]*")
PACKAGE = Path(__file__).resolve().parent

#: Values that come up before Python looks for rubbish among them. The plan of a large vessel makes
#: a hundred thousand which live until it is told: looking at every 700 took a fifth of its time.
#: A command that only looks comes to an end before.
COLLECT_AFTER = 50_000


class Setting(NamedTuple):
    """One environment variable: its name, what it means, what holds without it."""

    name: str
    meaning: str
    default: str


SETTINGS = (
    Setting("SPARES_STORE", "the store: a file path, or a database address (…://…)",
            "spares.sqlite in the user's data folder"),
    Setting("SPARES_FOLDER", "folder for what lies beside a store that is a database: photos, "
            "backups, certificates", "one of the database's name in the user's data folder"),
    Setting("SPARES_SHEETS", "folder of a person's own kind sheets, one <kind>.toml each",
            "sheets beside the store"),
    Setting("SPARES_TODAY", "a date (2027-03-15) that stands in for today in every computation",
            "the date of this computer's clock"),
    Setting("SPARES_HOST", "address on which the page for this computer alone is served",
            "127.0.0.1"),
    Setting("SPARES_PORT", "port of that page (plain http)", "8470"),
    Setting("SPARES_NAME", "name on the boat's net, ending in .local; phones keep what they know "
            "under it, so it never changes", "spares.local"),
    Setting("SPARES_NET_PORT", "port on the boat's net (https); never changes either", "8443"),
    Setting("SPARES_JOIN_PORT", "port of the page that installs the certificate on a phone",
            "8480"),
)
_DEFAULTS = {setting.name: setting.default for setting in SETTINGS}


class Settings(NamedTuple):
    """The settings of one run.

    `store` is a file path or a database address, `today` is None where the clock decides,
    the port is a TCP port number, 0 meaning any free one.
    """

    store: str
    today: date | None
    host: str
    port: int
    sheets: str = ""
    beside_database: str = ""
    name: str = "spares.local"
    net_port: int = 8443
    join_port: int = 8480

    @property
    def store_is_file(self) -> bool:
        """Whether the store is a file here, not a database reached by an address."""
        return "://" not in self.store

    @property
    def folder(self) -> Path:
        """Folder for what lies beside the store: certificates, the running server's mark."""
        return self.beside.parent

    @property
    def beside(self) -> Path:
        """The store's file; of a database, the name beside which its photos and backups lie."""
        if self.store_is_file:
            return Path(self.store).absolute()
        name = _NOT_IN_NAMES.sub("-", self.store.partition("?")[0].rpartition("/")[2])
        name = name or "database"
        folder = Path(self.beside_database) if self.beside_database else data_folder() / name
        return folder.absolute() / name

    @property
    def mark(self) -> Path:
        """Where a running server of the store leaves its mark."""
        return self.beside.with_name(f"{self.beside.name}.server")

    @property
    def shown(self) -> str:
        """The store as it may be shown: without the password of a database."""
        if self.store_is_file:
            return self.store
        return _PASSWORD_BEHIND.sub(r"\1***", _PASSWORD.sub(r"\1:***@", self.store))

    @property
    def sheets_folder(self) -> Path:
        """Folder of a person's own kind sheets; it need not be there."""
        return Path(self.sheets) if self.sheets else self.folder / "sheets"


def read_settings(environ: Mapping[str, str] | None = None) -> Settings:
    """Read the settings from *environ*, by default from the process's environment.

    An empty value counts as none.

    Raises:
        InvalidInput: a value cannot be read; `errors` names the variable.
    """
    surroundings = os.environ if environ is None else environ
    given = {name: surroundings[name].strip() for name in _DEFAULTS
             if surroundings.get(name, "").strip()}
    return Settings(
        store=_store(given.get("SPARES_STORE")),
        today=_day(given.get("SPARES_TODAY")),
        host=_host(given),
        port=_port(given, "SPARES_PORT"),
        sheets=_folder(given.get("SPARES_SHEETS")),
        beside_database=_folder(given.get("SPARES_FOLDER")),
        name=_name(given),
        net_port=_port(given, "SPARES_NET_PORT"),
        join_port=_port(given, "SPARES_JOIN_PORT"),
    )


def today(settings: Settings | None = None) -> date:
    """Give the date that counts as today: the one that is set, else the clock's."""
    return (settings or read_settings()).today or date.today()


def data_folder() -> Path:
    """Give the folder in which this system keeps a user's data for the program."""
    import platformdirs  # late: a third of reading the settings, and many name their store

    return Path(platformdirs.user_data_dir("spares", appauthor=False))


def static_folder() -> Path:
    """Give the folder of the phone client's files."""
    return _shipped("static")


def seed_folder() -> Path:
    """Give the folder of the demo vessel's data files."""
    return _shipped("seed")


def checkout() -> Path | None:
    """Give the top folder of the checkout the program runs from; None when installed."""
    top = PACKAGE.parent
    return top if (top / "pyproject.toml").is_file() else None


def _shipped(name: str) -> Path:
    top = checkout()
    return top / name if top else PACKAGE / f"_{name}"


def _store(text: str | None) -> str:
    if text is None:
        return str(data_folder() / "spares.sqlite")
    return text if "://" in text else str(Path(text).expanduser())


def _folder(text: str | None) -> str:
    return "" if text is None else str(Path(text).expanduser())


def _day(text: str | None) -> date | None:
    if text is None:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text:      # week dates and 20270315 would be read too
        raise InvalidInput.at("#/SPARES_TODAY", f"{text!r} is no date; write it as 2027-03-15")
    return day


def _host(given: Mapping[str, str]) -> str:
    """Take an address of this computer alone: the page asks nobody who they are."""
    host = given.get("SPARES_HOST", _DEFAULTS["SPARES_HOST"])
    try:
        alone = host == "localhost" or ip_address(host.strip("[]")).is_loopback
    except ValueError:
        alone = False
    if not alone:
        raise InvalidInput.at("#/SPARES_HOST", f"{host!r} is open to others; the page is served "
                              "to this computer alone (127.0.0.1, ::1 or localhost)")
    return host


def _name(given: Mapping[str, str]) -> str:
    """Take a host name: letters, digits and hyphens, in pieces between dots."""
    name = given.get("SPARES_NAME", _DEFAULTS["SPARES_NAME"]).lower().rstrip(".")
    if not _HOST_NAME.fullmatch(name) or len(name) > 100:
        raise InvalidInput.at("#/SPARES_NAME", f"{name!r} is no name for a computer; "
                              "give one such as spares.local")
    return name


def _port(given: Mapping[str, str], name: str) -> int:
    text = given.get(name, _DEFAULTS[name])
    if not (text.isascii() and text.isdecimal() and int(text) <= 65535):
        raise InvalidInput.at(f"#/{name}", f"{text!r} is no port; give a number from 0 to 65535")
    return int(text)
