"""An empty store, a file brought in with a look before, and files given out."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Route, expect

from tests.browser.conftest import ROOT, Phone

pytestmark = pytest.mark.browser


def _zipped(folder: Path) -> bytes:
    body = io.BytesIO()
    with zipfile.ZipFile(body, "w") as archive:
        for path in sorted(folder.glob("*.csv")):
            archive.write(path, path.name)
    return body.getvalue()


@pytest.fixture(scope="module")
def empty_address(start: Callable[[Path], str], tmp_path_factory: pytest.TempPathFactory) -> str:
    """A server on a store without a vessel."""
    return start(tmp_path_factory.mktemp("empty") / "spares.sqlite")


def _choose(phone: Phone, name: str, body: bytes) -> None:
    phone.page.locator('[name="file"]').set_input_files(
        [{"name": name, "mimeType": "application/octet-stream", "buffer": body}])


def test_an_empty_store_asks_for_a_file_and_shows_what_it_would_bring(
        make_phone: Callable[..., Phone], empty_address: str) -> None:
    phone = make_phone(empty_address, service_workers="block")
    page = phone.open("#/find")
    expect(page.locator("main")).to_contain_text("No vessel yet. Name yours")
    phone.tap('a:has-text("Bring her in from a file")')
    _choose(phone, "notes.txt", b"x")
    expect(page.locator('[role="alert"]')).to_contain_text(".zip, .csv or .json")
    _choose(phone, "hestereje.zip", _zipped(ROOT / "seed/hestereje"))
    looked = page.locator('[data-piece="looked"]')
    expect(looked).to_contain_text("HRE: 24 changes would be made")
    phone.open("#/find")
    expect(page.locator("main")).to_contain_text("No vessel yet")
    phone.open("#/aboard/files")
    _choose(phone, "hestereje.zip", _zipped(ROOT / "seed/hestereje"))
    phone.tap('button:has-text("Bring in 24 changes")')
    expect(page.locator("main")).to_contain_text("24 changes brought in")
    phone.open("#/find?q=LVYR")
    expect(page.locator('[data-part="P034"]')).to_contain_text("1 here")


def test_a_file_comes_in_while_another_place_is_looked_at_and_can_be_stopped(
        own_phone: Phone) -> None:
    held: list[Route] = []
    page = own_phone.open("#/aboard/files")
    page.route("**/api/import?*look=false*", lambda route: held.append(route))
    page.route("**/api/bringing?*", lambda route: route.fulfill(json={"done": 1, "of": 2}))
    bringing, again = page.locator('[data-piece="bringing"]'), page.locator(
        'button:has-text("Bring in 1 change")')
    page.locator('a:has-text("Everything")').wait_for()
    _choose(own_phone, "lockers.csv", b"no;name;code\nL98;Cockpit;\n")
    own_phone.tap('button:has-text("Bring in 1 change")')
    expect(bringing).to_contain_text("1 of 2 changes")
    page.locator('nav.bar a[href="#/aboard"]').tap()
    own_phone.tap('[data-page="files"]')
    expect(bringing).to_contain_text("1 of 2 changes")
    expect(page.locator('[name="file"]')).to_be_disabled()
    bringing.get_by_role("button", name="Stop").tap()
    expect(bringing).to_contain_text("Stopping")
    held.pop().continue_()
    expect(page.locator('[role="alert"]')).to_contain_text("stopped before its end")
    assert own_phone.context.request.get(f"{own_phone.address}/api/lockers/L98").status == 404
    _choose(own_phone, "lockers.csv", b"no;name;code\nL98;Cockpit;\n")
    again.tap()
    page.locator('nav.bar a[href="#/aboard"]').tap()
    expect(page.locator("main h1")).to_have_text("Aboard")
    held.pop().continue_()
    own_phone.tap('[data-page="files"]')
    expect(page.locator("main")).to_contain_text("1 change brought in")
    page.locator('nav.bar a[href="#/aboard"]').tap()
    own_phone.tap('[data-page="files"]')
    page.locator('a:has-text("Everything")').wait_for()
    expect(page.locator("main")).not_to_contain_text("1 change brought in")


def test_faults_of_a_file_are_named_by_file_and_row(own_phone: Phone) -> None:
    page = own_phone.open("#/aboard/files")
    page.locator('a:has-text("Everything")').wait_for()
    _choose(own_phone, "parts.csv", b"no;name;price\nP900;;abc\n")
    expect(page.locator("main")).to_contain_text("parts.csv, row 2, price")
    assert page.locator('[data-piece="looked"]').count() == 0


def test_what_is_given_out_is_known_already_when_it_comes_back(own_phone: Phone) -> None:
    page = own_phone.open("#/aboard/files")
    with page.expect_download() as download:
        own_phone.tap('a:has-text("Everything")')
    _choose(own_phone, "vessel.json", download.value.path().read_bytes())
    expect(page.locator('[data-piece="looked"]')).to_contain_text("TGL")


def test_every_paper_has_its_place_in_the_page(looker: Phone) -> None:
    page = looker.open("#/aboard")
    looker.tap('[data-page="papers"]')
    papers = page.locator("a[data-paper]")
    papers.nth(8).wait_for()
    assert papers.evaluate_all("all => all.map(one => one.dataset.paper)") == [
        "shopping", "trip", "put-away", "index", "stores", "insurance", "handover", "stranded",
        "lay-up"]
    for paper in papers.all():
        answer = looker.context.request.get(looker.address + str(paper.get_attribute("href")))
        assert answer.body().startswith(b"%PDF-"), paper.get_attribute("href")
    page.locator('[name="lid-locker"]').fill("EMJR")
    lid = page.locator('a:has-text("Lid list: L17")')
    lid.wait_for()
    body = looker.context.request.get(looker.address + str(lid.get_attribute("href"))).body()
    assert body.startswith(b"%PDF-")


def test_labels_are_offered_for_what_has_codes(looker: Phone) -> None:
    page = looker.open("#/aboard/papers")
    lockers = page.locator('a:text-is("Lockers")')
    lockers.wait_for()
    body = looker.context.request.get(looker.address + str(lockers.get_attribute("href"))).body()
    assert body.startswith(b"%PDF-")
    assert page.locator('a:has-text("Bags")').count() == 0, "no bag of the demo has a code"
