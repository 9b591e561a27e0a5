"""Every service that can hurt somebody says so: as an answer, on the card and on paper."""

from __future__ import annotations

import io
import re
from typing import Any

import pypdf
import pytest

from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.papers.job_card import job_card
from spares.actions.show import services
from spares.domain.cautions import cautions_for, closing_sentence, hazard_words, known_and_other


def _called(ctx: Context) -> dict[str, set[str]]:
    """Give the texts that each service calls for, read straight from the records."""
    aboard, found = ctx.aboard(), {}
    for one in aboard.all("service"):
        points = [one.point, *(at.point for at in aboard.all("service-at")
                               if at.service == f"service/{one.id}")]
        records = [aboard.get(name) for name in points if name]
        machine = one.machine or next((at.machine for at in records if at), None)
        records += [aboard.get(machine)]
        said = hazard_words(one.cautions) + tuple(
            word for record in records if record for word in hazard_words(record.hazards))
        known, _ = known_and_other(said)
        found[one.no] = {caution.text for caution in cautions_for(known)}
    return found


def _flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def _paper(ctx: Context, no: str) -> str:
    pages = pypdf.PdfReader(io.BytesIO(job_card(ctx, service=no))).pages
    return _flat(" ".join(page.extract_text() for page in pages))


def test_every_hazard_of_service_place_and_machine_is_said_on_answer_card_and_paper(
        demo: Context) -> None:
    called = _called(demo)
    assert sum(map(bool, called.values())) > 30     # nearly everything aboard can hurt somebody
    listed = {one["no"]: one["cautions"] for one in services(demo)["services"]}
    for no, texts in called.items():
        for lines in (listed[no], card(demo, no)["cautions"]):
            assert texts <= {line["text"] for line in lines}, no
            assert lines[-1]["text"] == closing_sentence(), no
            assert all(line["sign"] == "Caution" for line in lines)
        paper = _paper(demo, no)
        assert all(text in paper for text in texts), no
        assert closing_sentence() in paper, no


def test_a_hazard_of_a_place_alone_is_said(own_demo: Context) -> None:
    place = own_demo.aboard().get(own_demo.named("S22", "service", "service")).point
    write_document(own_demo, "point", {"hazards": "acid, enclosed space"}, doc=place)
    texts = {one.text for one in cautions_for(["acid", "enclosed space"])}
    assert texts <= {line["text"] for line in card(own_demo, "S22")["cautions"]}
    assert all(text in _paper(own_demo, "S22") for text in texts)


def test_no_hazard_can_be_taken_off_by_the_service_alone(own_demo: Context) -> None:
    """A service that names none goes by its machine; opening something stays in any case."""
    doc = own_demo.named("S22", "service", "service")
    write_document(own_demo, "service", {"cautions": None}, doc=doc)
    machine = own_demo.aboard().get(own_demo.aboard().get(doc).machine)
    texts = {one.text for one in cautions_for((*hazard_words(machine.hazards), "opening"))}
    assert texts <= {line["text"] for line in card(own_demo, "S22")["cautions"]}
    write_document(own_demo, "machine", {"hazards": None}, doc=f"machine/{machine.id}")
    marks = [line["mark"] for line in card(own_demo, "S22")["cautions"]]
    assert marks == ["stored energy", ""]


@pytest.mark.parametrize("path", ["services", "services/S22/card"])
def test_no_way_of_asking_leaves_the_cautions_out(api: Any, path: str) -> None:
    for query in ("", "?cautions=false", "?quiet=true", "?hide=cautions"):
        status, answer = api("GET", path + query)
        if status != 200:
            assert query and status in (400, 422)
            continue
        found = answer if "cautions" in answer else next(
            one for one in answer["services"] if one["no"] == "S22")
        assert found["cautions"][-1]["text"] == closing_sentence()
        assert len(found["cautions"]) > 3
