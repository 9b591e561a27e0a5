"""Is the list of files that a phone keeps true, and is every named file there?"""

from __future__ import annotations

import gzip
import hashlib
import json
import re
import struct
from pathlib import Path

import pytest

from tests.client.shell_list import LIST, STATIC, kept_files, shell_text

SCRIPTS = [path for path in sorted(STATIC.rglob("*.js")) if path.parent.name != "vendor"]
IMPORT = re.compile(r"""(?:\bfrom|^import)\s*["']([^"'\n:,]+)["'];""", re.MULTILINE)


def test_shell_list_is_the_folder_and_its_version() -> None:
    assert LIST.read_text(encoding="utf-8") == shell_text(), (
        "static/ changed: run python3 tests/client/shell_list.py --write")


def test_shell_list_holds_everything_the_page_names() -> None:
    page = (STATIC / "index.html").read_text(encoding="utf-8")
    named = set(re.findall(r'(?:href|src)="(/[^"]*)"', page))
    assert named and named <= set(kept_files())


def test_version_changes_with_any_byte_of_any_file(tmp_path: Path) -> None:
    (tmp_path / "sw.js").write_text("//")
    (tmp_path / "index.html").write_text("a")
    first = shell_text(tmp_path)
    (tmp_path / "index.html").write_text("b")
    second = shell_text(tmp_path)
    (tmp_path / "sw.js").write_text("// new")
    assert len({first, second, shell_text(tmp_path)}) == 3


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.relative_to(STATIC).as_posix())
def test_imports_are_relative_and_lead_to_files(path: Path) -> None:
    for target in IMPORT.findall(path.read_text(encoding="utf-8")):
        assert target.startswith("."), f"{target} is not relative"
        assert (path.parent / target).resolve().is_file(), f"{target} is not there"


@pytest.mark.parametrize("path", [*SCRIPTS, STATIC / "index.html"], ids=lambda path: path.name)
def test_text_reaches_the_page_only_as_text(path: Path) -> None:
    source = path.read_text(encoding="utf-8")
    for way in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(",
                "new Function", "http://", "https://"):
        assert way not in source, f"{way} stands in {path.name}"
    assert not re.search(r"\sstyle=|\son[a-z]+=\"|<style", source)


def _started(language: str) -> set[Path]:
    """Give the scripts that the page needs before it shows anything in a language."""
    found, left = set(), [STATIC / "app.js", STATIC / f"words/{language}.js"]
    while left:
        path = left.pop()
        if path not in found:
            found.add(path)
            left += [(path.parent / target).resolve()
                     for target in IMPORT.findall(path.read_text(encoding="utf-8"))]
    return found


@pytest.mark.parametrize("language", ["en", "da"])
def test_what_the_page_needs_to_start_is_at_most_150_kb_compressed(language: str) -> None:
    named = re.findall(r'(?:href|src)="(/[^"]*\.(?:js|css))"',
                       (STATIC / "index.html").read_text(encoding="utf-8"))
    started = _started(language) | {STATIC / name[1:] for name in named} | {STATIC / "index.html"}
    assert STATIC / "views/find.js" in started
    others = {"en": {"da", "told"}, "da": {"told"}}[language]
    assert not [path for path in started if path.parent.name in others]
    assert not [path for path in started if path.parent.name == "judges" or "zxing" in path.name]
    assert sum(len(gzip.compress(path.read_bytes(), 5)) for path in started) <= 150_000


def test_scripts_stay_short_enough_to_be_read() -> None:
    long = {path.name: count for path in SCRIPTS if path.name != "shell.js"
            and (count := len(path.read_text(encoding="utf-8").splitlines())) > 300}
    assert not long


def test_vendored_files_are_those_that_were_fetched() -> None:
    record = json.loads((STATIC / "vendor/vendor.json").read_text(encoding="utf-8"))
    listed = {}
    for package in record["packages"]:
        assert package["licence"] and package["version"] and package["integrity"]
        assert any(one["file"].startswith("LICENSE") for one in package["files"])
        listed |= {one["file"]: one for one in package["files"]}
    found = {path.name for path in (STATIC / "vendor").iterdir()} - {"vendor.json"}
    assert set(listed) == found
    for name, one in listed.items():
        body = (STATIC / "vendor" / name).read_bytes()
        assert (len(body), hashlib.sha256(body).hexdigest()) == (one["size"], one["sha256"])


def test_vendored_modules_import_only_each_other() -> None:
    for path in (STATIC / "vendor").glob("*.js"):
        for target in IMPORT.findall(path.read_text(encoding="utf-8")):
            assert (path.parent / target).is_file()


def test_manifest_has_what_an_installed_page_needs() -> None:
    """Members as in the W3C Web Application Manifest; 192 and 512 px are common practice."""
    manifest = json.loads((STATIC / "manifest.webmanifest").read_text(encoding="utf-8"))
    assert {"id", "name", "short_name", "start_url", "scope", "display", "icons"} <= set(manifest)
    assert manifest["start_url"] == manifest["scope"] == "/"
    assert manifest["background_color"] == "#000000"
    sizes = set()
    for icon in manifest["icons"]:
        body = (STATIC / icon["src"][1:]).read_bytes()
        if icon["type"] == "image/png":
            width, height = struct.unpack(">II", body[16:24])
            assert icon["sizes"] == f"{width}x{height}"
            sizes.add((width, icon.get("purpose", "any")))
    assert {(192, "any"), (512, "any"), (512, "maskable")} <= sizes


def test_zoom_is_never_disabled() -> None:
    page = (STATIC / "index.html").read_text(encoding="utf-8")
    assert "user-scalable" not in page and "maximum-scale" not in page
