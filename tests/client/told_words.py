"""What papers say in another language of the program's tables, for the phone as a module.

`python3 tests/client/told_words.py --write` writes it anew after spares/paper/words/ changed.
"""

from __future__ import annotations

import json
import sys
import tomllib
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
WORDS, TOLD = TOP / "spares/paper/words", TOP / "static/words/told"
LANGUAGES = ("da",)


def told_text(language: str) -> str:
    """Give the text of the module of a language: whole texts, and sentences with their facts."""
    tables = {section: twins for name in ("kinds", "tables") for section, twins in tomllib.loads(
        (WORDS / f"{language}-{name}.toml").read_text("utf-8")).items()}
    sentences = tables.pop("sentences")
    whole = {text: twin for table in tables.values() for text, twin in table.items()}
    return ("// Written by tests/client/told_words.py --write from spares/paper/words/; "
            "a test holds it to them.\n"
            + "".join(f"export const {name} = {json.dumps(table, ensure_ascii=False)};\n"
                      for name, table in (("TOLD", whole), ("SENTENCES", sentences))))


if __name__ == "__main__":
    for one in LANGUAGES:
        if "--write" in sys.argv:
            (TOLD / f"{one}-tables.js").write_text(told_text(one), encoding="utf-8")
        else:
            print(told_text(one), end="")
