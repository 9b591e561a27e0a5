"""The cautions that stand on top of the work, and the sentence that ends them.

Their texts are data, in `cautions.toml`. Services and machines name hazards by
word; a word that is not in the list is an error, so that no caution is lost to a
slip of the pen. The program never says that a thing is safe.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from spares.errors import InvalidInput

SIGN = "Caution"  # always shown as a word beside the triangle, never by colour alone
EVERY_JOB = ("stored energy",)  # every job that comes with a card opens something
LAYING_UP = ("sea-cock", "chemicals")
#: What is said of a hazard in a person's own words.
NO_WORDS = "named as a hazard; what to do about it is not written here."


class Caution(NamedTuple):
    """One caution: the words that call it, what is said, what to tick before and after."""

    words: tuple[str, ...]
    mark: str
    shown: str
    text: str
    shut_off: tuple[str, ...]
    after: tuple[str, ...]
    source: str


@cache
def all_cautions() -> tuple[Caution, ...]:
    """Give every caution in the order in which they are shown."""
    return tuple(
        Caution(tuple(entry["words"]), entry["mark"], entry["shown"], entry["text"],
                tuple(entry["shut_off"]), tuple(entry["after"]), entry["source"])
        for entry in _file()["caution"]
    )


def closing_sentence() -> str:
    """Give the sentence that ends the cautions, always."""
    return str(_file()["closing"])


def known_words() -> tuple[str, ...]:
    """Give the hazard words that may be named, in the order of the cautions."""
    return tuple(word for caution in all_cautions() for word in caution.words)


def hazard_words(text: str | None) -> tuple[str, ...]:
    """Split a field such as `hot, rotating, oil` into its hazard words."""
    return tuple(word.strip() for word in re.split("[,;]", text or "") if word.strip())


def known_and_other(words: Iterable[str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Part hazard words into those that call a caution and those for which none is written.

    Example:
        >>> known_and_other(["hot", "wet decks"])
        (('hot',), ('wet decks',))
    """
    said = tuple(word.strip() for word in words if word.strip())
    known = tuple(word for word in said if _plain(word) in _by_word())
    return known, tuple(word for word in said if word not in known)


def cautions_for(words: Iterable[str], pointer: str = "#/cautions") -> tuple[Caution, ...]:
    """Give the cautions for some hazard words, each once, in the order of showing.

    Case, and hyphen or space inside a word, do not matter. InvalidInput names
    `pointer` and every word that is not known.
    """
    asked = {_plain(word): word for word in words if word.strip()}
    unknown = [word for plain, word in asked.items() if plain not in _by_word()]
    if unknown:
        raise InvalidInput.at(
            pointer, f"no such hazard: {', '.join(unknown)}; known are {', '.join(known_words())}")
    called = {_by_word()[plain] for plain in asked}
    return tuple(caution for caution in all_cautions() if caution in called)


@cache
def _by_word() -> dict[str, Caution]:
    return {_plain(word): caution for caution in all_cautions() for word in caution.words}


def _plain(word: str) -> str:
    return re.sub(r"[\s-]+", " ", word).strip().casefold()


@cache
def _file() -> dict[str, Any]:
    import tomllib  # late: most lines have no hazard to look up

    # by its path: `importlib.resources` brings archives and temporary files, for nothing here
    return tomllib.loads(Path(__file__).with_name("cautions.toml").read_text(encoding="utf-8"))
