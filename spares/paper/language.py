"""The language of a paper: its words by key, and numbers, days and quantities as it writes them.

Each language has one file of words, `words/<language>.toml`, with the same keys. English is the
language of the program's own tables (cautions, flows, kind sheets); `words/da-tables.toml` and
`words/da-kinds.toml` hold what those say, by their English text.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from importlib import resources
from typing import Any

from spares.errors import InvalidInput
from spares.units import format_number

LANGUAGES = ("en", "da")
_ISO = re.compile(r"(\d{4})(?:-(0[1-9]|1[0-2])(?:-(\d{2}))?)?")
_DAY = re.compile(r"\b\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])\b")
_NESTED = ("figure", "why", "what")      # facts that may be a sentence themselves
#: Facts that are names and numbers of things: in KR 10.034 the point is no decimal mark.
_CALLED = ("part", "other", "machine", "locker", "order", "service", "name", "trail", "class")
_FACT = re.compile(r"\{(\w+)\}")
_POINT = re.compile(r"(?<![\d.])(\d+)\.(\d+)(?![\d.])")


class Words:
    """The words of one language: `say("card.tools", tools="caliper")`."""

    def __init__(self, language: str) -> None:
        self.language = language
        self._words = _flat(_file(language))
        tables = {} if language == "en" else (
            _file(f"{language}-kinds") | _file(f"{language}-tables"))
        self._sentences = [(_pattern(one), twin)
                           for one, twin in tables.pop("sentences", {}).items()]
        self._told = {text: twin for table in tables.values() for text, twin in table.items()}

    def __call__(self, key: str, **facts: object) -> str:
        """Give the text under a key with facts put in; a key that is not there is a KeyError."""
        return str(self._words[key]).format(**facts)

    def listed(self, key: str) -> tuple[str, ...]:
        """Give the texts under a key that holds a list."""
        return tuple(self._words[key])

    def word(self, table: str, code: str) -> str:
        """Give the word for a code; one that is not known is shown as plain words."""
        return str(self._words.get(f"word.{table}.{code}", code.replace("-", " ")))

    def told(self, text: str) -> str:
        """Give what a table of the program says in this language; other text as it is."""
        return self._told.get(text, text)

    def sentence(self, text: str) -> str:
        """Give a sentence of the program in this language, with its days and figures.

        Example:
            >>> words("da").sentence("0.5 in L04 usable to 2027-03-20 only")
            '0,5 i L04 kun brugelig til 20. mar 2027'
        """
        for pattern, twin in self._sentences:
            if match := pattern.fullmatch(text):
                return twin.format(**{name: self._fact(name, fact)
                                      for name, fact in match.groupdict().items()})
        told = self.told(text)
        return self.figures(self.days(told)) if told == text else told

    def _fact(self, name: str, fact: str) -> str:
        if name in _CALLED:
            return fact
        return self.sentence(fact) if name in _NESTED else self.figures(self.days(fact))

    def some(self, key: str, count: int, **facts: object) -> str:
        """Give the text for one or for many."""
        return self(f"{key}.{'one' if count == 1 else 'many'}", count=count, **facts)

    def decimal(self, figure: str) -> str:
        """Write a figure with the decimal mark of the language."""
        return figure.replace(".", self("number.mark"))

    def figures(self, sentence: str) -> str:
        """Write the decimal figures in a sentence with the mark of the language."""
        return _POINT.sub(lambda match: self.decimal(match[0]), sentence)

    def number(self, number: Any, most: int = 3) -> str:
        """Write a number, rounded to so many digits behind the mark at most."""
        return self.decimal(format_number(number, most))

    def quantity(self, quantity: object, unit: str = "pcs") -> str:
        """Write a quantity: 2, or 0.5 L; pieces go without their unit."""
        number = self.number(quantity)
        return number if unit == "pcs" else f"{number} {self.word('unit', unit)}"

    def money(self, minor: int, currency: str) -> str:
        """Write hundredths of a currency, such as 4 287.70 EUR."""
        whole, hundredths = divmod(abs(minor), 100)
        sign = "-" if minor < 0 else ""
        figure = f"{whole:,}".replace(",", " ")
        return f"{sign}{figure}{self('number.mark')}{hundredths:02d} {currency}".strip()

    def day(self, date: str) -> str:
        """Write `2031-06-30` as 30 Jun 2031, `2031-06` as Jun 2031; other text as it is."""
        match = _ISO.fullmatch(date.strip())
        if match is None:
            return date.strip()
        year, number, day = match.groups()
        if number is None:
            return str(year)
        month = self.listed("calendar.months")[int(number) - 1]
        return self("calendar.day", day=int(day), month=month, year=year) if day else (
            f"{month} {year}")

    def days(self, sentence: str) -> str:
        """Write the ISO days in a sentence as they are read on paper.

        Example:
            >>> ENGLISH.days("2 in L04 usable to 2027-03-20 only")
            '2 in L04 usable to 20 Mar 2027 only'
        """
        return _DAY.sub(lambda match: self.day(match[0]), sentence)

    def moment(self, moment: datetime) -> str:
        """Write a moment as 15 Mar 2027, 18:05, with the zone when it is known."""
        zone = f" {moment:%Z}" if moment.tzinfo else ""
        return f"{self.day(moment.date().isoformat())}, {moment:%H:%M}{zone}"


@cache
def words(language: str = "en") -> Words:
    """Give the words of a language; InvalidInput if there are none."""
    if language not in LANGUAGES:
        raise InvalidInput.at("#/language", f"one of {', '.join(LANGUAGES)} is needed")
    return Words(language)


def _file(name: str) -> dict[str, Any]:
    text = resources.files(__package__).joinpath("words", f"{name}.toml").read_text("utf-8")
    return tomllib.loads(text)


def _flat(table: Mapping[str, Any], before: str = "") -> dict[str, Any]:
    """Give the texts of nested tables by their keys joined with points."""
    found: dict[str, Any] = {}
    for key, value in table.items():
        if isinstance(value, Mapping):
            found |= _flat(value, f"{before}{key}.")
        else:
            found[f"{before}{key}"] = value
    return found


def _pattern(sentence: str) -> re.Pattern[str]:
    """Read `{what} in {place}` as a pattern whose groups are its facts."""
    return re.compile(_FACT.sub(r"(?P<\1>.+?)", re.escape(sentence).replace(r"\{", "{").replace(
        r"\}", "}")))


ENGLISH = words("en")
