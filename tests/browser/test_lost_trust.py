"""The boat's computer shows a certificate that the phone must not take: it works on alone."""

from __future__ import annotations

import json
import shutil
import socket
import ssl
import threading
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec
from playwright.sync_api import Browser, Page, expect

from spares.web import certificates
from tests.browser.conftest import PHONE
from tests.browser.keeping import IN_BOX, KEEPS, until
from tests.browser.lan import NAME, opened_with, serve_lan

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.skipif(
    shutil.which("certutil") is None, reason="no certutil to install a certificate with")]

NOW = datetime.now(UTC)


def shown(folder: Path, name: str, made: datetime, where: Path) -> tuple[Path, Path]:
    """Make a certificate under the authority that the phone trusts, for a name and a time."""
    authority_key = serialization.load_pem_private_key(
        (folder / "authority.key").read_bytes(), None)
    authority = x509.load_pem_x509_certificate((folder / "authority.crt").read_bytes())
    key = ec.generate_private_key(ec.SECP256R1())
    one = certificates._make_server(key, authority_key, authority, name, (), made)
    where.mkdir()
    certificates._write(where, "server", key, one)
    return where / "server.crt", where / "server.key"


@contextmanager
def a_door(port: int, pair: tuple[Path, Path]) -> Iterator[list[str]]:
    """Greet whoever comes with this certificate; gives how each greeting ended."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(*pair)
    ended: list[str] = []
    listening = socket.create_server(("127.0.0.1", port))

    def greet() -> None:
        while True:
            try:
                plain, _ = listening.accept()
            except OSError:
                return
            plain.settimeout(5)
            try:
                with context.wrap_socket(plain, server_side=True) as secure:
                    ended.append("asked" if secure.recv(1) else "left")
            except (OSError, ssl.SSLError) as err:
                ended.append(str(err))
    thread = threading.Thread(target=greet, daemon=True)
    thread.start()
    try:
        yield ended
    finally:
        listening.shutdown(socket.SHUT_RDWR)
        listening.close()
        thread.join(10)


def posted(address: str, path: str, body: object) -> dict:
    asked = urllib.request.Request(f"{address}/api/{path}", json.dumps(body).encode(), {
        "Content-Type": "application/json", "X-Spares": "1"})
    with urllib.request.urlopen(asked, timeout=20) as answer:
        return json.load(answer)


def joined(page: Page, here: str) -> None:
    """Let the phone join by a code, and wait until its copy is whole."""
    begun = posted(here, "pairings", {"role": "crew"})
    page.evaluate("""async (code) => {
      const { postJson } = await import("/api.js");
      window.claim = await postJson("pair", { code, name: "Bo's phone" });
    }""", begun["code"])
    posted(here, f"pairings/{begun['pairing']}/confirm", {})
    page.evaluate("""async () => {
      const { postJson } = await import("/api.js");
      await postJson("pair/collect", { claim: window.claim.claim });
    }""")
    page.reload()
    until(page, KEEPS)
    until(page, """async () => (await import("/kept/kept.js")).exchange.value.at !== null""")
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    until(page, "() => navigator.serviceWorker.controller !== null")


def works_alone(page: Page, secure: str) -> None:
    """Open places anew, each from the phone's own copy, and see which address it asks."""
    for route in ("#/find?q=EMJR", "#/restock/T1", "#/part/P034?at=L17"):
        page.goto(f"{secure}/{route}")
        page.reload()
        expect(page.locator("nav.bar")).to_be_visible()
    expect(page.locator('[data-piece="kept-bar"]')).to_contain_text(
        f"({secure.removeprefix('https://')}) does not answer", timeout=20000)


def test_s39_phone_works_on_without_trust_and_says_which(
        demo_store: Path, opened_chromium: Browser, tmp_path: Path) -> None:
    store = Path(shutil.copy(demo_store, tmp_path / "demo.sqlite"))
    with serve_lan(store) as lan:
        browser = opened_with(tmp_path / "home", opened_chromium, lan.authority)
        page = browser.new_context(**PHONE).new_page()
        page.goto(f"{lan.secure}/#/aboard")
        joined(page, lan.here)
    folder, over = lan.authority.parent, page.locator('[data-certificate="over"]')
    renamed = shown(folder, "other.local", NOW - timedelta(days=1), tmp_path / "renamed")
    ended = shown(folder, NAME, NOW - timedelta(days=400), tmp_path / "ended")
    try:
        with a_door(lan.port, renamed) as greeted:
            works_alone(page, lan.secure)
            expect(over).to_have_count(0)
            refuses(browser, lan.secure, "ERR_CERT_COMMON_NAME_INVALID")
        with a_door(lan.port, ended) as greeted_again:
            page.clock.set_fixed_time(NOW + timedelta(days=400))    # by the phone's calendar, too
            works_alone(page, lan.secure)
            expect(over).to_contain_text("Tap no warning away")
            page.get_by_role("button", name="Took 1").tap()
            expect(page.locator('[data-line="count"]')).to_contain_text("1 here")
            assert [one["kind"] for one in page.evaluate(IN_BOX)] == ["took"]
            refuses(browser, lan.secure, "ERR_CERT_DATE_INVALID")
        # The browser greeted the doors, and left each time when it saw the certificate.
        assert greeted and greeted_again and "asked" not in greeted + greeted_again
    finally:
        browser.close()


def refuses(browser: Browser, address: str, why: str) -> None:
    """A page that is not kept yet does not open: the door's certificate is as meant."""
    with pytest.raises(Exception, match=why):
        browser.new_context(**PHONE).new_page().goto(address)
