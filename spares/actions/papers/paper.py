"""Paper: print one of the papers by its name."""

from __future__ import annotations

from collections.abc import Callable
from inspect import signature
from typing import Any

from spares.actions.context import Context
from spares.actions.papers.handover import handover
from spares.actions.papers.index import index
from spares.actions.papers.insurance import insurance
from spares.actions.papers.job_card import job_card
from spares.actions.papers.lay_up import lay_up
from spares.actions.papers.lid import lid
from spares.actions.papers.measuring import measuring
from spares.actions.papers.put_away import put_away
from spares.actions.papers.shopping import shopping
from spares.actions.papers.stores import stores
from spares.actions.papers.stranded import stranded
from spares.actions.papers.trail import trail_sheet
from spares.actions.papers.trip import trip_plan
from spares.errors import InvalidInput, NotFound
from spares.paper import language as paper_language

#: The papers by name; what a paper takes beside the page are the names of its arguments.
PAPERS: dict[str, Callable[..., bytes]] = {
    "shopping": shopping, "put-away": put_away, "stores": stores, "insurance": insurance,
    "handover": handover, "index": index, "lid": lid, "stranded": stranded, "card": job_card,
    "lay-up": lay_up, "measuring": measuring, "trip": trip_plan,
    "trail": trail_sheet}
LANGUAGES = paper_language.LANGUAGES
PAGES = {"a4": "A4", "a5": "A5", "letter": "Letter"}


def paper(ctx: Context, name: str, page: str | None = None, language: str = "en",
          **asked: Any) -> bytes:
    """Print a paper as PDF.

    Args:
        ctx: Where it happens.
        name: One of `PAPERS` [-].
        page: a4, a5 or letter; without it the size that is usual for this paper [-].
        language: Of its words, one of `LANGUAGES`; what people wrote stays as they wrote it [-].
        asked: What this paper takes, such as `trip`, `locker`, `point`; None is not said.

    Raises:
        NotFound: there is no such paper; `known` lists them.
        InvalidInput: no such page or language, or the paper takes no such thing.
    """
    printer = PAPERS.get(name)
    if printer is None:
        raise NotFound(f"name: there is no paper called {name[:60]!r}; there are "
                       f"{', '.join(PAPERS)}", known=list(PAPERS),
                       errors=[{"pointer": "#/name", "detail": "not found"}])
    said = {key: value for key, value in asked.items() if value is not None}
    if page is not None:
        if page.lower() not in PAGES:
            raise InvalidInput.at("#/page", f"one of {', '.join(PAGES)} is needed")
        said["page"] = PAGES[page.lower()]
    for key in said:
        if key not in signature(printer).parameters:
            raise InvalidInput.at(f"#/{key}", f"the paper {name} takes no such thing")
    return printer(ctx, say=paper_language.words(language), **said)
