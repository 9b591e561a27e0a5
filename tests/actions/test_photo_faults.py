"""Check tells which photos cannot be shown, and which files nothing names."""

from __future__ import annotations

import hashlib
import io
import zipfile

from PIL import Image
from pypdf import PdfReader

from spares.actions.check import check
from spares.actions.papers.insurance import insurance
from spares.actions.photos import export_photos, photo, take_piece
from spares.db.photo_files import photo_files


def picture(shade: int) -> bytes:
    out = io.BytesIO()
    Image.new("L", (20, 20), shade).save(out, "PNG")
    return out.getvalue()


def named(ctx, of: str, data: bytes, *, send: bool = True) -> str:
    sha256 = hashlib.sha256(data).hexdigest()
    if of:
        photo(ctx, of, sha256, len(data), "image/png")
    if send:
        take_piece(ctx, sha256, 0, len(data), data)
    return sha256


def test_check_finds_missing_and_spoilt_photos_and_files_of_nobody(ctx):
    named(ctx, "P03", picture(1))
    named(ctx, "ENG", picture(2), send=False)
    spoilt = named(ctx, "L01", picture(3))
    orphan = named(ctx, "", picture(4))
    (photo_files(ctx.store).folder / spoilt).write_bytes(b"x")
    found = {(one["no"], one["text"].split("; ")[0].split(" device")[0])
             for one in check(ctx)["faults"] if one["code"] == "photo"}
    assert found == {("ENG", "a photo is still on"), ("L01", "a photo is not as it was sent"),
                     (None, f"a file among the photos is named by nothing: {orphan}")}


def test_photos_go_out_in_one_archive_under_what_they_show(ctx):
    one, other = picture(7), picture(8)
    named(ctx, "P03", one)
    number = named(ctx, "ENG", other)[:8]
    named(ctx, "L01", picture(9), send=False)
    with zipfile.ZipFile(io.BytesIO(export_photos(ctx))) as archive:
        assert {name.split("-")[0] for name in archive.namelist()} == {"P03", "ENG"}
        assert archive.read(f"ENG-{number}.png") == other


def test_the_insurance_list_prints_the_numbers_of_photos(ctx):
    number = named(ctx, "ENG", picture(10))[:8]
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(insurance(ctx))).pages)
    assert number in text
