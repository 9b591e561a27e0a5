"""A photo taken while the boat's computer is off, and seen on another phone afterwards."""

from __future__ import annotations

import io
import json
import shutil
import urllib.request
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect

from tests.browser.keeping import KEEPS, keep_here, meet, until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

QUEUED = """async () => {
  const { unsent } = await import("/photos/send.js");
  return unsent.value.size;
}"""
SHOWN = """async () => {
  const image = document.querySelector('[data-piece="photos"] img');
  if (!image?.complete || !image.naturalWidth) return null;
  return [image.naturalWidth, image.naturalHeight];
}"""


def from_camera(colour: tuple[int, int, int] = (200, 90, 20)) -> dict[str, Any]:
    """A picture as a camera makes it: larger than is kept, and with the position in it."""
    image, out = Image.new("RGB", (3200, 2000), colour), io.BytesIO()
    where = Image.Exif()
    where.get_ifd(0x8825)[1] = "N"
    image.save(out, "JPEG", exif=where, comment=b"taken on deck")
    return {"name": "IMG_1.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


def listed(address: str, of: str) -> list[dict[str, Any]]:
    with urllib.request.urlopen(f"{address}/api/photos?of={of}", timeout=20) as answer:
        return json.load(answer)["photos"]


def test_a_photo_taken_offline_waits_through_a_reload_and_reaches_the_other_phone(
        make_phone: Callable[..., Any], start: Callable[..., str], stop: Callable[[str], None],
        demo_store: Path, tmp_path: Path) -> None:
    store = Path(shutil.copy(demo_store, tmp_path / "spares.sqlite"))
    address = start(store)
    one, other = (keep_here(make_phone(address)) for _ in range(2))
    until(one, """async () => (await import("/kept/gather.js")).gatheredAt.value !== null""")
    stop(address)
    one.goto(f"{address}/#/part/P034")
    piece = one.locator('[data-piece="photos"]')
    piece.locator("summary").tap()
    piece.locator('[name="photo-note"]').fill("worn vane")
    piece.locator('[name="photo-choose"]').set_input_files(from_camera())
    expect(piece.locator('[data-photo="waiting"]')).to_have_text("Still on this phone")
    one.reload()
    until(one, KEEPS)
    expect(piece.get_by_role("img", name="worn vane")).to_be_visible()
    until(one, f"async () => (JSON.stringify(await ({SHOWN})()) === '[1600,1000]')")
    assert one.evaluate(QUEUED) == 1
    assert start(store, int(address.rsplit(":", 1)[1])) == address
    meet(one)
    until(one, f"async () => (await ({QUEUED})()) === 0")
    (line,) = listed(address, "P034")
    assert line["here"] and line["note"] == "worn vane"
    with urllib.request.urlopen(f"{address}/api/photo/{line['sha256']}", timeout=20) as answer:
        kept = Image.open(io.BytesIO(answer.read()))
    assert kept.size == (1600, 1000) and not kept.getexif() and "comment" not in kept.info
    red, green, blue = kept.convert("RGB").getpixel((800, 500))
    assert abs(red - 200) < 6 and abs(green - 90) < 6 and abs(blue - 20) < 6
    meet(other)
    other.goto(f"{address}/#/part/P034")
    seen = other.locator('[data-piece="photos"]')
    expect(seen.get_by_role("img", name="worn vane")).to_be_visible()
    stop(address)       # what was seen lately is shown without the boat's computer
    other.reload()
    expect(seen.get_by_role("img", name="worn vane")).to_be_visible()
    seen.get_by_role("button", name="Show large").tap()
    seen.get_by_role("button", name="Remove photo").tap()
    other.wait_for_timeout(700)     # a touch that follows at once is taken for wet glass
    seen.get_by_role("button", name="Remove this photo for good?").tap()
    expect(seen.get_by_role("img", name="worn vane")).to_have_count(0)


def test_a_photo_that_the_boats_computer_lost_comes_back_from_a_phone_that_has_it(
        make_phone: Callable[..., Any], start: Callable[..., str], demo_store: Path,
        tmp_path: Path) -> None:
    store = Path(shutil.copy(demo_store, tmp_path / "spares.sqlite"))
    address = start(store)
    page = keep_here(make_phone(address))
    page.goto(f"{address}/#/part/P034")
    piece = page.locator('[data-piece="photos"]')
    piece.locator("summary").tap()
    piece.locator('[name="photo-choose"]').set_input_files(from_camera((9, 9, 9)))
    expect(piece.locator("img")).to_be_visible()
    meet(page)
    until(page, f"async () => (await ({QUEUED})()) === 0")
    (line,) = listed(address, "P034")
    kept = Path(f"{store}.photos") / line["sha256"]
    kept.unlink()
    assert not listed(address, "P034")[0]["here"]
    page.reload()
    until(page, KEEPS)
    until(page, """async () =>
        (await (await fetch("/api/photos/missing")).json()).missing.length === 0""")
    assert kept.is_file()


@pytest.mark.parametrize("route", ["#/aboard/machines/ENG", "#/aboard/lockers/L17",
                                   "#/fit/ENG-01/measure", "#/aboard/points/ENG-02"])
def test_every_page_of_a_thing_takes_a_photo(own_phone: Any, own_address: str,
                                             route: str) -> None:
    page = own_phone.open(route)
    piece = page.locator('[data-piece="photos"]')
    before = piece.locator("img").count()
    if not before:
        piece.locator("summary").tap()
    colour = (20, 40, len(route) * 5)
    piece.locator('[name="photo-choose"]').set_input_files(from_camera(colour))
    expect(piece.locator("img").first).to_be_visible()
    until(page, f"async () => (await ({QUEUED})()) === 0")
    expect(piece.locator('[data-photo="waiting"]')).to_have_count(0)


def test_a_file_that_is_no_picture_is_refused_in_words(own_phone: Any) -> None:
    page = own_phone.open("#/part/P037")
    piece = page.locator('[data-piece="photos"]')
    piece.locator("summary").tap()
    piece.locator('[name="photo-choose"]').set_input_files(
        {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": b"<script>1</script>"})
    expect(piece.get_by_role("alert")).to_contain_text("cannot be read as a picture")
    assert page.evaluate(QUEUED) == 0
