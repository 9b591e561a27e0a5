"""Insurance list, lay-up list and handover book."""

from __future__ import annotations

from datetime import datetime

import pytest

from spares.domain.cautions import closing_sentence
from spares.paper.handover_book import Book, BookMachine, BookService, handover_book_pdf
from spares.paper.insurance_list import InsuredLine, insurance_list_pdf
from spares.paper.language import ENGLISH
from spares.paper.lay_up_list import DrainPoint, lay_up_list_pdf
from spares.paper.lists import LockerName, StrandedLine
from spares.paper.pages import Head
from tests.paper import reading

POINTS = (DrainPoint("Sea chest cock", "", "G 1/2"), DrainPoint("Exchanger plug", "HBR"),
          DrainPoint("Keel cooler", "ENG", treated=True))


def head(title: str = "Paper") -> Head:
    return Head("TANGLOPPE", "TGL", title, datetime(2027, 3, 15, 18, 5))


def text_of(pdf: bytes) -> str:
    return " ".join(reading.texts(pdf))


def in_order(text: str, *said: str) -> bool:
    places = [text.index(words) for words in said]
    return places == sorted(places)


@pytest.mark.parametrize(
    ("minor", "shown"),
    [(428770, "4 287.70 EUR"), (5, "0.05 EUR"), (0, "0.00 EUR"), (-150, "-1.50 EUR"),
     (123456789, "1 234 567.89 EUR")],
)
def test_an_amount_keeps_its_hundredths(minor, shown):
    assert ENGLISH.money(minor, "EUR") == shown


def test_the_insurance_sum_leaves_out_what_has_no_value_and_says_so():
    lines = [InsuredLine("Harbour set", serial="KR2-1203", value_minor=420000, currency="EUR",
                         machine=True, bought="2019-05", photo="12"),
             InsuredLine("Sampling winch", machine=True),
             InsuredLine("Coolant pump", value_minor=64000, currency="EUR"),
             InsuredLine("Torch", 3, value_minor=90000, currency="DKK")]
    text = text_of(insurance_list_pdf(head(), lines))
    assert in_order(text, "Machines", "Harbour set", "Sampling winch", "Spares", "Coolant pump")
    assert "KR2-1203 May 2019 4 200.00 EUR 12" in text
    assert "Sampling winch 1 - not known not known" in text
    assert "Sum: 900.00 DKK" in text and "Sum: 4 840.00 EUR" in text
    assert "Lines without a known value: 1" in text


def test_the_lay_up_list_goes_forward_in_autumn_and_backward_in_spring():
    autumn = text_of(lay_up_list_pdf(head(), POINTS))
    spring = text_of(lay_up_list_pdf(head(), POINTS, spring=True))
    assert in_order(autumn, "Sea chest cock", "Exchanger plug", "Keel cooler")
    assert in_order(spring, "Keel cooler", "Exchanger plug", "Sea chest cock")
    assert autumn.count("probed, seen to run") == 2  # what is treated is not drained
    assert spring.count("plug in, seal renewed") == 3
    for text in (autumn, spring):
        assert closing_sentence() in text
        assert in_order(text, "Caution, sea-cock", "Caution, acid", "Sea chest cock")


def test_the_handover_book_says_what_nobody_knows():
    book = Book(
        (BookMachine("ENG", "Main engine", "K6-162", "KR6-40817", "engine room", "1912.4",
                     ("hot", "rotating"),
                     (BookService("Change oil", "150 h or 12 months", "2026-09-18", "1790.0",
                                  "coming"),
                      BookService("Renew belt", "600 h or 24 months"))),
         BookMachine("WIN", "Sampling winch")),
        stranded=(StrandedLine("Diaphragm for D12", "Marrowby MB D12-D", 3, ("L13",), "SAN-02"),),
        lockers=((LockerName("L05", "Under floor plate 3", "V922"), "not under way"),),
        drain_points=POINTS, unknowns=("WIN: plate missing",),
    )
    text = text_of(handover_book_pdf(head("Handover book"), book))
    assert in_order(text, "Caution, rotating", closing_sentence(), "Machines", "ENG Main engine",
                    "WIN Sampling winch", "What nobody knows", "ENG: Renew belt: history unknown",
                    "WIN: plate missing", "Stranded", "Diaphragm for D12", "Lockers", "V922",
                    "not under way", "Drain points", "Sea chest cock", "Keel cooler")
    assert "18 Sep 2026 at 1790.0 h coming" in text
    assert "Renew belt 600 h or 24 months History unknown" in text
    assert "Model not known · serial not known" in text


def test_an_empty_vessel_still_gives_papers():
    assert "Nothing." in text_of(handover_book_pdf(head(), Book(())))
    assert "None recorded." in text_of(insurance_list_pdf(head(), []))
    assert "No drain points are recorded." in text_of(lay_up_list_pdf(head(), []))
