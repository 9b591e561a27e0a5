"""Photos: bytes in pieces, named by their hash, taken only as a picture, shown as nothing else."""

from __future__ import annotations

import hashlib
import io
import struct
import zlib
from pathlib import Path
from types import SimpleNamespace
from uuid import uuid4

import pytest
from flask import Flask
from PIL import Image

from spares.web.store import store_of
from tests.problems import is_problem
from tests.web.crew import LOCKER, PART, Crew, here, on_net


@pytest.fixture(scope="module")
def app(boat: Flask) -> Flask:
    return boat


@pytest.fixture(scope="module")
def crew(app) -> Crew:
    return Crew(app)


def made(kind: str = "JPEG", size: tuple[int, int] = (64, 48), **options) -> bytes:
    """A picture of our own with some detail in it."""
    image = Image.radial_gradient("L").resize(size).convert("RGB")
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def send(crew, data: bytes, name: str | None = None, query: str = ""):
    return crew.client.put(f"/api/photo/{name or sha(data)}{query}", data=data,
                           content_type="application/octet-stream")


def files(app: Flask) -> list[str]:
    folder = Path(f"{store_of(app).get().path}.photos")
    return sorted(one.name for one in folder.iterdir()) if folder.exists() else []


def say(crew, data: bytes, of: str = PART, mime: str = "image/jpeg", **more):
    return crew.client.post("/api/do/photo", json={
        "of": of, "sha256": sha(data), "bytes": len(data), "mime": mime, **more})


def png(*chunks: tuple[bytes, bytes]) -> bytes:
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in chunks)


@pytest.mark.parametrize(("kind", "mime"), [
    ("JPEG", "image/jpeg"), ("PNG", "image/png"), ("WEBP", "image/webp")])
def test_a_photo_that_was_sent_is_given_back_to_the_bit(app, crew, kind, mime):
    data = made(kind)
    assert say(crew, data, mime=mime, note="the worn vane").status_code == 200
    line = crew.client.get(f"/api/photos?of={PART}").json["photos"][-1]
    assert (line["sha256"], line["here"], line["note"]) == (sha(data), False, "the worn vane")
    missing = crew.client.get("/api/photos/missing").json["missing"]
    assert [one["sha256"] for one in missing] == [sha(data)]
    assert send(crew, data).json == {"have": len(data), "whole": True}
    assert crew.client.get("/api/photos/missing").json["missing"] == []
    answer = crew.client.get(f"/api/photo/{sha(data)}")
    assert answer.data == data and answer.mimetype == mime
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
    assert answer.headers["Cache-Control"] == "no-store"


def test_a_photo_that_has_not_come_is_listed_with_the_phone_that_has_it(app, crew):
    data, apart = made(quality=58), made(quality=57)
    said = crew.op("photo", {"doc": PART, "sha256": sha(apart), "bytes": len(apart),
                             "mime": "image/jpeg"})
    assert crew.codes(said) == ["ok"]                   # as a phone that keeps a copy says it
    assert say(crew, data).status_code == 200   # as one that asks the boat's computer
    missing = crew.client.get("/api/photos/missing").json["missing"]
    assert {one["sha256"]: one["device"] for one in missing} == {
        sha(apart): crew.dev, sha(data): crew.dev}
    told = [one["text"] for one in here(app).get("/api/check").json["faults"]
            if one["code"] == "photo"]
    assert told == ["a photo is still on device crew"] * 2          # the phone's name
    assert send(crew, data).json["whole"] and send(crew, apart).json["whole"]
    assert crew.client.get("/api/photos/missing").json["missing"] == []


def test_pieces_go_on_where_the_connection_was_lost(app, crew):
    data = made(size=(300, 200), quality=95)
    name, whole = sha(data), f"&of={len(data)}"
    assert crew.client.get(f"/api/photo/{name}/state").json == {"have": 0, "whole": False}
    assert send(crew, data[:1000], name, f"?from=0{whole}").json == {"have": 1000, "whole": False}
    assert is_problem(send(crew, data[2000:], name, f"?from=2000{whole}"), 409)["have"] == 1000
    assert crew.client.get(f"/api/photo/{name}/state").json["have"] == 1000
    assert send(crew, data[1000:], name, f"?from=1000{whole}").json["whole"]
    assert name in files(app)
    assert send(crew, data[:1000], name, f"?from=0{whole}").json == {
        "have": len(data), "whole": True}


def test_two_phones_do_not_spoil_each_others_pieces(app, crew):
    other, data = Crew(app), made(size=(200, 90), quality=93)
    whole = f"&of={len(data)}"
    send(other, data[:500] + b"spoilt", sha(data), f"?from=0{whole}")
    send(crew, data[:800], sha(data), f"?from=0{whole}")
    assert send(crew, data[800:], sha(data), f"?from=800{whole}").json["whole"]


