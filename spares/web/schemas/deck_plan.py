"""Shapes of the deck plan."""

from __future__ import annotations

from spares.web.schemas.base import Answer, a_text, a_whole, many, maybe, one, texts, yes


class DeckLine(Answer):
    """A line of a plan."""

    doc = a_text()
    corners = a_text("pairs between spaces [thousandths of width and height]")
    closed = yes("the last corner leads back to the first")


class Deck(Answer):
    """The plan of one deck."""

    doc = a_text()
    no = a_text()
    name = a_text()
    position = a_whole("its place in the order of decks")
    lines = many(DeckLine)


class PlacedAt(Answer):
    """Where a locker is found."""

    doc = a_text()
    deck = a_text("the deck on whose plan it is")
    x = a_whole("from the left [thousandths of the width]")
    y = a_whole("from the top [thousandths of the height]")
    of = maybe("number of the locker around it, by whose place it is found")


class PlacedLocker(Answer):
    """A locker and its place, null while nobody put it on a plan."""

    doc = a_text()
    locker = maybe("its number")
    name = maybe()
    code = maybe()
    aboard = yes()
    place = one(PlacedAt, null=True)


class DeckPlan(Answer):
    """The plans of all decks, and where each locker is found."""

    decks = many(Deck)
    taken_out = texts("numbers of decks that are there no more")
    lockers = many(PlacedLocker)
