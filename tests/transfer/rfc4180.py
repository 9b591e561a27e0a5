"""A reader of CSV that takes what the grammar of RFC 4180, section 2, allows and nothing else."""

from __future__ import annotations


class NotCsv(ValueError):
    """Text that the grammar does not make."""


def read_csv(text: str) -> list[list[str]]:
    """Give the records of a file; each must have as many fields as the first (2.4)."""
    records, at = [], 0
    while at < len(text):
        fields: list[str] = []
        while True:
            field, at = _escaped(text, at + 1) if text[at:at + 1] == '"' else _plain(text, at)
            fields.append(field)
            if text[at:at + 1] != ",":
                break
            at += 1
        records.append(fields)
        if text[at:at + 2] not in ("\r\n", ""):
            raise NotCsv(f"{text[at:at + 10]!r} after a field")
        at += 2
    if any(len(fields) != len(records[0]) for fields in records):
        raise NotCsv("records of unlike length")
    return records


def _escaped(text: str, at: int) -> tuple[str, int]:
    """Read `escaped`, from behind its opening quote: quotes doubled, line breaks allowed."""
    found = ""
    while True:
        sign = text[at:at + 1]
        if sign == "":
            raise NotCsv("a quote that is never closed")
        if sign == '"' and text[at:at + 2] != '""':
            return found, at + 1
        if sign != '"' and not (_is_text(sign) or sign in ",\r\n"):
            raise NotCsv(f"{sign!r} in quotes")
        found, at = found + sign, at + (2 if sign == '"' else 1)


def _plain(text: str, at: int) -> tuple[str, int]:
    start = at
    while at < len(text) and _is_text(text[at]):
        at += 1
    return text[start:at], at


def _is_text(sign: str) -> bool:
    """TEXTDATA (%x20-21 / %x23-2B / %x2D-7E), and beyond ASCII as section 3 leaves open."""
    return " " <= sign <= "~" and sign not in '",' or sign >= "\x80"
