"""How typed words find a line: folding, words, numbers, order of answers.

Three passes, the next only when the one before found nothing: every typed word
begins a word of the line, or the typed text lies within a number of the line;
then the same with one slip of the finger in words of 4 to 7 letters and two in
longer ones. A word with a digit in it is never bent: a number that is one
digit off is another part.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

# Letters that keep their shape under compatibility decomposition.
_LETTERS = str.maketrans({
    "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ð": "d", "đ": "d", "þ": "th",
    "ł": "l", "ħ": "h", "ı": "i", "ŋ": "n", "ς": "σ",
})
_VULGAR_FRACTION = re.compile("([\u00bc-\u00be\u2150-\u215e])")
_WORD = re.compile(r"[^\W_]+")
_SHORTEST_NUMBER = 3

Rank = tuple[int, int, int]


class SearchLine(NamedTuple):
    """One line to be found: `key` is given back, the rest is folded text."""

    key: str
    words: tuple[str, ...]
    numbers: tuple[str, ...] = ()


def fold(text: str) -> str:
    """Bring text to the form it is compared in: no case, no accents, ß as ss, ø as o."""
    spaced = _VULGAR_FRACTION.sub(r" \1", text)  # 1½ is 1 1/2, not 11/2
    plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", spaced).lower())
    return "".join(c for c in plain if unicodedata.category(c)[0] != "M").translate(_LETTERS)


@lru_cache(maxsize=1 << 14)     # the names of all places are folded for each word that is typed
def words(text: str) -> tuple[str, ...]:
    """Give the folded runs of letters and digits, in their order."""
    return tuple(_WORD.findall(fold(text)))


def number_key(text: str) -> str:
    """Give a maker's number as it is compared: folded, only letters and digits."""
    return "".join(words(text))


def search_line(key: str, text: str, numbers: Iterable[str] = ()) -> SearchLine:
    """Fold what can be found of one thing: its texts, and its numbers in words and whole."""
    given = tuple(numbers)
    whole = tuple(k for k in dict.fromkeys(number_key(number) for number in given) if k)
    of_numbers = tuple(word for number in given for word in words(number))
    every_word = tuple(dict.fromkeys(words(text) + of_numbers + whole))
    return SearchLine(key, every_word, whole)


def prefix_match(query_words: Sequence[str], text_words: Sequence[str]) -> Rank | None:
    """Rank a line of which every query word begins a word; None if one does not.

    Smaller is better: query words that are not whole words, then how far back
    the words stand, then how long the line is.
    """
    partial = places = 0
    for asked in query_words:
        if asked in text_words:
            places += text_words.index(asked)
            continue
        place = next((i for i, word in enumerate(text_words) if word.startswith(asked)), None)
        if place is None:
            return None
        partial += 1
        places += place
    return partial, places, len(text_words)


def allowed_edits(word: str) -> int:
    """Tell how many slips a word may hold: none if short or with a digit."""
    if not word.isalpha() or len(word) < 4:
        return 0
    return 1 if len(word) < 8 else 2


def edits_to_prefix(asked: str, word: str, most: int) -> int | None:
    """Count the slips that turn `asked` into some beginning of `word`, at most `most`.

    A slip is a letter missed, added, wrong, or swapped with its neighbour
    (optimal string alignment, the restricted Damerau-Levenshtein distance).
    """
    if len(word) < len(asked) - most or len(set(asked) - set(word)) > most:
        return None
    target = word[: len(asked) + most]
    before: list[int] = []
    row = list(range(len(target) + 1))
    for i, letter in enumerate(asked, start=1):
        before, last, row = row, before, [i]
        for j, other in enumerate(target, start=1):
            best = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == target[j - 2] and asked[i - 2] == other:
                best = min(best, last[j - 2] + 1)
            row.append(best)
        if min(row) > most and min(before) > most:
            return None
    fewest = min(row)
    return fewest if fewest <= most else None


def search(query: str, lines: Iterable[SearchLine], limit: int = 50) -> list[str]:
    """Give the keys of the lines that answer a typed text, best first.

    Order: the number itself, then numbers and words that hold the text, ties by
    key, so the same store gives the same answer on every device.
    """
    everything = list(lines)
    return exact(query, everything, limit) or near(query, everything, limit)


def exact(query: str, lines: Iterable[SearchLine], limit: int = 50) -> list[str]:
    """Give the keys of the lines that answer without any slip of the finger."""
    return _best(_exact_pass(words(query), lines), limit) if words(query) else []


def near(query: str, lines: Iterable[SearchLine], limit: int = 50) -> list[str]:
    """Give the keys of the lines that answer if slips of the finger are forgiven."""
    return _best(_typo_pass(words(query), lines), limit) if words(query) else []


def _best(found: list[tuple[Rank, str]], limit: int) -> list[str]:
    return [key for _, key in sorted(found)[:limit]]


def _exact_pass(asked: Sequence[str], lines: Iterable[SearchLine]) -> list[tuple[Rank, str]]:
    number = "".join(asked)
    is_piece = len(number) >= _SHORTEST_NUMBER and any(c.isdigit() for c in number)
    found = []
    for line in lines:
        by_number = _number_rank(number, line.numbers, is_piece) if line.numbers else None
        by_words = prefix_match(asked, line.words)
        ranks = [rank for rank in (by_number, by_words) if rank is not None]
        if ranks:
            found.append((min(ranks), line.key))
    return found


def _number_rank(number: str, numbers: Sequence[str], is_piece: bool) -> Rank | None:
    """Rank a line by its numbers: the whole of one, or with *is_piece* what one holds."""
    if number in numbers:
        return -2, 0, 0
    found = [place for place in (full.find(number) for full in numbers if is_piece) if place >= 0]
    if not found:
        return None
    return (-1, 0, 0) if min(found) == 0 else (len(number), min(found), 0)


def _typo_pass(asked: Sequence[str], lines: Iterable[SearchLine]) -> list[tuple[Rank, str]]:
    @cache
    def slips(query_word: str, word: str) -> int | None:
        if word.startswith(query_word):
            return 0
        most = allowed_edits(query_word)
        return edits_to_prefix(query_word, word, most) if most else None

    found = []
    for line in lines:
        total = places = 0
        for query_word in asked:
            hits = [(slip, i) for i, word in enumerate(line.words)
                    if (slip := slips(query_word, word)) is not None]
            if not hits:
                break
            total += min(hits)[0]
            places += min(hits)[1]
        else:
            found.append(((total, places, len(line.words)), line.key))
    return found
