"""What a photo's bytes are, told by the bytes alone: kind, size, and nothing besides a picture.

A photo is named by the hash of its bytes, so nothing can be cut out of it on arrival: it has
to come without what tells of more than the picture (position, owner, text, a second file
behind its end). Each file is walked piece by piece from its first byte to its last.

Source: ISO/IEC 10918-1 (JPEG), Annex B; W3C Portable Network Graphics (Third Edition), 5;
RFC 9649 (WebP), 2. Known from memory, held against files that Pillow writes.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass

from spares.errors import InvalidInput

#: Most picture elements [1]: about 100 MB of memory where it is decoded.
MOST_PIXELS = 24_000_000
JPEG, PNG, WEBP = "image/jpeg", "image/png", "image/webp"
_PNG_MARK = b"\x89PNG\r\n\x1a\n"
_JFIF_BYTES = 16            # the shortest: without a small second picture inside
_ADOBE_BYTES = 14
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_TABLES = frozenset({0xC4, 0xDB, 0xDD})
_PNG_KEPT = frozenset({b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB",
                       b"sBIT", b"bKGD", b"pHYs"})
_WEBP_KEPT = frozenset({b"VP8 ", b"VP8L", b"VP8X", b"ALPH"})


@dataclass(frozen=True)
class Looked:
    """What a photo is: its media type, and its size [pixels]."""

    mime: str
    width: int
    height: int


def kind_of(head: bytes) -> str | None:
    """Tell the media type from the first 12 bytes; None for what is no photo of ours.

    Example:
        >>> kind_of(b"<svg xmlns=")
        >>> kind_of(b"RIFF....WEBPVP8 ")
        'image/webp'
    """
    if head.startswith(b"\xff\xd8\xff"):
        return JPEG
    if head.startswith(_PNG_MARK):
        return PNG
    return WEBP if head[:4] == b"RIFF" and head[8:12] == b"WEBP" else None


def look(data: bytes) -> Looked:
    """Walk through a whole file; gives what it is.

    Raises:
        InvalidInput: it is none of the three kinds, ends too early, goes on after its end,
            moves, holds more than the picture, or has more than 24 million pixels.
    """
    kind = kind_of(data)
    if kind is None:
        raise _fault("is neither JPEG nor PNG nor WebP")
    try:
        width, height = {JPEG: _jpeg, PNG: _png, WEBP: _webp}[kind](data)
    except (IndexError, struct.error) as err:
        raise _fault("is not whole") from err
    if not width or not height:
        raise _fault("has no size")
    if width * height > MOST_PIXELS:
        raise _fault(f"has {width} x {height} pixels; {MOST_PIXELS} are the most")
    return Looked(kind, width, height)


def _jpeg(data: bytes) -> tuple[int, int]:
    at, size = 2, (0, 0)
    while True:
        if data[at] != 0xFF:
            raise _fault("is not whole")
        mark = data[at + 1]
        at += 2
        if mark == 0xD9:
            break
        length = struct.unpack_from(">H", data, at)[0]
        _check_segment(mark, length, data[at + 2:at + 7])
        if mark in _FRAMES:
            height, width = struct.unpack_from(">HH", data, at + 3)
            size = (width, height)
        at += length
        if mark == 0xDA:
            at = _after_scan(data, at)
    if at != len(data):
        raise _fault("goes on after its end")
    return size


def _check_segment(mark: int, length: int, begins: bytes) -> None:
    if mark in _FRAMES or mark in _TABLES or mark == 0xDA:
        return
    if mark == 0xE0 and length == _JFIF_BYTES and begins == b"JFIF\0":
        return
    if mark == 0xEE and length == _ADOBE_BYTES and begins == b"Adobe":
        return
    raise _fault("carries more than the picture (where it was taken, by what, or text)")


def _after_scan(data: bytes, at: int) -> int:
    """Give where the marker after the coded picture stands; FF00 and restarts belong to it."""
    while True:
        at = data.find(b"\xff", at)
        if at < 0:
            raise _fault("is not whole")
        if data[at + 1] != 0 and not 0xD0 <= data[at + 1] <= 0xD7:
            return at
        at += 2


def _png(data: bytes) -> tuple[int, int]:
    at, size = len(_PNG_MARK), (0, 0)
    while True:
        length, name = struct.unpack_from(">I4s", data, at)
        if name not in _PNG_KEPT:
            raise _fault("moves, or carries more than the picture")
        if name == b"IHDR":
            size = struct.unpack_from(">II", data, at + 8)
        at += 12 + length
        if name == b"IEND":
            break
    if at != len(data) or length:
        raise _fault("goes on after its end" if at < len(data) else "is not whole")
    return size


def _webp(data: bytes) -> tuple[int, int]:
    whole = struct.unpack_from("<I", data, 4)[0] + 8
    if whole != len(data):
        raise _fault("goes on after its end" if whole < len(data) else "is not whole")
    at, size = 12, (0, 0)
    while at < whole:
        name, length = struct.unpack_from("<4sI", data, at)
        if name not in _WEBP_KEPT:
            raise _fault("moves, or carries more than the picture")
        size = max(size, _webp_size(name, data, at + 8))
        at += 8 + length + length % 2
    if at != whole:
        raise _fault("is not whole")
    return size


def _webp_size(name: bytes, data: bytes, at: int) -> tuple[int, int]:
    if name == b"VP8X":
        return (int.from_bytes(data[at + 4:at + 7], "little") + 1,
                int.from_bytes(data[at + 7:at + 10], "little") + 1)
    if name == b"VP8 ":
        width, height = struct.unpack_from("<HH", data, at + 6)
        return width & 0x3FFF, height & 0x3FFF
    if name == b"VP8L":
        bits = struct.unpack_from("<I", data, at + 1)[0]
        return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
    return 0, 0


def _fault(why: str) -> InvalidInput:
    return InvalidInput.at("#/photo", f"the photo {why}")
