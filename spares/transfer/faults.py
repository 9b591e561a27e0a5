"""Gather what is wrong in files, so that a person sees all of it at once."""

from __future__ import annotations

from spares.errors import InvalidInput, json_pointer

#: As many faults are listed; the rest is only counted.
MOST_LISTED = 200


class Faults:
    """What is wrong, with file, row and column.

    Rows are counted as a spreadsheet counts them: the header is row 1.
    """

    def __init__(self) -> None:
        self.listed: list[dict[str, str]] = []
        self.count = 0

    def add(self, file: str, row: int | None, column: str | None, detail: str) -> None:
        """Note one fault; without a row or column it holds for the file or row."""
        self.count += 1
        if len(self.listed) < MOST_LISTED:
            steps = [file, *(str(step) for step in (row, column) if step is not None)]
            self.listed.append({"pointer": json_pointer(*steps), "detail": detail,
                                "where": place(file, row, column)})

    def raise_any(self) -> None:
        """Raise InvalidInput with all that was noted, if anything was."""
        if self.count:
            first = self.listed[0]
            more = f" (and {self.count - 1} more)" if self.count > 1 else ""
            raise InvalidInput(f"{first['where']}: {first['detail']}{more}",
                               errors=self.listed, count=self.count)


def place(file: str, row: int | None = None, column: str | None = None) -> str:
    """Say in words where something stands, such as `parts.csv, row 12, lead_days`."""
    words = [file]
    if row is not None:
        words.append(f"row {row}")
    if column is not None:
        words.append(column)
    return ", ".join(words)
