"""Scanning: labels of the label printer before a camera, retail barcodes, and each way it can fail.

Chromium plays a film as its camera. Another film is laid in between two starts of the camera.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect

from spares.domain import codes
from spares.paper.labels import LockerLabel, MachineLabel, labels_pdf
from tests.browser.conftest import PHONE, QUIET, ROOT, Phone
from tests.browser.film import LOOKS, put_film
from tests.conftest import chromium
from tests.paper.reading import pdfium_pages

pytestmark = pytest.mark.browser

PIPE = "https://tgl.local:8443"
DPI = 300
#: 2 seconds of a film of ten pictures a second: the frames that may go by before a label is read.
FRAMES_IN_TWO_SECONDS = 20

# The pictures that went to the decoder, counted where they leave the page.
COUNT = """(() => {
  const post = Worker.prototype.postMessage;
  window.sent = 0;
  Worker.prototype.postMessage = function (...given) {
    window.sent += 1;
    return post.apply(this, given);
  };
})()"""


def printed(label: LockerLabel | MachineLabel, address: str | None = None) -> Image.Image:
    """Print one label, and look at the paper."""
    pdf = labels_pdf([label], size="M", dpi=DPI, address=address)
    return pdfium_pages(pdf, DPI)[0].convert("L")


LOCKER = LockerLabel("TGL", "EMJR", "Forepeak, box on frame 6", "L17")
MACHINE = MachineLabel("TGL", "AVD3", "Main engine", "KR-1001", "ENG")


class Camera:
    """A phone whose camera plays what is laid into it."""

    def __init__(self, phone: Phone, path: Path) -> None:
        self.phone, self.path, self.page = phone, path, phone.page

    def shows(self, picture: Image.Image, look: str, seed: int = 1) -> None:
        put_film(self.path, picture, LOOKS[look], seed)

    def open_find(self) -> Page:
        self.page.goto("about:blank")
        return self.phone.open("#/find")


@pytest.fixture(scope="module")
def film_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("film") / "film.y4m"


@pytest.fixture(scope="module")
def filming(film_path: Path, opened_chromium: Browser) -> Iterator[BrowserContext]:
    """One Chromium with a film for a camera, for all tests of this file."""
    put_film(film_path, printed(LOCKER), LOOKS["straight"], 1)
    browser = opened_chromium.browser_type.launch(executable_path=chromium(), args=[
        *QUIET, "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-video-capture={film_path}"])
    yield browser.new_context(**PHONE)  # type: ignore[arg-type]
    browser.close()


@pytest.fixture
def camera(make_phone: Callable[..., Phone], filming: BrowserContext, own_address: str,
           film_path: Path) -> Camera:
    filming.grant_permissions(["camera"], origin=own_address)
    return Camera(make_phone(own_address, filming), film_path)


@pytest.mark.parametrize("look", LOOKS)
def test_a_label_is_read_as_it_is_seen(camera: Camera, look: str) -> None:
    camera.shows(printed(LOCKER, PIPE if look == "tilted" else None), look)
    page = camera.open_find()
    camera.phone.tap('button:has-text("Scan")')
    expect(page.locator("#search")).to_have_value("TGL:LEMJR")
    locker = page.locator('[data-locker="L17"]')
    expect(locker).to_contain_text("Forepeak, box on frame 6", timeout=30_000)
    expect(locker.locator('[data-part="P034"]')).to_contain_text("2 here")
    assert (camera.phone.taps, camera.phone.keys) == (1, 0)
    expect(page.locator('[data-piece="scan"]')).to_have_count(0)


def test_decoding_runs_beside_the_page_and_starts_no_download_before(camera: Camera) -> None:
    camera.shows(Image.new("L", (600, 300), 255), "straight")
    page = camera.open_find()
    assert not [url for url in camera.phone.requests if "zxing" in url or "scan" in url
                and "scan-button" not in url and "words/scan" not in url]
    with page.expect_worker() as begun:
        page.locator('button:has-text("Scan")').tap()
    assert begun.value.url.endswith("/scan/decoder.js")
    expect(page.locator("video")).to_have_attribute("data-live", "yes")
    page.locator('button:has-text("Close the camera")').tap()
    expect(page.locator("video")).to_have_count(0)
    for _ in range(50):         # the browser tells of its end a little later
        if not page.workers:
            break
        page.wait_for_timeout(100)
    assert page.workers == []
    loads = [path.name for path in (ROOT / "static").rglob("*.js")
             if path.parent.name != "vendor" and "zxing-reader.js" in path.read_text()]
    assert sorted(loads) == ["decoder.js", "shell.js"], "the page itself loads no decoder"


def test_fit_from_a_scan_of_the_machine_takes_three_taps(camera: Camera) -> None:
    """Where the camera is allowed and was used before, Fit opens with it."""
    camera.shows(printed(MACHINE), "straight")
    page = camera.open_find()
    page.evaluate("() => localStorage.setItem('spares.scan_by_itself', 'true')")
    camera.phone.tap('nav a[href="#/fit"]')
    camera.phone.tap('[data-point="ENG-04"]')
    camera.phone.tap('[data-part="P008"]')
    expect(page.locator(".verdict[data-verdict]")).to_have_attribute(
        "data-verdict", "fits-with-changes")
    assert (camera.phone.taps, camera.phone.keys) == (3, 0)


def test_a_barcode_is_learned_once_and_found_from_then_on(camera: Camera) -> None:
    """The check digits are those of the writer, zxing-cpp."""
    code = zxingcpp.create_barcode("590123412345", zxingcpp.BarcodeFormat.EAN13)
    picture = Image.fromarray(zxingcpp.write_barcode_to_image(code, scale=6)).convert("L")
    camera.shows(picture, "straight")
    page = camera.open_find()
    page.locator('button:has-text("Scan")').tap()
    learn = page.locator('[data-piece="learn-barcode"]')
    expect(learn).to_contain_text("No part has the barcode 5901234123457 yet")
    page.locator('[name="barcode-part"]').fill("P041")
    page.locator('[data-piece="learn-barcode"] button.line').first.tap()
    page.get_by_role("button", name="It is P041").tap()
    expect(page).to_have_url(re.compile("#/part/P041"))
    page = camera.open_find()
    page.locator('button:has-text("Scan")').tap()
    expect(page.locator('[data-piece="answer-card"][data-part="P041"]')).to_be_visible()


def test_a_photo_does_where_no_camera_comes(phone: Phone) -> None:
    """Without leave for the camera, as at first: the reason is said, and a photo is read."""
    page = phone.open("#/find")
    page.locator('button:has-text("Scan")').tap()
    panel = page.locator('[data-piece="scan"]')
    expect(panel).to_have_attribute("data-reason", re.compile("refused|none"))
    expect(panel).to_contain_text("type its 4 characters")
    photo = BytesIO()
    printed(LOCKER).convert("RGB").save(photo, "JPEG")
    page.locator('[name="scan-photo"]').set_input_files(
        {"name": "photo.jpg", "mimeType": "image/jpeg", "buffer": photo.getvalue()})
    expect(page.locator('[data-locker="L17"]')).to_contain_text("Forepeak, box on frame 6")


@pytest.mark.parametrize(("name", "words"), [
    ("NotAllowedError", "was refused"), ("NotFoundError", "No camera was found"),
    ("NotReadableError", "Another program uses the camera"), ("", "needs the secure address")])
def test_the_reason_is_said_and_the_code_field_stays(phone: Phone, name: str, words: str) -> None:
    page = phone.open("#/find")
    page.evaluate("""(name) => {
      if (!name) Object.defineProperty(navigator, "mediaDevices", { value: undefined });
      else navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException("", name));
    }""", name)
    page.locator('button:has-text("Scan")').tap()
    expect(page.locator('[data-piece="scan"]')).to_contain_text(words)
    page.locator("#search").fill("EMJR")
    expect(page.locator('[data-locker="L17"]')).to_be_visible()


@pytest.mark.long
def test_95_of_100_labels_are_read_within_two_seconds_of_film(camera: Camera) -> None:
    page = camera.open_find()
    read = 0
    for number in range(100):
        label = LockerLabel("TGL", codes.code_at(number * 97 % 23**3, 3), f"Locker {number}")
        look = list(LOOKS)[number % len(LOOKS)]
        camera.shows(printed(label, PIPE if number % 2 else None), look, number)
        page = camera.open_find()
        page.evaluate(COUNT)
        page.locator('button:has-text("Scan")').tap()
        field = page.locator("#search")
        try:
            expect(field).to_have_value(f"TGL:L{label.code}", timeout=8000)
        except AssertionError:
            continue
        read += page.evaluate("() => window.sent") <= FRAMES_IN_TWO_SECONDS
    assert read >= 95
