"""In which language a paper comes: as the address asks, else as the browser prefers."""

from __future__ import annotations

from typing import Any

from flask import request
from marshmallow import fields, validate

from spares.actions.papers.paper import LANGUAGES


def language_field() -> fields.String:
    """Give the field of a query that names the language."""
    return fields.String(validate=validate.OneOf(LANGUAGES), metadata={
        "description": "Of the words; as Accept-Language says unless said, else English"})


def language_of(query: dict[str, Any]) -> str:
    """Give the language of this request."""
    # of da-DK before en the library's own match takes en, which is the same to the letter
    liked = (tag.split("-")[0].lower() for tag in request.accept_languages.values())
    return query.get("language") or next((one for one in liked if one in LANGUAGES), LANGUAGES[0])
