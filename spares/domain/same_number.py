"""Whether parts of two vessels are the same article: by maker and maker's number.

Each vessel numbers her own parts; P034 of one is another thing on the next. What they share is
what the maker wrote. A number alone is taken only where nobody wrote down whose it is.
"""

from __future__ import annotations

from collections.abc import Iterable

from spares.domain.search_text import number_key, words

#: Shorter numbers are of many makers.
SHORTEST = 2

Number = tuple[str | None, str | None]


def same_article(one: Iterable[Number], other: Iterable[Number]) -> bool:
    """Say whether two parts share a number of the same maker.

    Args:
        one: Maker and number of a part, and of each cross number of it [-].
        other: The same of the other part [-].

    Example:
        >>> same_article([("Quillsund", "QS 1-I")], [("QUILLSUND", "qs1i")])
        True
        >>> same_article([("Quillsund", "QS 1-I")], [("Pellwick", "QS 1-I")])
        False
        >>> same_article([(None, "QS 1-I")], [("Pellwick", "QS 1-I")])
        True
    """
    mine, theirs = _keys(one), _keys(other)
    return any(number == their_number and (not maker or not their_maker or maker == their_maker)
               for maker, number in mine for their_maker, their_number in theirs)


def _keys(numbers: Iterable[Number]) -> list[tuple[str, str]]:
    found = [(" ".join(words(maker or "")), number_key(number or "")) for maker, number in numbers]
    return [(maker, key) for maker, key in found if len(key) >= SHORTEST]
