"""The drawings of how to measure: every one there, used, told in words, in the page's own ink."""

from __future__ import annotations

import math
import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from spares.config import static_folder
from spares.domain.fit import load_sheets
from spares.domain.fit.sheets import DRAWINGS
from tests.client.shell_list import kept_files

FOLDER = static_folder() / "drawings"
SVG = "{http://www.w3.org/2000/svg}"
INK = {"none", "currentColor"}
# what the paper's reader and every browser draw alike
ELEMENTS = {f"{SVG}{name}" for name in ("svg", "title", "desc", "g", "path", "text")}
AWKWARD = {     # measurements that words alone tell badly
    ("pump", "bolt_circle"), ("pump", "hole_spacing"), ("pump", "cam_height"),
    ("pump", "pilot_depth"), ("impeller", "width"), ("impeller", "outside_diameter"),
    ("o-ring", "section"), ("o-ring", "gland_depth_min"), ("drive-belt", "section"),
    ("drive-belt", "length"), ("pump-seal", "housing_bore"), ("pump-seal", "shaft_diameter")}


def _tree(name: str) -> ElementTree.Element:
    return ElementTree.parse(FOLDER / f"{name}.svg").getroot()


def test_drawings_are_the_files_of_the_folder_and_on_the_phone() -> None:
    assert {path.name for path in FOLDER.iterdir()} == {f"{name}.svg" for name in DRAWINGS}
    assert {f"/drawings/{name}.svg" for name in DRAWINGS} <= set(kept_files())


def test_every_drawing_stands_beside_a_line_and_every_awkward_line_has_one() -> None:
    drawn = {(sheet.kind, line.code): line.drawing for sheet in load_sheets().values()
             for line in sheet.attributes.values() if line.drawing}
    assert set(drawn.values()) == set(DRAWINGS)
    assert set(drawn) >= AWKWARD


@pytest.mark.parametrize("name", DRAWINGS)
def test_drawing_is_told_in_words_and_takes_the_ink_of_the_page(name: str) -> None:
    tree = _tree(name)
    assert {one.tag for one in tree.iter()} <= ELEMENTS
    assert all(len((tree.findtext(f"{SVG}{told}") or "").split()) >= 3
               for told in ("title", "desc"))
    for one in tree.iter():
        assert {one.get("fill", "none"), one.get("stroke", "none")} <= INK
        assert one.get("style") is None and one.get("class") is None


@pytest.mark.parametrize("name", DRAWINGS)
def test_every_letter_in_a_drawing_is_explained(name: str) -> None:
    """Every mark of one or two characters comes up in the description, or is explained there."""
    tree = _tree(name)
    told = set(re.findall(r"\w+", tree.findtext(f"{SVG}desc") or ""))
    marks = {text for one in tree.iter(f"{SVG}text")
             if re.fullmatch(r"[A-Za-z]{1,2}\d?", text := (one.text or ""))}
    assert marks and marks <= told, marks - told


def test_factors_of_the_bolt_circle_are_those_of_the_regular_polygon() -> None:
    """Circumradius of a regular n-gon with side s: s / (2 sin(180°/n)); Euclidean geometry."""
    lines = [one.text or "" for one in _tree("bolt-circle").iter(f"{SVG}text")]
    found = {int(m[1]): float(m[2]) for line in lines
             if (m := re.fullmatch(r"(\d) holes: ([\d.]+) s", line))}
    assert set(found) == {3, 4, 5, 6}
    for holes, factor in found.items():
        assert factor == pytest.approx(1 / math.sin(math.pi / holes), abs=0.0005)


def test_folder_holds_nothing_but_drawings() -> None:
    assert all(Path(path).suffix == ".svg" for path in FOLDER.iterdir())
