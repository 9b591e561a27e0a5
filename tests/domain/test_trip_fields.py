"""What the lists of a trip take, and what is said of what they do not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.domain.documents import fault
from spares.domain.trip_fields import shown, stored, wrongs

ENG = "machine/0a000000-0000-4000-8000-000000000001"
PART = "part/0a000000-0000-4000-8000-000000000002"
LEG = {"distance_nm": "60", "speed_kn": "6", "machines": [ENG]}
BANK = {"volts": "12", "ah": "500", "from": "0.5", "to": "0.8"}
ENERGY = {"machine": ENG, "loads": [{"watts": "60", "hours_per_day": "12"}], "bank": BANK,
          "charger": {"net_a": "70"}}


@pytest.mark.parametrize(("shape", "value"), [
    ("legs", [LEG]),
    ("legs", [{"hours": "5.5", "machines": [ENG], "day": 3}]),
    ("at-anchor", {"days": 20, "run": [{"machine": ENG, "hours_per_day": "0.5"}]}),
    ("energy", ENERGY),
    ("energy", {"machine": ENG, "use_kwh": "8.2", "charger_kw": "3.2"}),
    ("stops", [{"name": "Port", "arrives_on": "2027-06-01", "parts": [PART]}]),
    ("fuel", {"tank_l": "400", "reserve": "0.2"}),
    ("prices", {"currency": "EUR", "rates": {"DKK": "0.134"}}),
    ("figures", {"mtbf_h": "20000", "pieces": [["1", "0.7"], ["2", "0.3"]]}),
    ("figures", {"weibull": {"beta": "2.5", "eta_h": "1200", "ages_h": [None, "400"]}}),
])
def test_what_a_person_may_say_is_taken(shape, value):
    assert wrongs(shape, value) == []


@pytest.mark.parametrize(("shape", "value", "path"), [
    ("legs", [LEG, {**LEG, "speed_kn": "0"}], "/1/speed_kn"),
    ("legs", [{"distance_nm": "60", "machines": [ENG]}], "/0/speed_kn"),
    ("legs", [{**LEG, "hours": "3"}], "/0/hours"),
    ("legs", [{**LEG, "machines": [PART]}], "/0/machines/0"),
    ("legs", [{**LEG, "motor_share": "1.2"}], "/0/motor_share"),
    ("legs", [{**LEG, "wind": "5"}], "/0/wind"),
    ("legs", [{**LEG, "distance_nm": 60.5}], "/0/distance_nm"),
    ("at-anchor", {"days": 2, "run": [{"machine": ENG, "hours_per_day": "25"}]},
     "/run/0/hours_per_day"),
    ("energy", {**ENERGY, "bank": {**BANK, "to": "0.4"}}, "/bank/to"),
    ("energy", {**ENERGY, "use_kwh": "8", "charger_kw": "3"}, "/loads"),
    ("energy", {"machine": ENG, "loads": []}, "/bank"),
    ("stops", [{"name": "Port", "arrives_on": "2027-06-31"}], "/0/arrives_on"),
    ("stops", [{"name": "Port", "arrives_on": "2027-06-02", "leaves_on": "2027-06-01"}],
     "/0/leaves_on"),
    ("fuel", {"reserve": "plenty"}, "/reserve"),
    ("limits", {"cost": "-1"}, "/cost"),
    ("limits", {"currency": "eur"}, "/currency"),
    ("protection", {"level": "0.9", "A": "0.99"}, "/level"),
    ("protection", {"A": "1"}, "/A"),
    ("prices", {"currency": "EUR", "rates": {"DKK": "0"}}, "/rates/DKK"),
    ("burns", {"table": [["6", "4"], ["5", "3"]]}, "/table"),
    ("figures", {"mtbf_h": "100", "mtbf_days": "10"}, ""),
    ("figures", {"pieces": "1"}, ""),
    ("figures", {"mtbf_h": "100", "pieces": [["1", "0.7"], ["2", "0.2"]]}, "/pieces"),
])
def test_what_makes_no_sense_is_refused_where_it_stands(shape, value, path):
    assert path in [where for where, _ in wrongs(shape, value)]


def test_a_document_takes_and_refuses_the_same():
    assert fault("trip", "legs", [LEG]) is None
    assert fault("trip", "legs", [{**LEG, "speed_kn": "0"}]) == "0/speed_kn: must be above 0"


def test_numbers_and_short_names_become_text_and_documents_and_come_back():
    def to_doc(value, kinds, path):
        assert (value, kinds, path) == ("ENG", ("machine",), "/0/machines/0")
        return ENG

    kept = stored("legs", [{"distance_nm": "60,5", "speed_kn": 6, "machines": ["ENG"]}], to_doc)
    assert kept == [{"distance_nm": "60.5", "speed_kn": "6", "machines": [ENG]}]
    assert shown("legs", kept, lambda value, kinds, path: "ENG") == [
        {"distance_nm": 60.5, "speed_kn": 6, "machines": ["ENG"]}]


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.sampled_from(["machine", "machines", "hours", "days", "run", "level", "x"]), inner,
        max_size=3), max_leaves=8)


@given(shape=st.sampled_from(["legs", "at-anchor", "energy", "stops", "fuel", "prices",
                              "protection", "figures", "burns", "water", "limits"]), value=JUNK)
def test_whatever_is_given_is_judged_and_nothing_breaks(shape, value):
    kept = stored(shape, value, lambda one, kinds, path: one)
    assert all(isinstance(path, str) and words for path, words in wrongs(shape, kept))
