"""The deck plan: its lines, and where on it each locker is; fit points marked on photos."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.deck_plan import placed_by
from spares.domain.kit_bag import bags


def deck_plan(ctx: Context) -> dict[str, Any]:
    """Give the plan of each deck, and for each locker where it is found on one of them.

    `taken_out` are the numbers of decks that are there no more: a new deck of such a number
    would bring their lines back. A locker without a place of its own is found by the one
    that it lies in. A job's bag is asked for no place: it is left out unless it has one.
    """
    aboard = ctx.aboard()
    decks = sorted(aboard.all("deck"), key=lambda one: (one.position or 0, one.name or "", one.id))
    taken_out = sorted(one.no for one in aboard.docs["deck"].values() if one.gone and one.no)
    return {"decks": [_deck(aboard, one) for one in decks], "taken_out": taken_out,
            "lockers": _lockers(aboard)}


def _deck(aboard: Aboard, deck: Record) -> dict[str, Any]:
    name = name_of("deck", deck)
    lines = sorted((one for one in aboard.all("deck-line") if one.deck == name),
                   key=lambda one: one.id)
    return {"doc": name, "no": deck.no, "name": deck.name, "position": deck.position or 0,
            "lines": [{"doc": name_of("deck-line", one), "corners": one.corners,
                       "closed": bool(one.closed)} for one in lines]}


def _lockers(aboard: Aboard) -> list[dict[str, Any]]:
    lockers = {name_of("locker", one): one for one in aboard.all("locker")}
    decks = {name_of("deck", one) for one in aboard.all("deck")}
    places = {one.locker: one for one in aboard.all("deck-place") if one.deck in decks}
    parents = {name: one.parent for name, one in lockers.items()}
    found = []
    for name, one in lockers.items():
        by = placed_by(name, parents, places)
        if by is None and name in bags(aboard):
            continue
        found.append({"doc": name, "locker": one.no, "name": one.name, "code": one.code,
                      "aboard": one.aboard is not False,
                      "place": _place(aboard, places[by], by, name) if by else None})
    return sorted(found, key=lambda one: (one["locker"] or "", one["doc"]))


def _place(aboard: Aboard, place: Record, by: str, locker: str) -> dict[str, Any]:
    return {"doc": name_of("deck-place", place), "deck": place.deck, "x": place.x, "y": place.y,
            "of": None if by == locker else aboard.label(by)}


def marks_of(aboard: Aboard, photo: str) -> list[dict[str, Any]]:
    """Give the fit points that are marked on a photo, by their number."""
    found = [{"doc": name_of("photo-mark", one), "point": point.no, "name": point.name,
              "x": one.x, "y": one.y}
             for one in aboard.all("photo-mark") if one.photo == photo
             and (point := aboard.get(one.point)) is not None and not point.gone]
    return sorted(found, key=lambda one: (one["point"] or "", one["doc"]))


def photos_marked(aboard: Aboard, point: str) -> set[str]:
    """Give the photos, by their hash, on which a fit point is marked."""
    return {one.photo for one in aboard.all("photo-mark") if one.point == point}