def hostile() -> dict[str, tuple[bytes, int]]:
    jpeg, still = made(quality=91), made("PNG")
    bomb = png((b"IHDR", struct.pack(">IIBBBBB", 10_000, 10_000, 1, 0, 0, 0, 0)),
               (b"IDAT", zlib.compress(bytes(1251 * 10_000))), (b"IEND", b""))
    frames, moving = [Image.new("RGB", (8, 8), (i, 0, 0)) for i in (0, 200)], io.BytesIO()
    frames[0].save(moving, "PNG", save_all=True, append_images=frames[1:])
    webp = io.BytesIO()
    frames[0].save(webp, "WEBP", save_all=True, append_images=frames[1:])
    where = Image.Exif()
    where.get_ifd(0x8825)[1] = "N"          # position
    return {
        "svg": (b'<svg xmlns="http://www.w3.org/2000/svg"><script>1</script></svg>', 415),
        "html named .jpg": (b"<!doctype html><script>1</script>", 415),
        "gif": (made("GIF"), 415),
        "nothing": (b"", 415),
        "a page behind the end": (jpeg + b"<script>1</script>", 422),
        "an archive behind the end": (still + b"PK\x05\x06" + bytes(18), 422),
        "a remark in the file": (made(comment="<script>1</script>"), 422),
        "a position": (made(exif=where), 422),
        "hundred megapixels": (bomb, 422),
        "cut off": (jpeg[:-200], 422),
        "cut off and ended": (still[:100] + still[-12:], 422),
        "moving PNG": (moving.getvalue(), 422),
        "moving WebP": (webp.getvalue(), 422),
        "a byte more than 5 MiB": (jpeg + bytes(5 * 1024 * 1024 + 1 - len(jpeg)), 413),
    }


@pytest.mark.parametrize("what", hostile())
def test_s22_what_is_no_plain_photo_is_refused_and_leaves_no_file(app, crew, what):
    data, status = hostile()[what]
    before = files(app)
    is_problem(send(crew, data), status)
    assert files(app) == before
    assert crew.client.get("/api/summary").status_code == 200


def test_s22_a_photo_of_another_hash_is_refused_and_leaves_no_file(app, crew):
    before = files(app)
    is_problem(send(crew, made(quality=55), "0" * 64), 422)
    assert files(app) == before


@pytest.mark.parametrize("path", [
    "../data.sqlite", "..%2fdata.sqlite", "%2e%2e/data.sqlite", "..%252fstore.sqlite",
    "A" * 64, "a" * 63, "a" * 65, "a" * 64 + "/../../x", "store.sqlite", ""])
def test_s23_no_path_but_64_hex_digits_leads_anywhere(crew, path):
    is_problem(crew.client.get(f"/api/photo/{path}", follow_redirects=True), 404)


def test_s24_a_photo_is_shown_to_nobody_without_a_token(app, crew):
    data = made(quality=60)
    say(crew, data)
    send(crew, data)
    assert is_problem(on_net(app).get(f"/api/photo/{sha(data)}"), 401)["stop"] == "not_paired"
    assert is_problem(send(SimpleNamespace(client=on_net(app)), data), 401)["stop"] == "not_paired"


def test_s24_a_photo_cannot_be_embedded_by_another_site(app, crew):
    data = made(quality=61)
    say(crew, data)
    send(crew, data)
    answer = crew.client.get(f"/api/photo/{sha(data)}", headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"


def test_s33_a_flood_of_photos_is_slowed_and_changes_are_still_taken(app, monkeypatch):
    flood, other = Crew(app), Crew(app)
    gate = app.extensions["spares_gate"]
    monkeypatch.setattr(gate._rates["photo"], "burst", 30_000)
    data = made(size=(400, 300), quality=99)
    assert len(data) > 10_000
    answers = [send(flood, data, f"{i:064x}") for i in range(8)]
    slowed = is_problem(answers[-1], 429)
    assert slowed["stop"] == "slow_down" and int(answers[-1].headers["Retry-After"]) >= 1
    assert say(flood, data).status_code == 200
    assert send(other, data).status_code == 200


def test_s33_a_nearly_full_disk_takes_changes_but_no_photo(app, crew, monkeypatch):
    monkeypatch.setattr("spares.db.photo_files.shutil.disk_usage",
                        lambda folder: SimpleNamespace(free=199_000_000))
    data = made(quality=62)
    before = files(app)
    assert is_problem(send(crew, data), 507)["stop"] == "disk_full"
    assert files(app) == before
    assert say(crew, data).status_code == 200


def test_a_guest_neither_sends_nor_names_photos(app):
    guest, data = Crew(app, "guest"), made(quality=63)
    is_problem(send(guest, data), 403)
    is_problem(say(guest, data), 403)


def test_a_removed_photo_is_shown_no_more_and_its_bytes_stay_for_a_while(app, crew):
    data = made(quality=64)
    change = say(crew, data, LOCKER).json["change"]
    send(crew, data)
    assert crew.client.post("/api/do/undo", json={"change": change}).status_code == 200
    assert crew.client.get(f"/api/photos?of={LOCKER}").json["photos"] == []
    is_problem(crew.client.get(f"/api/photo/{sha(data)}"), 404)
    assert sha(data) in files(app)


def test_one_of_the_crew_removes_only_own_photos_and_the_skipper_all(app, crew):
    data, other = made(quality=65), Crew(app)
    change = say(crew, data).json["change"]
    is_problem(other.client.post("/api/do/undo", json={"change": change}), 403)
    assert here(app).post("/api/do/undo", json={"change": change}).status_code == 200


def test_the_same_request_twice_is_one_photo(crew):
    data, ident = made(quality=66), str(uuid4())
    first, again = (say(crew, data, LOCKER, change_id=ident).json for _ in range(2))
    assert first["was_new"] and not again["was_new"]


def test_a_photo_that_rotted_on_the_disk_is_not_shown_and_can_come_again(app, crew):
    data = made(quality=67)
    say(crew, data)
    send(crew, data)
    path = Path(f"{store_of(app).get().path}.photos") / sha(data)
    path.write_bytes(data[:-1] + b"x")
    is_problem(crew.client.get(f"/api/photo/{sha(data)}"), 404)
    missing = crew.client.get("/api/photos/missing").json["missing"]
    assert sha(data) in [one["sha256"] for one in missing]
    assert send(crew, data).json["whole"]
    assert crew.client.get(f"/api/photo/{sha(data)}").data == data
