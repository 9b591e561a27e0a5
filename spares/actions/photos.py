"""Photos: a change names one by its hash, its bytes come apart, in pieces, and are shown."""

from __future__ import annotations

import hashlib
import io
import re
import warnings
import zipfile
from typing import Any

from spares.actions.amounts import moment
from spares.actions.context import Context, in_turn
from spares.actions.deck_plan import marks_of, photos_marked
from spares.actions.stock_moves import a_change_id, is_known
from spares.db.history import LogLine, body_of
from spares.db.load import kept_parts
from spares.db.photo_files import photo_files
from spares.db.photo_refs import PhotoRef, is_named, photos_of
from spares.domain.draft import Draft
from spares.domain.photo_format import kind_of, look
from spares.errors import InvalidInput, NotAllowed, NotFound
from spares.sync.bodies import LARGEST_PHOTO

#: What a photo can be of.
SUBJECTS = ("machine", "part", "locker", "point", "inner", "drain-point", "joint")
ENDINGS = {"image/jpeg": "jpg", "image/png": "png", "image/webp": "webp"}


@in_turn
def photo(ctx: Context, of: str, sha256: str, size: int, mime: str, *, note: str | None = None,
          change_id: str | None = None) -> dict[str, Any]:
    """Record that there is a photo of a machine, part, locker or fit point.

    Args:
        ctx: Where it happens.
        of: What it shows.
        sha256: Hash of its bytes, which may come before or after.
        size: How many they are [bytes].
        mime: Their media type.
        note: What is to be seen.
        change_id: The maker's id of this change.

    Raises:
        NotFound, Ambiguous: the thing cannot be told.
        Conflict: the id was used before for something else.
    """
    ident = a_change_id(change_id)
    doc = ctx.named(of, "of", *SUBJECTS)
    body = {"doc": doc, "sha256": sha256, "bytes": size, "mime": mime,
            **({"note": note} if note else {})}
    was_new = not is_known(ctx, ident, "photo", doc=doc, sha256=sha256)
    if was_new:
        ctx.write([Draft("photo", body, ident)])
    return {"change": ident, "was_new": was_new,
            "text": f"Photo of {ctx.aboard().label(doc)}"}


def photos(ctx: Context, of: str) -> dict[str, Any]:
    """List the photos of a thing, oldest first; `here` says whether the bytes have come.

    `marks` are the fit points that are marked on one; `marked_on` are photos of other things,
    such as its machine, on which this fit point is.

    Raises:
        NotFound, Ambiguous: the thing cannot be told.
    """
    doc = ctx.named(of, "of", *SUBJECTS)
    with ctx.store.looking() as reader:
        kept = kept_parts(reader, ctx.vessel)
        docs = {doc, *(dropped for dropped, name in kept.items() if name == doc)}
        found = photos_of(reader, ctx.vessel, docs)
        aboard = ctx.aboard()
        marked = photos_marked(aboard, doc)
        elsewhere = [pair for pair in photos_of(reader, ctx.vessel) if pair[0].doc not in docs
                     and pair[0].sha256 in marked] if marked else []
    files = photo_files(ctx.store)

    def line(one: PhotoRef, entry: LogLine) -> dict[str, Any]:
        return {"change": one.change_id, "sha256": one.sha256, "bytes": one.bytes,
                "mime": one.mime, "note": body_of(entry.raw).get("note"),
                "at": moment(entry.at), "device": entry.dev, "here": files.has(one.sha256),
                "marks": marks_of(aboard, one.sha256)}

    return {"of": doc, "photos": [line(*pair) for pair in found],
            "marked_on": [{**line(*pair), "of": aboard.label(pair[0].doc),
                           "name": aboard.get(pair[0].doc).name} for pair in elsewhere]}


def missing_photos(ctx: Context) -> dict[str, Any]:
    """List the photos whose bytes have not come, with the device that has them."""
    files = photo_files(ctx.store)
    from spares.db.devices import people  # late: lists and papers ask for no device

    with ctx.store.reading() as session:
        found = photos_of(session, ctx.vessel)
        own = {dev: row.dev for dev, row in people(session, ctx.vessel).items()}
    return {"missing": [
        {"change": one.change_id, "sha256": one.sha256, "of": one.doc,
         "device": own.get(entry.dev, entry.dev)}
        for one, entry in found if not files.has(one.sha256)]}


