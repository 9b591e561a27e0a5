"""Papers over the API: PDF with its type and name, problems that name the field."""

from __future__ import annotations

import pytest

from tests.paper import reading
from tests.problems import is_problem

GOOD = ("shopping", "shopping.pdf?trip=T1&page=a5", "put-away", "stores.pdf?flag=Denmark&persons=4",
        "insurance", "handover", "index", "lid.pdf?locker=L17", "stranded",
        "card.pdf?service=S22", "lay-up.pdf?spring=true")


@pytest.mark.parametrize("address", GOOD)
def test_a_paper_is_a_pdf_with_a_name(looking, address):
    name, _, query = address.partition(".pdf")
    answer = looking.get(f"/api/papers/{name}.pdf{query}")
    assert answer.status_code == 200, answer.data[:300]
    assert answer.mimetype == "application/pdf"
    assert answer.headers["Content-Disposition"] == f'inline; filename="{name}.pdf"'
    assert all("TANGLOPPE (TGL)" in page for page in reading.texts(answer.data))


def test_each_vessel_prints_her_own(looking):
    pages = reading.texts(looking.get("/api/papers/index.pdf?vessel=HRE").data)
    assert all("HESTEREJE (HRE)" in page for page in pages)


@pytest.mark.parametrize(("query", "prefers", "said"), [
    ("&language=da", "en", "I rum L17 Del Antal Stand Blyant"),
    ("", "da-DK, en;q=0.5", "I rum L17"),
    ("&language=en", "da", "In locker L17 Part Count"), ("", "fi", "In locker L17")])
def test_a_paper_comes_in_the_language_asked_for_else_as_the_browser_prefers(
        looking, query, prefers, said):
    answer = looking.get(f"/api/papers/lid.pdf?locker=L17{query}",
                         headers={"Accept-Language": prefers})
    text = " ".join(reading.texts(answer.data))
    assert all(word in text for word in said.split())
    assert ("Tal som noteret om bord." in text) is said.startswith("I rum")


def test_labels_come_in_the_language_too(looking):
    text = " ".join(reading.texts(looking.get("/api/labels/machines.pdf?language=da").data))
    assert "Serienummer" in text and "Serial" not in text


@pytest.mark.parametrize(("address", "status", "field"), [
    ("papers/index.pdf?language=xx", 422, "#/language"),
    ("papers/anchors.pdf", 404, "#/name"), ("papers/lid.pdf", 422, "#/locker"),
    ("papers/lid.pdf?locker=L99", 404, "#/locker"), ("papers/card.pdf", 422, "#/service"),
    ("papers/card.pdf?service=S99", 404, "#/service"), ("papers/index.pdf?page=a0", 422, "#/page"),
    ("papers/index.pdf?trip=T1", 422, "#/trip"), ("papers/shopping.pdf?trip=T9", 404, "#/trip"),
    ("papers/stores.pdf?persons=-1", 422, "#/persons"), ("papers/index.pdf?x=1", 422, "#/x"),
    ("papers/index.pdf?vessel=XXX", 404, "#/vessel"), ("services/S99/card", 404, "#/service"),
    ("layup?spring=perhaps", 422, "#/spring"), ("papers/..%2F..%2Fx.pdf", 404, None)])
def test_a_paper_that_cannot_be_printed_is_a_problem_that_names_the_field(
        looking, address, status, field):
    is_problem(looking.get(f"/api/{address}"), status, field=field)


def test_a_store_without_a_vessel_prints_nothing(client):
    is_problem(client.get("/api/papers/index.pdf"), 404)
