"""README.md and DEVELOPERS.md say only what is there, and the guide leaves nothing out."""

from __future__ import annotations

import pytest

from spares import errors
from spares.config import SETTINGS
from tests.structure import guide
from tests.structure.layers import MAY_IMPORT, TOP

PAGES = ("README.md", "DEVELOPERS.md")


def _page(name: str) -> str:
    return (TOP / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", PAGES)
def test_page_names_only_what_exists(name):
    text = _page(name)
    assert guide.unknown_verbs(text) == set()
    assert guide.unknown_settings(text) == set()
    assert guide.lost_paths(text) == set()


def test_readme_opens_with_the_two_commands_that_always_work():
    opening = _page("README.md")[:2500]
    assert "python3 -m spares demo" in opening
    assert "python3 -m spares test" in opening


def test_guide_names_every_setting():
    assert [s.name for s in SETTINGS if f"`{s.name}`" not in _page("DEVELOPERS.md")] == []


def test_guide_has_every_row_of_the_import_table():
    text = _page("DEVELOPERS.md")
    rows = [row for row in MAY_IMPORT if not row.startswith("__")]
    assert [row for row in rows if f"`{row}`" not in text] == []


def test_guide_names_every_folder_of_tests():
    text = _page("DEVELOPERS.md")
    folders = [path.name for path in (TOP / "tests").iterdir()
               if path.is_dir() and any(path.glob("*.*")) and path.name != "__pycache__"]
    assert [name for name in folders if f"`{name}`" not in text] == []


def test_guide_names_every_error_code():
    text = _page("DEVELOPERS.md")
    codes = [kind.code for kind in vars(errors).values()
             if isinstance(kind, type) and issubclass(kind, errors.SparesError)
             and kind is not errors.SparesError]
    assert [code for code in codes if f"`{code}`" not in text] == []


@pytest.mark.parametrize("text", [
    "Run `python3 -m spares fly`.", "```\nspares fly north\n```", "`.venv/bin/spares fly`"])
def test_checker_sees_a_command_that_is_not_there(text):
    assert guide.unknown_verbs(text) == {"fly"}


def test_checker_lets_words_about_the_program_pass():
    text = "The spares aboard; `python3 -m spares test --long`, `from spares import units`."
    assert guide.unknown_verbs(text) == set()


@pytest.mark.parametrize("path", ["spares/nowhere.py", "tests/nothing/", "LICENCE.md",
                                  "spares/domain/*.nope", "static/lost/x.js"])
def test_checker_sees_a_path_that_is_not_there(path):
    assert guide.lost_paths(f"See `{path}`.") == {path}
    assert guide.lost_paths(f"See [this]({path}).") == {path}


def test_checker_lets_paths_that_are_there_pass():
    text = ("`spares/errors.py`, `tests/structure/`, `spares/*.py`, [it](pyproject.toml#x), "
            "[far](https://example.org/spares/x.py), `~/spares/mine.toml`")
    assert guide.lost_paths(text) == set()


def test_checker_sees_a_setting_that_is_not_there():
    assert guide.unknown_settings("`SPARES_STORE` and `SPARES_COLOUR`") == {"SPARES_COLOUR"}
