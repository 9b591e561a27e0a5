"""A PostgreSQL server of the tests' own: begun when first wanted, gone with the run.

Its data lie in memory where that can be and nothing waits for a disk: what a power cut leaves
is PostgreSQL's own matter. It listens on a socket in its folder alone.
"""

from __future__ import annotations

import atexit
import hashlib
import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from itertools import count
from pathlib import Path
from typing import Any

from spares.db import engine, postgresql
from spares.db.rows_between import put_rows
from spares.selftest import IN_MEMORY, has_room_in_memory

QUICK = IN_MEMORY if has_room_in_memory() else None     # some hundred databases of 8 MB

OPTIONS = ("-c listen_addresses= -c fsync=off -c synchronous_commit=off -c full_page_writes=off "
           "-c shared_buffers=64MB -c max_connections=200 -c autovacuum=off "
           "-c wal_level=minimal -c max_wal_senders=0")
PREFIX = "spares-pg-"
MISSING = "no PostgreSQL here (on Debian: apt install postgresql), or its driver is missing"


def programs() -> Path | None:
    """Give the folder of the server's programs; None where they, or the driver, are missing."""
    places = sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    if asked := shutil.which("initdb"):
        places.append(Path(asked).resolve().parent)
    try:
        import psycopg  # noqa: F401
        if os.geteuid() == 0:       # it does not run as root
            pwd.getpwnam("postgres")
    except (ImportError, KeyError):
        return None
    return next((place for place in places if (place / "initdb").exists()), None)


