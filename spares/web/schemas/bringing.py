"""How far a file is that is brought in."""

from __future__ import annotations

from marshmallow import fields

from spares.web.schemas.base import Answer, VesselQuery, a_whole
from spares.web.schemas.values import PlainText


def progress_field(*, required: bool = False) -> fields.Field:
    """Any text under which a bringing-in is asked about and stopped."""
    return PlainText(longest=40, shortest=1, required=required, metadata={
        "description": "Any text under which /api/bringing tells how far it is"})


class ProgressQuery(VesselQuery):
    """Which work is asked about."""

    progress = progress_field(required=True)


class ProgressAnswer(Answer):
    """How many changes of how many are written; 0 of 0 before the first."""

    done, of = a_whole(), a_whole()
