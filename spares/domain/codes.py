"""Codes on lockers, machines and bags, and the text of their labels.

A code is a body of 3 characters (lockers and machines) or 5 (labelled lots)
and one check character. The alphabet has 23 characters, a prime number, and
leaves out what is easily taken for something else (B 8, I 1, O 0 Q, S 5, Z,
G 6, U). Values are 0 to 22 in the order of the alphabet; body weights are
2, 3, 4, ... and the check character, weight 1, brings the weighted sum to 0
mod 23. As 23 is prime and all weights differ, every single wrong character and
every swap of two unequal characters is caught.

A character outside the alphabet is never replaced by a look-alike: an `I`
could be a worn `L` or `T`, a `0` a worn `D`, and a code that was guessed can
open the wrong locker. `strangers` names such characters to the person.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import NamedTuple
from urllib.parse import unquote, urlsplit

from spares.errors import InvalidInput, OutOfRange

ALPHABET = "ACDEFHJKLMNPRTVWXY23479"
BASE = len(ALPHABET)
VALUES = {character: value for value, character in enumerate(ALPHABET)}

LOCKER, MACHINE, BAG = "L", "M", "B"
BODY_LENGTH = {LOCKER: 3, MACHINE: 3, BAG: 5}

# Step between neighbours of the enumeration, in base 23. Every digit lies in
# 1..21, so each body character changes from one code to the next, carry or not.
_STEP_DIGITS = (7, 16, 9, 13, 5)

_FILLING = re.compile(r"[\s\u00ad\u2010-\u2015\u2212_.-]+")
_MARK = re.compile(r"[A-Z0-9]{1,3}")
_SHORT = re.compile(r"([A-Z0-9]{1,3}):([LMB])([A-Z0-9]{4,6})")


class Label(NamedTuple):
    """What a label says: whose vessel, what kind of thing, which one."""

    vessel_mark: str
    letter: str
    code: str


def check_character(body: str) -> str:
    """Give the character that completes a body; InvalidInput if it is no body."""
    if len(body) not in BODY_LENGTH.values() or not set(body) <= VALUES.keys():
        raise InvalidInput.at("#/code", f"'{body}' is not the body of a code")
    total = sum(weight * VALUES[c] for weight, c in enumerate(body, start=2))
    return ALPHABET[-total % BASE]


def normalise(text: str) -> str:
    """Bring a typed code to its written form: capitals, no spaces, dots or hyphens."""
    return _FILLING.sub("", text).upper()


def strangers(text: str) -> str:
    """Give the characters of a typed code that stand in no code, in their order."""
    return "".join(dict.fromkeys(c for c in normalise(text) if c not in VALUES))


def is_code(text: str) -> bool:
    """Tell whether a typed text is a code whose check character agrees."""
    code = normalise(text)
    if len(code) - 1 not in BODY_LENGTH.values() or not set(code) <= VALUES.keys():
        return False
    return check_character(code[:-1]) == code[-1]


def how_many(length: int = 3) -> int:
    """Tell how many codes there are with a body of this length."""
    return BASE**length


def code_at(index: int, length: int = 3) -> str:
    """Give the code at a place of the fixed, scattered order of all codes.

    `index` runs from 0 to 23**length - 1 and each code comes once. Two codes
    that follow each other differ in every character of the body, so labels
    printed together are not mistaken for each other. OutOfRange beyond the end.
    """
    if length not in BODY_LENGTH.values():
        raise InvalidInput.at("#/length", f"no code has a body of {length} characters")
    if not 0 <= index < how_many(length):
        raise OutOfRange(f"there are {how_many(length)} codes; {index} is none of them")
    step = 0
    for digit in _STEP_DIGITS[:length]:
        step = step * BASE + digit
    number = (index + 1) * step % how_many(length)
    body = ""
    for _ in range(length):
        number, digit = divmod(number, BASE)
        body = ALPHABET[digit] + body
    return body + check_character(body)


def first_free(
    taken: Collection[str], start: int = 0, stop: int | None = None, length: int = 3
) -> str:
    """Give the first code from `start` on, before `stop`, that is not taken.

    `start` and `stop` are places in the order of `code_at`; a device that has
    reserved a block passes the block's ends. OutOfRange when the block is used up.
    """
    used = set(taken)
    end = how_many(length) if stop is None else min(stop, how_many(length))
    for index in range(start, end):
        code = code_at(index, length)
        if code not in used:
            return code
    raise OutOfRange(f"no code is free from place {start} to {end}")


def label_text(vessel_mark: str, letter: str, code: str) -> str:
    """Give the short text of a label, such as `TGL:LEMJR`; InvalidInput if wrong."""
    if not _MARK.fullmatch(vessel_mark):
        raise InvalidInput.at("#/vessel_mark", "a mark is 1 to 3 capitals or digits")
    if letter not in BODY_LENGTH:
        raise InvalidInput.at("#/letter", "the letter is L, M or B")
    written = normalise(code)
    if len(written) != BODY_LENGTH[letter] + 1 or not is_code(written):
        raise InvalidInput.at("#/code", f"'{code}' is not a code for a label of kind {letter}")
    return f"{vessel_mark}:{letter}{written}"


def address_text(address: str, short_text: str) -> str:
    """Give the label text with the address of the vessel's own computer in it."""
    return f"{address.rstrip('/#')}/#/l/{short_text}"


def parse_label(text: str) -> Label | None:
    """Read the text of a scanned label, short or with an address in it.

    Of an address the last piece of the fragment, or else of the path, counts.
    None for anything that is not one of our labels or does not check.
    """
    found = _parse_short(text)
    if found is not None or "/" not in text:
        return found
    try:
        parts = urlsplit(text.strip())
    except ValueError:
        return None
    for piece in (parts.fragment, parts.path):
        found = _parse_short(unquote(piece.rstrip("/").rpartition("/")[2]))
        if found is not None:
            return found
    return None


def _parse_short(text: str) -> Label | None:
    match = _SHORT.fullmatch(text.strip().upper())
    if match is None:
        return None
    mark, letter, code = match.groups()
    if len(code) != BODY_LENGTH[letter] + 1 or not is_code(code):
        return None
    return Label(mark, letter, code)
