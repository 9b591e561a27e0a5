"""A temperature creeps up over weeks: readings beside the hours, limits of the book, the trend."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.done import done
from spares.actions.export import export_csv
from spares.actions.gauged import gauge, gauged
from spares.actions.gauged import test_run as record_run
from spares.actions.gauges import gauges
from spares.actions.papers.paper import paper
from spares.actions.show import show
from spares.actions.trailing import trail_begin
from spares.actions.undo import undo
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.errors import InvalidInput
from tests.paper import reading

#: Hours and °C of one cooler that silts up: 0.05 °C an hour, by hand; 99 is a slip of the pen.
CREEPING = [("2027-02-01", "300", "80,0"), ("2027-02-08", "310", "80.5"),
            ("2027-02-15", "320", "99"), ("2027-02-22", "330", "81.5"),
            ("2027-03-01", "350", "82.5")]


def _read(ctx, rows=CREEPING):
    for on, hours, value in rows:
        gauged(ctx, "ENG", "coolant", value, unit="°C", at=on, run=hours)


def _only(ctx):
    found, = gauges(ctx, "ENG")["gauges"]
    return found


def test_a_trend_since_the_cleaning_is_said_beside_the_limit_of_the_book(ctx):
    gauged(ctx, "ENG", "Coolant", "91", unit="°C", at="2027-01-10", run=290)
    done(ctx, "S01", at="2027-01-20", run=295, kit=False)
    _read(ctx)
    answer = gauge(ctx, "ENG", "coolant", high="95", source="maker's book, page 31", by="Anna",
                   cleaned_by="S01")
    assert answer["gauge"] == "ENG coolant"
    found = _only(ctx)
    told = found["trend"]
    # of ten pairs six rise by 0.05 °C/h, three of the slip's four are steeper, one falls: median
    # of [-1.75, -0.55, .05 x 6, .95, 1.85] is 0.05
    assert (told["code"], told["readings"], told["pairs"]) == ("climbs", 5, 10)
    assert told["slope"] == pytest.approx(0.05)
    assert told["left"] == pytest.approx((95 - 82.5) / 0.05)
    assert (found["state"], found["by"], found["source"]) == ("within", "Anna",
                                                              "maker's book, page 31")
    assert found["says"] == ("climbs 0.5 °C per 10 h since change filter on 2027-01-20 "
                             "(5 readings); the book says at most 95 °C, reached at this rate in "
                             "about 250 h")
    assert card(ctx, "S01")["gauges"] == [found] == show(ctx, "ENG", "machine")["gauges"]


def test_readings_at_another_load_and_of_a_cold_engine_do_not_speak(ctx):
    for day_, value, load in ((1, 78, 40), (3, 92, 90), (5, 78.4, 45), (8, 78.8, 40)):
        gauged(ctx, "ENG", "coolant", value, unit="°C", at=f"2027-03-0{day_}", load_percent=load)
    record_run(ctx, "ENG", at="2027-03-06", leaks="none", readings=[
        {"name": "coolant", "minute": 0, "value": 12},
        {"name": "coolant", "minute": 5, "value": 50}])
    gauged(ctx, "ENG", "coolant", 95, at="2027-03-09")      # nobody noted at what load
    told = _only(ctx)["trend"]
    assert (told["code"], told["readings"], told["step_unit"]) == ("climbs", 3, "d")
    # slopes 0.1, 0.8/7, 0.4/3 °C a day: the middle one
    assert told["slope"] == pytest.approx(0.8 / 7)
    assert _only(ctx)["last"]["value"] == 95


def test_two_readings_or_a_flat_row_make_no_trend(ctx):
    _read(ctx, CREEPING[:2])
    assert _only(ctx)["trend"]["code"] == "too-few"
    _read(ctx, [("2027-03-05", "360", "80.2"), ("2027-03-06", "365", "80.1")])
    found = _only(ctx)
    assert found["trend"]["code"] == "steady" and found["trend"]["left"] is None
    assert "the maker's limit is not recorded" in found["says"]


def test_a_first_run_is_kept_as_figures_with_leaks_and_who_accepted(ctx):
    gauge(ctx, "ENG", "oil pressure", unit="bar", low="2.5", source="maker's book, page 12")
    answer = record_run(ctx, "ENG", service="S01", by="Ole", leaks="none at cover and hose",
                        accepted_by="Anna", readings=[
                            {"name": "Oil pressure", "unit": "bar", "minute": 0, "value": "2,1"},
                            {"name": "oil pressure", "minute": 5, "value": 4.2},
                            {"name": "coolant", "unit": "°C", "minute": 5, "value": 71}])
    run, = gauges(ctx)["test_runs"]
    assert (run["service"], run["leaks"], run["accepted_by"]) == (
        "S01", "none at cover and hose", "Anna")
    assert [(one["name"], one["minute"], one["value"]) for one in run["readings"]] == [
        ("oil pressure", 0, 2.1), ("coolant", 5, 71.0), ("oil pressure", 5, 4.2)]
    states = {one["name"]: one["state"] for one in gauges(ctx)["gauges"]}
    assert states == {"oil pressure": "within", "coolant": "no-limit"}
    undo(ctx, answer["change"])
    assert gauges(ctx)["test_runs"] == [] and len(gauges(ctx)["gauges"]) == 1


def test_what_cannot_be_is_refused_and_names_its_field(ctx):
    _read(ctx, CREEPING[:1])
    for act, pointer in (
            (lambda: gauged(ctx, "ENG", "coolant", "hot"), "#/value"),
            (lambda: gauged(ctx, "ENG", "coolant", "80", unit="bar"), "#/unit"),
            (lambda: gauged(ctx, "ENG", "exhaust", "300"), "#/unit"),
            (lambda: gauged(ctx, "ENG", " ", "300"), "#/name"),
            (lambda: gauged(ctx, "ENG", "coolant", "80", at="2027-03-16"), "#/at"),
            (lambda: gauge(ctx, "ENG", "coolant", high="95"), "#/source"),
            (lambda: gauge(ctx, "ENG", "coolant", low="96", high="95", source="book"), "#/high"),
            (lambda: record_run(ctx, "ENG"), "#/readings")):
        with pytest.raises(InvalidInput) as caught:
            act()
        assert caught.value.facts["errors"][0]["pointer"] == pointer


def test_limits_are_changed_one_by_one_and_taken_out(ctx):
    gauge(ctx, "ENG", "coolant", unit="°C", high="95", source="book, page 31")
    gauge(ctx, "ENG", "coolant", low="70")
    assert (_only(ctx)["low"], _only(ctx)["high"], _only(ctx)["unit"]) == (70, 95, "°C")
    gauge(ctx, "ENG", "coolant", low="", high="", cleaned_by="")
    assert (_only(ctx)["low"], _only(ctx)["high"], _only(ctx)["state"]) == (None, None, "not-read")


def test_the_same_reading_twice_is_one_and_files_bring_all_of_it_elsewhere(ctx, tmp_path):
    _read(ctx)
    _read(ctx, CREEPING[:1])
    gauge(ctx, "ENG", "coolant", high="95", source="book", cleaned_by="S01")
    record_run(ctx, "ENG", service="S01", leaks="none",
               readings=[{"name": "coolant", "minute": 15, "value": 83}])
    assert len(_only(ctx)["readings"]) == 6
    (tmp_path / "files.zip").write_bytes(export_csv(ctx))
    other = open_store(tmp_path / "other.sqlite")
    bring_in(other, tmp_path / "files.zip")
    with other.reading() as session:
        there = Context(other, vessels(session)[0][0], date(2027, 3, 15))
    for one in (here := gauges(ctx)["gauges"]) + (away := gauges(there)["gauges"]):
        del one["id"]       # named by the number on its own vessel
    assert here == away and gauges(there)["test_runs"] == gauges(ctx)["test_runs"]
    again = bring_in(other, tmp_path / "files.zip")
    assert again["changes"] == 0
    other.close()


def test_of_one_day_running_hours_tell_the_order(ctx):
    for hours, value in (("352", "83"), ("351", "82")):
        gauged(replace(ctx, today=date(2027, 3, 2)), "ENG", "coolant", value, unit="°C", run=hours)
    assert [one["value"] for one in _only(ctx)["readings"]] == [83, 82]


def test_a_card_with_an_open_trail_and_limits_keeps_to_one_sheet(demo):
    """The oil change has the longest card: cautions, kit, test run, and a machine that stops."""
    gauge(demo, "HBR", "coolant", unit="°C", high="95", source="maker's book, page 31")
    trail_begin(demo, "HBR", "impeller blade", missing=1, of_pieces=6, places=[
        {"name": name} for name in ("oil cooler inlet", "heat exchanger cap", "zinc", "elbow")])
    pages = reading.texts(paper(demo, "card", service="S20"))
    assert len(pages) <= 2
    assert "DO NOT RUN" in pages[0] and "has besides, mains" in " ".join(pages[0].split())
    for words in ("DO NOT RUN", "has besides, mains", "Oil level seen", "Minute 0 1 5 15 30",
                  "coolant to 95 °C (maker's book, page 31)", "Signed:"):
        assert words in " ".join(" ".join(pages).split())
