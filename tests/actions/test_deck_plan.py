"""The deck plan that a person draws, lockers on it, and fit points marked on a photo."""

from __future__ import annotations

import json

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.changes import changes
from spares.actions.context import Context
from spares.actions.deck_plan import deck_plan
from spares.actions.documents import write_document
from spares.actions.export import export_csv, export_json
from spares.actions.photos import photo, photos
from spares.actions.undo import undo
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.errors import InvalidInput, NotFound

PHOTO = "ab" * 32


@pytest.fixture
def drawn(ctx):
    """A plan of one deck with her outline; the port shelf is on it."""
    deck = write_document(ctx, "deck", {"no": "Below", "name": "Below", "position": 1})["doc"]
    write_document(ctx, "deck-line", {"deck": deck,
                                      "corners": "500,20 950,400 950,980 50,980 50,400",
                                      "closed": True})
    put(ctx, "L01", 300, 250)
    return ctx


def put(ctx, locker, x, y):
    """Put a locker on the plan."""
    return write_document(ctx, "deck-place", {"locker": ctx.named(locker, "locker", "locker"),
                                              "deck": deck_plan(ctx)["decks"][0]["doc"],
                                              "x": x, "y": y})


def place(ctx, locker):
    """Where a locker is found."""
    return next(one["place"] for one in deck_plan(ctx)["lockers"] if one["locker"] == locker)


def test_a_locker_is_found_where_it_was_put_and_one_inside_by_the_one_around_it(drawn):
    deck, = deck_plan(drawn)["decks"]
    assert (deck["name"], [one["closed"] for one in deck["lines"]]) == ("Below", [True])
    assert place(drawn, "L02") is None
    write_document(drawn, "locker", {"parent": drawn.named("L01", "locker", "locker")},
                   doc=drawn.named("L02", "locker", "locker"))
    here = place(drawn, "L02")
    assert (here["deck"], here["x"], here["y"], here["of"]) == (deck["doc"], 300, 250, "L01")
    assert place(drawn, "L01")["of"] is None


def test_put_elsewhere_a_locker_is_there_alone_and_each_step_goes_back(drawn):
    put(drawn, "L01", 700, 800)
    assert [place(drawn, "L01")[key] for key in "xy"] == [700, 800]
    assert changes(drawn)["changes"][0]["text"] == "Put on the plan: L01"
    undo(drawn)
    assert [place(drawn, "L01")[key] for key in "xy"] == [300, 250]
    write_document(drawn, "deck-place", {"gone": True}, doc=place(drawn, "L01")["doc"])
    assert changes(drawn)["changes"][0]["text"] == "Took off the plan: L01"
    assert place(drawn, "L01") is None
    assert place(put(drawn, "L01", 1, 2) and drawn, "L01")["x"] == 1


def test_a_deck_that_is_taken_off_the_books_takes_its_places_with_it(drawn):
    deck, = deck_plan(drawn)["decks"]
    write_document(drawn, "deck", {"gone": True}, doc=deck["doc"])
    assert (deck_plan(drawn)["decks"], place(drawn, "L01")) == ([], None)
    assert deck_plan(drawn)["taken_out"] == ["Below"]
    write_document(drawn, "deck", {"no": "Below 2", "name": "Below", "position": 1})
    assert [one["lines"] for one in deck_plan(drawn)["decks"]] == [[]]
    assert place(drawn, "L01") is None


@pytest.mark.parametrize(("kind", "fields", "pointer"), [
    ("deck-line", {"corners": "1,1"}, "#/fields/corners"),
    ("deck-line", {"corners": "1,1 1001,1"}, "#/fields/corners"),
    ("deck-line", {"corners": " ".join(["1,1"] * 101)}, "#/fields/corners"),
    ("deck-line", {"corners": "1,1 2, 2"}, "#/fields/corners"),
    ("deck-place", {"x": 1001, "y": 0}, "#/fields/x"),
    ("deck-place", {"x": 0, "y": -1}, "#/fields/y"),
    ("deck-place", {"x": 0}, "#/fields/y"),
    ("photo-mark", {"photo": "no hash", "x": 0, "y": 0}, "#/fields/photo")])
def test_what_lies_beside_the_picture_is_refused_at_its_field(drawn, kind, fields, pointer):
    about = {"deck-line": {"deck": deck_plan(drawn)["decks"][0]["doc"]},
             "deck-place": {"deck": deck_plan(drawn)["decks"][0]["doc"],
                            "locker": drawn.named("L02", "locker", "locker")},
             "photo-mark": {"point": drawn.named("ENG-02", "point", "point")}}[kind]
    with pytest.raises(InvalidInput) as told:
        write_document(drawn, kind, {**about, **fields})
    assert told.value.facts["errors"][0]["pointer"] == pointer
    with pytest.raises(NotFound):
        write_document(drawn, "deck-place", {"locker": "locker/" + "0" * 8 + "-0000-4000-8000-"
                                             + "0" * 12, "deck": about.get("deck"), "x": 1, "y": 1})


def test_a_fit_point_is_marked_on_the_photo_of_its_machine_and_leads_there(drawn):
    photo(drawn, "ENG", PHOTO, 1000, "image/jpeg")
    point = drawn.named("ENG-02", "point", "point")
    write_document(drawn, "photo-mark", {"photo": PHOTO, "point": point, "x": 400, "y": 120})
    shown, = photos(drawn, "ENG")["photos"]
    mark, = shown["marks"]
    assert (mark["point"], mark["name"], mark["x"], mark["y"]) == ("ENG-02", "filter", 400, 120)
    there = photos(drawn, "ENG-02")
    assert there["photos"] == []
    assert [(one["of"], one["name"], one["sha256"]) for one in there["marked_on"]] == [
        ("ENG", "Engine", PHOTO)]
    assert photos(drawn, "ENG-01")["marked_on"] == []
    write_document(drawn, "photo-mark", {"gone": True}, doc=mark["doc"])
    assert (photos(drawn, "ENG")["photos"][0]["marks"], photos(drawn, "ENG-02")["marked_on"]) == (
        [], [])


@pytest.mark.parametrize("form", ["csv", "json"])
def test_plan_and_marks_go_out_and_come_back(drawn, tmp_path, form):
    write_document(drawn, "photo-mark", {"photo": PHOTO, "x": 1000, "y": 0,
                                         "point": drawn.named("ENG-02", "point", "point")})
    file = tmp_path / ("all.zip" if form == "csv" else "all.json")
    file.write_bytes(export_csv(drawn) if form == "csv"
                     else json.dumps(export_json(drawn)).encode())
    store = open_store(tmp_path / "other.sqlite")
    bring_in(store, file)
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    there = Context(store, vessel, drawn.today)
    assert _plain(deck_plan(there)) == _plain(deck_plan(drawn))
    assert [(one.photo, one.x, one.y) for one in there.aboard().all("photo-mark")] == [
        (PHOTO, 1000, 0)]


def _plain(found):
    """The plan without ids, which come of the vessel's own."""
    return ([(one["name"], [(line["corners"], line["closed"]) for line in one["lines"]])
             for one in found["decks"]],
            [(one["locker"], one["place"] and (one["place"]["x"], one["place"]["y"]))
             for one in found["lockers"]])
