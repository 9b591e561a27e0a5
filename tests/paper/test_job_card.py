"""The job card: cautions on top, missing parts first, blanks for the pencil."""

from __future__ import annotations

import dataclasses
from datetime import datetime

import pytest

from spares.domain.cautions import closing_sentence, known_words
from spares.errors import InvalidInput
from spares.paper.job_card import (
    CardKitLine,
    CardReading,
    CardTestRun,
    JobCard,
    job_card_pdf,
)
from spares.paper.lists import LockerName
from spares.paper.pages import Head
from tests.paper import reading

HEAD = Head("TANGLOPPE", "TGL", "Job card S24", datetime(2027, 3, 15, 18, 5))
CARD = JobCard(
    "HBR Harbour set", "forepeak machinery box", "S24 Open and clean heat exchanger",
    "overdue since 10 Jun 2027", ("hot", "sea-cock"),
    kit=(CardKitLine("P041 Zinc pencil", "Fennholt FH ZN-38", 1, 3,
                     LockerName("L17", "Forepeak", "EMJR")),
         CardKitLine("P040 End-cap gasket", "Krustrand KR 10-061", 2, 1,
                     LockerName("L04", "Gasket drawer", "HTKW"), short=True)),
    tools=("caliper",), shut_off=("Heater supply shut",), steps=("Drain it.", "Open the caps."),
    readings=(CardReading("Coolant", "°C", "70 to 90"), CardReading("Oil", "bar")),
)


def text_of(card: JobCard) -> str:
    return " ".join(reading.texts(job_card_pdf(HEAD, card)))


def in_order(text: str, *said: str) -> bool:
    places = [text.index(words) for words in said]
    return places == sorted(places)


def test_the_card_reads_from_cautions_through_shut_off_and_kit_to_the_signature():
    assert in_order(
        text_of(CARD), "S24 Open and clean heat exchanger", "HBR Harbour set", "Why now: overdue",
        "Caution, hot", "Caution, sea-cock", "Local rules", "Shut off first",
        "Heater supply shut", "Sea-cock shut", "Kit, in walking order", "Tools: caliper",
        "1. Drain it.", "2. Open the caps.", "Coolant [°C]", "70 to 90", "Sea-cock open again",
        "Waste", "Pieces accounted for", "Done by", "Hours", "Proof", "Signed")


def test_missing_parts_stand_first_with_how_many_there_are():
    text = text_of(CARD)
    assert in_order(text, "P040 End-cap gasket", "MISSING: 1 aboard", "P041 Zinc pencil")
    assert text.count("MISSING") == 1


@pytest.mark.parametrize("hazards", [(), *((word,) for word in known_words())])
def test_no_card_goes_out_without_the_sentence_that_defers(hazards):
    text = text_of(dataclasses.replace(CARD, hazards=hazards))
    assert text.count(closing_sentence()) == 1
    assert "Caution, stored energy:" in text


def test_a_triangle_and_a_word_mark_every_caution():
    text = text_of(CARD)
    assert text.count("⚠ Caution, ") == 3


def test_a_hazard_nobody_knows_stops_the_card():
    with pytest.raises(InvalidInput, match="ratating"):
        job_card_pdf(HEAD, dataclasses.replace(CARD, hazards=("ratating",)))


def test_what_only_the_makers_book_knows_is_left_to_it():
    text = text_of(dataclasses.replace(CARD, steps=()))
    assert "Steps from the maker's book, page:" in text
    assert "Oil [bar] maker's book:" in text


def test_a_usual_card_is_one_side_and_a_long_one_goes_on_overleaf():
    assert len(reading.texts(job_card_pdf(HEAD, CARD))) == 1
    all_hazards = dataclasses.replace(
        CARD, hazards=("hot", "rotating", "oil", "sea-cock", "fuel", "fumes"))
    assert len(reading.texts(job_card_pdf(HEAD, all_hazards))) == 1
    long = dataclasses.replace(CARD, steps=tuple(f"Step {i} is done." for i in range(90)))
    pages = reading.texts(job_card_pdf(HEAD, long))
    assert len(pages) > 1
    assert all(f"Step {i} is done." in " ".join(pages) for i in range(90))


def test_a_test_run_has_its_minute_marks_and_says_at_what_to_stop():
    run = CardTestRun((0, 5, 30), ("oil bar", "leaks"), "from the maker's book",
                      "Stop at once: no outlet water.")
    card = dataclasses.replace(CARD, test_run=run)
    assert in_order(text_of(card), "Sea-cock open again", "Test run", "Caution, stop values: Stop",
                    "Limits: from the maker's book", "Minute 0 5 30", "oil bar", "leaks", "Waste")
    assert "Test run" not in text_of(CARD)