def photo_numbers(ctx: Context) -> dict[str, str]:
    """Give the numbers of photos by what they show, for paper: the first 8 digits of each."""
    found: dict[str, list[str]] = {}
    with ctx.store.looking() as reader:
        kept = kept_parts(reader, ctx.vessel)
        for one, _ in photos_of(reader, ctx.vessel):
            found.setdefault(kept.get(one.doc, one.doc), []).append(one.sha256[:8])
    return {doc: ", ".join(dict.fromkeys(numbers)) for doc, numbers in found.items()}


def export_photos(ctx: Context) -> bytes:
    """Give the photos that are here in one archive, each under what it shows and its number."""
    files, aboard, out = photo_files(ctx.store), ctx.aboard(), io.BytesIO()
    with ctx.store.looking() as reader:
        named = photos_of(reader, ctx.vessel)
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
        for one in {(one.doc, one.sha256): one for one, _ in named}.values():
            data = files.read(one.sha256)
            if data is None or hashlib.sha256(data).hexdigest() != one.sha256:
                continue
            shows = re.sub(r"[^A-Za-z0-9._-]", "_", aboard.label(one.doc)).strip(".") or "thing"
            ending = ENDINGS[kind_of(data[:12]) or one.mime]
            archive.writestr(f"{shows[:60]}-{one.sha256[:8]}.{ending}", data)
    return out.getvalue()


def photo_bytes(ctx: Context, sha256: str) -> tuple[bytes, str]:
    """Give a photo and its media type, told from the bytes.

    Raises:
        NotFound: no photo of this vessel has the hash, its bytes have not come, or they
            are no longer those of the hash.
    """
    with ctx.store.looking() as reader:
        named = is_named(reader, ctx.vessel, sha256)
    files = photo_files(ctx.store)
    data = files.read(sha256) if named else None
    if data is not None and hashlib.sha256(data).hexdigest() != sha256:
        files.set_aside(sha256)         # so that a phone that has it sends it again
        data = None
    kind = kind_of(data[:12]) if data else None
    if data is None or kind is None:
        raise NotFound("this photo is not here")
    return data, kind


def photo_state(ctx: Context, sha256: str) -> dict[str, Any]:
    """Say how much of a photo has come from the one who asks [bytes]."""
    files = photo_files(ctx.store)
    if files.has(sha256):
        return {"have": 0, "whole": True}
    return {"have": files.came(sha256, ctx.device or "here"), "whole": False}


@in_turn
def take_piece(ctx: Context, sha256: str, at: int, whole: int, piece: bytes) -> dict[str, Any]:
    """Take a piece of a photo; with the last one the photo is checked and kept.

    Args:
        ctx: Where it happens.
        sha256: Hash of the whole photo.
        at: Where the piece begins [bytes].
        whole: How long the photo is [bytes].
        piece: The bytes.

    Raises:
        NotAllowed: a guest sends no photos.
        Conflict: the piece does not follow; `have` says where to go on.
        InvalidInput: what came is not the photo of this hash, or no photo to keep.
        DiskFull: there is no room for photos.
    """
    if ctx.role not in ("skipper", "crew"):
        raise NotAllowed("a guest sends no photos")
    files, dev = photo_files(ctx.store), ctx.device or "here"
    if files.has(sha256) and hashlib.sha256(files.read(sha256) or b"").hexdigest() == sha256:
        files.drop(sha256, dev)
        return {"have": whole, "whole": True}
    if not 0 < whole <= LARGEST_PHOTO or at + len(piece) > whole:
        raise InvalidInput.at("#/photo", f"a photo has at most {LARGEST_PHOTO} bytes")
    have = files.add(sha256, dev, at, piece)
    if have < whole:
        return {"have": have, "whole": False}
    try:
        check_photo(files.taken(sha256, dev))
    except InvalidInput:
        files.drop(sha256, dev)
        raise
    files.keep(sha256, dev)
    return {"have": have, "whole": True}


def check_photo(data: bytes) -> None:
    """Check that bytes are a whole picture and nothing else.

    Raises:
        InvalidInput: they are not.
    """
    from PIL import Image  # late: only what comes in is looked at so

    found = look(data)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Image.open(io.BytesIO(data), formats=("JPEG", "PNG", "WEBP")) as image:
                image.load()
                same = image.size == (found.width, found.height)
                still = getattr(image, "n_frames", 1) == 1
    except (OSError, ValueError, SyntaxError, Warning, Image.DecompressionBombError) as err:
        raise InvalidInput.at("#/photo", "the photo is not whole") from err
    if not (same and still):
        raise InvalidInput.at("#/photo", "the photo is not one still picture")
