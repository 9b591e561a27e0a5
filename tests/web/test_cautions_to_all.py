"""Cautions reach every role, in the same words."""

from __future__ import annotations

import io
import re

import pypdf
import pytest
from flask import Flask

from spares.actions.devices import ROLES
from spares.domain.cautions import cautions_for, closing_sentence
from spares.domain.draft import setting
from spares.web.store import store_of
from tests.web.crew import NOW, VESSEL, Crew, here

MACHINE, PLACE, SERVICE = (f"{kind}/00000000-0000-4000-8000-0000000000b{n}"
                           for n, kind in enumerate(("machine", "point", "service")))
#: The service names one, its machine and its place one each; opening something always counts.
TEXTS = {one.text for one in cautions_for(["hot", "mains", "acid", "opening"])}


@pytest.fixture(scope="module")
def hazardous(boat: Flask) -> Flask:
    """The small vessel with one service that can hurt in three ways."""
    from spares.db.door import submit
    with store_of(boat).get().writing() as session:
        submit(session, VESSEL, [
            setting(MACHINE, no="GEN", name="Set", counter="own", hazards="mains"),
            setting(PLACE, no="GEN-01", name="cooler", machine=MACHINE, hazards="acid"),
            setting(SERVICE, no="S01", what="clean the cooler", machine=MACHINE, point=PLACE,
                    every_months=12, cautions="hot")], wall_ms=NOW)
    return boat


@pytest.mark.parametrize("role", [*sorted(ROLES), "at the server"])
def test_every_role_is_shown_every_caution_and_who_decides(hazardous: Flask, role: str) -> None:
    client = here(hazardous) if role == "at the server" else Crew(hazardous, role).client
    listed = client.get("/api/services").json["services"][0]["cautions"]
    carded = client.get("/api/services/S01/card").json["cautions"]
    for lines in (listed, carded):
        assert {line["text"] for line in lines} == TEXTS | {closing_sentence()}
        assert lines[-1]["text"] == closing_sentence()
    pdf = client.get("/api/papers/card.pdf?service=S01")
    pages = pypdf.PdfReader(io.BytesIO(pdf.data)).pages
    paper = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))
    assert all(text in paper for text in (*TEXTS, closing_sentence()))
