"""All that a phone needs in order to judge fit with no server: points, what they ask, parts.

Each point carries what it asks and what is tied to it in the form of the fit computation, and
each part what is recorded of it, so that the phone puts the very same request together.
"""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.fit import (
    aftermath,
    cautions_at,
    companion,
    companion_line,
    fit_request,
    offers_of,
    recorded_links,
)
from spares.actions.kind_sheets import sheets_mark
from spares.actions.lines import part_head
from spares.actions.show import machines
from spares.actions.things import point_thing
from spares.domain.aboard import Aboard, name_of
from spares.domain.tree import points_of_link


def fit_book(ctx: Context) -> dict[str, Any]:
    """Give the vessel's fit points and parts for checks without a server; kept until a change.

    Args:
        ctx: Where it happens.
    """
    return ctx.remembered(f"fit book {sheets_mark(ctx)}", lambda: _book(ctx))


def _book(ctx: Context) -> dict[str, Any]:
    aboard = ctx.aboard()
    tied = _tied(aboard)
    return {"vessel": aboard.vessel.mark, "as_of": ctx.today.isoformat(),
            "machines": machines(ctx)["machines"],
            "points": [_point(ctx, aboard, name, tied.get(name, []))
                       for name in (name_of("point", one) for one in aboard.all("point"))],
            "parts": [{**part_head(aboard, name), "kind": one.kind,
                       "offers": offers_of(aboard, name)}
                      for one in aboard.all("part") for name in (name_of("part", one),)]}


def _tied(aboard: Aboard) -> dict[str, list[str]]:
    """Give, by fit point, the parts that anything is recorded of there."""
    found: dict[str, dict[str, None]] = {}
    for part, links in aboard.links_of.items():
        for link in links:
            for point in points_of_link(aboard, link):
                found.setdefault(point, {})[part] = None
                if link.with_part:
                    found[point][link.with_part] = None
    return {point: sorted(parts, key=aboard.label) for point, parts in found.items()}


def _point(ctx: Context, aboard: Aboard, point: str, tied: list[str]) -> dict[str, Any]:
    request = fit_request(ctx, point, None)
    asked = [one["attr"] for one in request["requires"]]
    return {**point_thing(ctx, point), "place": request["place"], "asks": request["requires"],
            "cautions": cautions_at(aboard, point),
            "candidates": [_candidate(aboard, point, part, asked) for part in tied]}


def _candidate(aboard: Aboard, point: str, part: str, asked: list[str]) -> dict[str, Any]:
    return {"part": aboard.label(part), "links": recorded_links(aboard, point, part),
            "companions": {attr: companion_line(aboard, extra) for attr in asked
                           if (extra := companion(aboard, point, part, attr))},
            **aftermath(aboard, point, part)}
