"""The client's drawings of how to measure, as they stand on paper: in black, in our own type."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

from reportlab.graphics.shapes import Drawing, String
from svglib.svglib import svg2rlg

from spares.paper.lettering import PLAIN, load_fonts
from spares.paper.points import POINTS_PER_MM

SVG = "{http://www.w3.org/2000/svg}"


def drawing(svg: str, width_mm: float, tell: Callable[[str], str] = str) -> Drawing:
    """Make a drawing of an SVG text, as wide as said; its ink and its words are the paper's."""
    load_fonts()
    made = svg2rlg(BytesIO(svg.replace("currentColor", "#000000").encode()))
    for letters in _strings(made):
        letters.fontName, letters.text = PLAIN, tell(letters.text)
    scale = width_mm * POINTS_PER_MM / made.width
    made.width, made.height = made.width * scale, made.height * scale
    made.scale(scale, scale)
    return made


def told(svg: str) -> tuple[str, str]:
    """Give the title of a drawing and its description, which explains its letters."""
    tree = ElementTree.fromstring(svg)
    title, words = (" ".join((tree.findtext(f"{SVG}{tag}") or "").split())
                    for tag in ("title", "desc"))
    return title, words


def labels(svg: str) -> list[str]:
    """Give the words that stand in a drawing; letters of measures are none."""
    texts = (one.text or "" for one in ElementTree.fromstring(svg).iter(f"{SVG}text"))
    return [text for text in texts if re.search("[a-z]{3}", text)]


def _strings(node: Any) -> Iterator[String]:
    if isinstance(node, String):
        yield node
    for one in getattr(node, "contents", ()):
        yield from _strings(one)
