"""Every error that the program raises on purpose.

Each has a code (stable, for programs), a title (the same for every case), a
detail (for the person: what is wrong and where) and facts (plain JSON values).
This module knows no HTTP; `web.problems` maps a code to a status.
"""

from __future__ import annotations

from typing import Any


def json_pointer(*steps: object) -> str:
    """Write steps as a JSON Pointer fragment (RFC 6901); `#` alone is the whole document."""
    return "#" + "".join("/" + str(s).replace("~", "~0").replace("/", "~1") for s in steps)


class SparesError(Exception):
    """Base of all errors raised on purpose."""

    code = "error"
    title = "Something is wrong"

    def __init__(self, detail: str, **facts: Any) -> None:
        super().__init__(detail)
        self.detail = detail
        self.facts = facts

    def problem(self) -> dict[str, Any]:
        """Give the problem details object (RFC 9457) without a status."""
        return {
            "type": f"/problems/{self.code}",
            "title": self.title,
            "detail": self.detail,
            **self.facts,
        }


class InvalidInput(SparesError, ValueError):
    """What was given cannot be taken; `errors` lists {pointer, detail}."""

    code = "invalid-input"
    title = "The input cannot be taken as it is"

    @classmethod
    def at(cls, pointer: str, detail: str, **facts: Any) -> InvalidInput:
        """Name one field as a JSON Pointer fragment, such as `#/rows/1/bore`."""
        where = pointer.removeprefix("#").removeprefix("/") or "the input"
        return cls(f"{where}: {detail}",
                   errors=[{"pointer": pointer, "detail": detail}], **facts)


class OutOfRange(SparesError, ValueError):
    """A value lies outside the range in which the computation holds."""

    code = "out-of-range"
    title = "Outside the range in which this holds"


    def at(self, pointer: str) -> OutOfRange:
        """Give the same error with the field that it is about, as a JSON Pointer."""
        return OutOfRange(self.detail, **{
            **self.facts, "errors": [{"pointer": pointer, "detail": self.detail}]})


class UnknownUnit(InvalidInput):
    """A unit or a quantity text that nobody can read."""

    code = "unknown-unit"
    title = "The unit or quantity is not known"


class UnknownTable(SparesError, LookupError):
    """A standards table that does not exist or cannot be trusted."""

    code = "unknown-table"
    title = "No such table"


class NotFound(SparesError, LookupError):
    """The thing named is not in the store."""

    code = "not-found"
    title = "Not found"


class Ambiguous(SparesError, LookupError):
    """The name fits several things; `candidates` lists them."""

    code = "ambiguous"
    title = "More than one thing answers to this"


class Conflict(SparesError):
    """What is asked does not go with what has happened since."""

    code = "conflict"
    title = "This no longer goes with what is recorded"


class GivenUp(Conflict):
    """Somebody stopped long work before its end; nothing of it was written."""

    code = "given-up"
    title = "It was stopped before its end"


class NotAllowed(SparesError, PermissionError):
    """The one who asks has no right to it."""

    code = "not-allowed"
    title = "Not allowed"


class Refused(SparesError, ValueError):
    """A change that the door does not take; `reason` is the code of the protocol."""

    code = "refused"
    title = "The change was refused"


class Stopped(SparesError):
    """A device's whole request was not looked at; `stop` is the code of the protocol."""

    code = "stopped"
    title = "The request was stopped before anything in it was taken"


class AskFirst(SparesError):
    """Stored only with a reason: the value is likely a slip (`asks` says which)."""

    code = "ask-first"
    title = "Please look again"


class StoreBusy(SparesError):
    """Another writer holds the store."""

    code = "store-busy"
    title = "The store is in use"


class StoreDamaged(SparesError):
    """The store's file is not what it should be."""

    code = "store-damaged"
    title = "The store is damaged or not ours"


class DiskFull(SparesError, OSError):
    """No room to write; nothing was changed."""

    code = "disk-full"
    title = "No room left to write"


class UpgradeFailed(SparesError):
    """The store could not be brought to this version; it is as it was."""

    code = "upgrade-failed"
    title = "The store could not be upgraded"
