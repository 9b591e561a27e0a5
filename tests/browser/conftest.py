"""A real server process with the demo vessel, and phones that look at it."""

from __future__ import annotations

import os
import re
import shutil
import socket
import time
import urllib.request
from collections.abc import Callable, Iterator
from multiprocessing.process import BaseProcess
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Request, expect, sync_playwright
from playwright.sync_api import TimeoutError as PageTimeout

from tests.browser.forked import begin
from tests.conftest import chromium

ROOT = Path(__file__).parents[2]
TODAY = "2027-03-15"
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True,
         "locale": "en-GB"}
QUIET = ["--no-sandbox", "--disable-quic", "--disable-background-networking",
         "--disable-component-update", "--no-first-run"]

#: The page's own verdict, not the signs of a list that the next page may still have to replace.
VERDICT = ".verdict[data-verdict]"

expect.set_options(timeout=15_000)       # two busy cores shared with a second Chromium


def _settings(store: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith("SPARES_")}
    return kept | {"SPARES_STORE": str(store), "SPARES_TODAY": TODAY}


@pytest.fixture(scope="session")
def demo_store(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Load the demo vessel once, at her own day zero."""
    store = tmp_path_factory.mktemp("demo") / "demo.sqlite"
    loading = begin("demo", "--load-only", "--day-zero", TODAY, settings=_settings(store))
    loading.join(timeout=120)
    assert loading.exitcode == 0
    return store


@pytest.fixture(scope="session")
def running() -> Iterator[dict[str, BaseProcess]]:
    """The servers that run, by address. All end with the session."""
    found: dict[str, BaseProcess] = {}
    yield found
    for server in found.values():
        server.terminate()
    for server in found.values():
        _ended(server, timeout_s=60)         # all at once on two cores


@pytest.fixture(scope="session")
def stop(running: dict[str, BaseProcess]) -> Callable[[str], None]:
    """Stop the server at an address."""
    def end(address: str) -> None:
        server = running.pop(address)
        server.terminate()
        _ended(server, timeout_s=20)

    return end


@pytest.fixture(scope="session")
def start(running: dict[str, BaseProcess]) -> Callable[..., str]:
    """Start a server on a store, on a free port or the one that is named; gives its address."""
    def run(store: Path, port: int | None = None) -> str:
        port = port or free_port()
        server = begin("serve", "--port", str(port), settings=_settings(store))
        address = f"http://127.0.0.1:{port}"
        running[address] = server
        await_answer(address, server.is_alive)
        return address

    return run


@pytest.fixture(scope="session")
def serve(start: Callable[..., str], demo_store: Path,
          tmp_path_factory: pytest.TempPathFactory) -> Callable[[], str]:
    """Serve a copy of the demo for itself."""
    def copied() -> str:
        store = tmp_path_factory.mktemp("served") / "spares.sqlite"
        shutil.copy(demo_store, store)
        return start(store)

    return copied


@pytest.fixture(scope="session")
def address(serve: Callable[[], str]) -> str:
    """A server that tests only look at."""
    return serve()


@pytest.fixture(scope="module")
def own_address(serve: Callable[[], str]) -> str:
    """A server whose store the tests of one file may change."""
    return serve()


@pytest.fixture(scope="session")
def opened_chromium() -> Iterator[Browser]:
    """The Chromium found on the PATH; none is ever downloaded."""
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=chromium(), args=QUIET)
        yield found
        found.close()


@pytest.fixture(scope="session")
def shared(opened_chromium: Browser) -> Iterator[BrowserContext]:
    """What ordinary phones share, so that a file of the client is fetched once."""
    context = opened_chromium.new_context(**PHONE)  # type: ignore[arg-type]
    yield context
    context.close()


class Phone:
    """A phone with a page open: it counts taps and keys, and remembers what went wrong."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.context, self.address = context, address
        self.page: Page = context.new_page()
        self.page.goto(f"{address}/icons/icon.svg")
        self.page.evaluate("() => localStorage.clear()")
        self.page.set_default_timeout(20000)
        self.page.set_default_navigation_timeout(60000)      # 200 files on two cores
        self.taps = self.keys = 0
        self.faults: list[str] = []
        self.requests: list[str] = []
        self.unfinished: set[str] = set()
        self.page.on("console", self._heard)
        self.page.on("pageerror", lambda error: self.faults.append(f"page error: {error}"))
        self.page.on("request", self._asked)
        self.failed: list[str] = []
        self.page.on("requestfailed",
                     lambda request: self.failed.append(f"{request.url}: {request.failure}"))
        for end in ("requestfinished", "requestfailed"):
            self.page.on(end, lambda request: self.unfinished.discard(request.url))

    def _asked(self, request: Request) -> None:
        self.requests.append(request.url)
        self.unfinished.add(request.url)

    def _heard(self, message: object) -> None:
        said, kind = message.text, message.type  # type: ignore[attr-defined]
        if kind in ("error", "warning") and "Failed to load resource" not in said:
            self.faults.append(f"{kind}: {said}")

    def open(self, route: str = "") -> Page:
        """Open the page, as from the icon; not counted as a tap."""
        self.page.goto(f"{self.address}/{route}")
        try:
            self.page.locator("nav.bar").wait_for(timeout=60000)
        except PageTimeout as err:
            raise AssertionError(f"the page did not start: {self._stuck()}") from err
        return self.page

    def _stuck(self) -> dict[str, object]:
        """Tell what the page still waits for."""
        return {"unfinished": sorted(self.unfinished), "faults": self.faults,
                "failed": self.failed,
                "page": self.page.evaluate(
                    """() => ({at: location.href, state: document.readyState,
                               worker: navigator.serviceWorker?.controller?.state ?? null})""")}

    def tap(self, what: str, **options: object) -> None:
        """Lift a finger from the first thing that *what* selects, and count it."""
        self.page.locator(what, **options).first.tap()  # type: ignore[arg-type]
        self.taps += 1

    def type(self, text: str) -> None:
        """Type where the cursor is, and count the keys."""
        self.page.keyboard.type(text)
        self.keys += len(text)

    def fill_day(self, name: str, day: str, month: str, year: str) -> None:
        """Type a day into its three fields."""
        self.page.locator(f'[name="{name}-day"]').fill(day)
        self.page.locator(f'[name="{name}-month"]').select_option(label=month)
        self.page.locator(f'[name="{name}-year"]').fill(year)

    def foreign(self) -> list[str]:
        """Give requests that left for another origin."""
        return [url for url in self.requests
                if not url.startswith(self.address) and not re.match(r"(data|blob):", url)]


@pytest.fixture
def make_phone(opened_chromium: Browser) -> Iterator[Callable[..., Phone]]:
    """Make phones; at the end none may have seen an error or asked another origin."""
    made: list[Phone] = []
    own: list[BrowserContext] = []

    def make(address: str, context: BrowserContext | None = None, **options: object) -> Phone:
        if context is None:
            context = opened_chromium.new_context(**PHONE | options)  # type: ignore[arg-type]
            own.append(context)
        made.append(Phone(context, address))
        if context in own:      # the worker's requests as well, not only the page's
            context.on("request", lambda request, seen=made[-1].requests: seen.append(request.url))
        return made[-1]

    yield make
    faults = [fault for phone in made for fault in phone.faults
              if "Service Worker registration blocked" not in fault]
    foreign = [url for phone in made for url in phone.foreign()]
    for phone in made:
        phone.page.close()
    for context in own:
        context.close()
    assert not faults
    assert not foreign


@pytest.fixture
def phone(make_phone: Callable[..., Phone], shared: BrowserContext, address: str) -> Phone:
    """A phone that looks."""
    return make_phone(address, shared)


@pytest.fixture(scope="session")
def open_page(opened_chromium: Browser, address: str) -> Iterator[Phone]:
    """A phone whose page is loaded once, with a store of the browser that nobody else uses."""
    context = opened_chromium.new_context(
        **PHONE, service_workers="block")   # type: ignore[arg-type]
    found = Phone(context, address)
    found.open()
    yield found
    context.close()


@pytest.fixture
def looker(open_page: Phone) -> Iterator[Phone]:
    """A phone that looks at a place and leaves nothing behind: its page is open already."""
    open_page.page.goto(f"{open_page.address}/#/aboard/light")
    open_page.page.locator('label:has-text("Left hand")').wait_for()   # nothing of another story
    open_page.taps = open_page.keys = 0
    yield open_page
    assert not [one for one in open_page.faults if "registration blocked" not in one]
    assert not open_page.foreign()


@pytest.fixture
def own_phone(make_phone: Callable[..., Phone], shared: BrowserContext,
              own_address: str) -> Phone:
    """A phone that may change things."""
    return make_phone(own_address, shared)


def free_port() -> int:
    """Give a port that nobody listens on."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port


def _ended(server: BaseProcess, timeout_s: float) -> None:
    server.join(timeout_s)
    assert not server.is_alive(), "the server did not end"


def await_answer(address: str, lives: Callable[[], bool]) -> None:
    """Wait until a server answers, or ended at its start."""
    until = time.monotonic() + 60
    while time.monotonic() < until:
        assert lives(), "the server ended at its start"
        try:
            with urllib.request.urlopen(f"{address}/api/vessels", timeout=30):
                return
        except OSError:
            time.sleep(0.05)
    raise AssertionError("the server did not answer within a minute")