class Cluster:
    """A server that runs until the process ends."""

    def __init__(self, bin_folder: Path) -> None:
        self.bin, self._numbers = bin_folder, count()
        for left in Path(QUICK or tempfile.gettempdir()).glob(f"{PREFIX}*"):
            self._end_left(left)
        self.folder = Path(tempfile.mkdtemp(prefix=f"{PREFIX}{os.getpid()}-", dir=QUICK))
        atexit.register(self._end)
        if os.geteuid() == 0:
            shutil.chown(self.folder, "postgres")
        self._run("initdb", "-A", "trust", "--locale=C.UTF-8", "-E", "UTF8", "-U", "postgres",
                  "--no-sync")
        self.start()

    def start(self) -> None:
        """Start it, or start it again."""
        self._run("pg_ctl", "-o", f"-k {self.folder} {OPTIONS}", "-w", "-l",
                  str(self.folder / "log"), "start")

    def stop(self) -> None:
        """Stop it, as a power cut would."""
        self._run("pg_ctl", "-m", "immediate", "stop")

    def address(self, name: str) -> str:
        """Give the address of a database."""
        return f"postgresql://postgres@/{name}?host={self.folder}"

    def make(self, like: str = "template0", *, options: str = "") -> str:
        """Make a database as a copy of another, which nobody has open; gives its name."""
        name = f"t{next(self._numbers)}"
        self.ask(f"CREATE DATABASE {name} TEMPLATE {like} {options}")
        return name

    def drop(self, name: str) -> None:
        """Drop a database, whoever has it open."""
        self.ask(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")

    def ask(self, words: str, name: str = "postgres") -> list[Any]:
        """Ask or tell the server something, outside any transaction."""
        import psycopg
        with psycopg.connect(self.address(name), autocommit=True) as connection:
            found = connection.execute(words)
            return found.fetchall() if found.description else []

    def _run(self, program: str, *args: str) -> None:
        as_owner = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
        subprocess.run([*as_owner, str(self.bin / program), "-D", str(self.folder / "data"),
                        *args], cwd="/", check=True, stdout=subprocess.DEVNULL,
                       stderr=subprocess.DEVNULL, stdin=subprocess.DEVNULL)

    def _end_left(self, folder: Path) -> None:
        """End the server of a run that was killed."""
        process = folder.name.removeprefix(PREFIX).partition("-")[0]
        if process.isdecimal() and not Path("/proc", process).exists() and Path("/proc").exists():
            self.folder = folder
            self._end()

    def _end(self) -> None:
        try:
            self.stop()
        except (subprocess.CalledProcessError, OSError):
            pass        # a test stopped it
        shutil.rmtree(self.folder, ignore_errors=True)


@cache
def cluster() -> Cluster | None:
    """Give this process's server; None where there are no programs for one."""
    found = programs()
    return None if found is None else Cluster(found)


class Databases:
    """Opens each path of a store as a database of its own; the file there holds its name.

    A copy of that file is opened as a copy of the database, and a file of SQLite as a database
    with the same rows: what tests do with the files of stores holds here too.
    """

    MARK, MOST = b"postgresql ", 80

    def __init__(self, server: Cluster) -> None:
        self.server, self.kept, self.made = server, set(), []
        self.of_file: dict[bytes, str] = {}
        self.open_file = engine.open_file
        self.new = server.make()
        self._open(self.new, Path(self.new)).close()

    @contextmanager
    def in_use(self) -> Iterator[None]:
        """Let `open_store` open databases; after it, what it opened before."""
        before, engine.open_file = engine.open_file, self.open
        try:
            yield
        finally:
            engine.open_file = before

    def open(self, path: Path, *, upgrade: bool = True, keep: bool = False) -> engine.Store:
        """Open the database of a path, making it if need be; no copy is kept of a database."""
        path = path.expanduser().absolute()
        path.parent.mkdir(parents=True, exist_ok=True)
        content = path.read_bytes() if path.exists() else b""
        if content.startswith(self.MARK):
            name, where = content.removeprefix(self.MARK).decode().split(" ", 1)
            if where == str(path):
                return self._open(name, path, upgrade)
        else:
            name = self._like_file(path, content) if content else \
                self.new if upgrade else "template0"
        self.kept.add(name)
        fresh = self._make(name)
        path.write_bytes(self.MARK + f"{fresh} {path}".encode())
        return self._open(fresh, path, upgrade)

    def address_of(self, path: Path) -> str:
        """Give the address of the database that a path stands for."""
        content = path.absolute().read_bytes().decode()
        return self.server.address(content.removeprefix(self.MARK.decode()).split(" ", 1)[0])

    def _like_file(self, path: Path, content: bytes) -> str:
        key = hashlib.sha256(content).digest()
        if key not in self.of_file:
            name = self._make(self.new)
            file, base = self.open_file(path), self._open(name, path)
            with file.reading() as source, base.writing() as into:
                put_rows(source, into)
            file.close()
            base.close()
            self.kept.add(name)
            self.of_file[key] = name
        return self.of_file[key]

    def _open(self, name: str, path: Path, upgrade: bool = True) -> engine.Store:
        opened = engine.open_store(self.server.address(name), beside=path, upgrade=upgrade)
        assert isinstance(opened.turn, postgresql.Turn)
        return opened

    def _make(self, like: str) -> str:
        """Make a database, and drop old ones that nobody has open or copies from."""
        if len(self.made) > self.MOST:
            used = {row[0] for row in self.server.ask("SELECT datname FROM pg_stat_activity")}
            for name in [one for one in self.made[:-20] if one not in self.kept | used]:
                self.made.remove(name)
                self.server.drop(name)
        if like != "template0":     # a copy is made only of what nobody has open
            self.server.ask("SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
                            f"WHERE datname = '{like}' AND state = 'idle'")
        self.made.append(self.server.make(like))
        return self.made[-1]


def in_use() -> bool:
    """Say whether stores are databases just now."""
    return engine.open_file.__module__ != engine.__name__


def surroundings(path: Path) -> dict[str, str]:
    """Give the settings by which a process of its own finds the store of a path."""
    if not in_use():
        return {"SPARES_STORE": str(path)}
    return {"SPARES_STORE": databases().address_of(path), "SPARES_FOLDER": str(path.parent)}


@cache
def databases() -> Databases:
    """Give the databases of this process's server."""
    server = cluster()
    assert server is not None, MISSING
    return Databases(server)
