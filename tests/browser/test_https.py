"""A phone's browser that trusts the vessel's own authority, and nothing it does not know."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import PHONE
from tests.browser.lan import opened_with, serve_lan

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.skipif(
    shutil.which("certutil") is None, reason="no certutil to install a certificate with")]


@pytest.fixture(scope="module")
def served(demo_store: Path, tmp_path_factory: pytest.TempPathFactory
           ) -> Iterator[tuple[str, str, Path]]:
    """A server on the net: its https address, its join page, its authority."""
    store = tmp_path_factory.mktemp("lan") / "demo.sqlite"
    shutil.copy(demo_store, store)
    with serve_lan(store) as lan:
        yield lan.secure, lan.join, lan.authority


@pytest.fixture(scope="module")
def browser_that(served: tuple[str, str, Path], opened_chromium: Browser,
                 tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Browser]]:
    """Two browsers: one that trusts the made authority, one that does not."""
    found = {kind: opened_with(tmp_path_factory.mktemp("home"), opened_chromium, authority)
             for kind, authority in (("trusts", served[2]), ("knows nothing", None))}
    yield found
    for one in found.values():
        one.close()


def test_phone_that_trusts_the_authority_keeps_the_page_and_may_use_the_camera(
        served, browser_that):
    page = browser_that["trusts"].new_context(**PHONE).new_page()
    page.goto(served[0] + "/")
    assert page.evaluate("window.isSecureContext")
    assert page.evaluate("'mediaDevices' in navigator && 'randomUUID' in crypto")
    # neither the page's own headers nor the browser's rules stand between her and the person
    assert page.evaluate("document.featurePolicy.allowsFeature('camera')")
    may = "navigator.permissions.query({ name: 'camera' }).then(({ state }) => state)"
    assert page.evaluate(may) == "prompt"
    ready = "Promise.race([navigator.serviceWorker.ready.then(() => 'ready'), %s])"
    assert page.evaluate(ready % "new Promise((tell) => setTimeout(tell, 30000, 'not yet'))"
                         ) == "ready"
    page.context.close()


def test_phone_without_the_certificate_is_warned_by_its_browser(served, browser_that):
    page = browser_that["knows nothing"].new_context(**PHONE).new_page()
    with pytest.raises(Exception, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(served[0] + "/")
    page.context.close()


def test_join_page_gives_the_certificate_and_leads_to_the_real_page(served, browser_that):
    page = browser_that["knows nothing"].new_context(**PHONE).new_page()
    errors: list[str] = []
    page.on("console", lambda said: errors.append(said.text) if said.type == "error" else None)
    page.goto(served[1] + "/")
    assert page.get_by_role("heading", name="Bring this phone aboard").is_visible()
    with page.expect_download() as loading:
        page.get_by_role("link", name="Get the certificate").click()
    assert loading.value.suggested_filename == "spares-aboard.crt"
    assert page.get_by_role("link", name=served[0]).is_visible()
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0 and errors == []
    page.context.close()
