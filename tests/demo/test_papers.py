"""The papers of the demo vessel, read back from the PDF by an independent reader.

What they must say was taken by hand from the tables in `seed/tangloppe`.
"""

from __future__ import annotations

import re

import pytest

from spares.actions.card import card
from spares.actions.documents import write_document
from spares.actions.lay_up import lay_up
from spares.actions.lent import lent
from spares.actions.papers.paper import PAPERS, paper
from spares.domain.cautions import closing_sentence
from spares.errors import InvalidInput, NotFound
from tests.paper import reading

TAKES = {"lid": {"locker": "L17"}, "card": {"service": "S22"}, "measuring": {"point": "ENG-04"},
         "trail": {"machine": "HBR"}}


def text_of(ctx, name, **asked):
    return " ".join(reading.texts(paper(ctx, name, **{**TAKES.get(name, {}), **asked})))


def in_order(text, *said):
    places = [text.index(words) for words in said]
    return places == sorted(places)


@pytest.mark.parametrize("name", PAPERS)
def test_every_page_carries_the_vessel_the_day_and_whose_figures_they_are(demo, name):
    for page in reading.texts(paper(demo, name, **TAKES.get(name, {}))):
        assert "TANGLOPPE (TGL)" in page
        assert re.search(r"As of 15 Mar 2027, \d\d:\d\d", page)
        assert "Figures as recorded aboard." in page


@pytest.mark.parametrize(("page", "size_mm"), [("a4", (210, 297)), ("a5", (148, 210)),
                                               ("letter", (215.9, 279.4))])
@pytest.mark.parametrize("name", PAPERS)
def test_every_paper_comes_in_every_size(demo, name, page, size_mm):
    sizes = reading.sizes_mm(paper(demo, name, page, **TAKES.get(name, {})))
    assert all(size == pytest.approx(size_mm, abs=0.01) for size in sizes)


def test_the_shopping_list_goes_by_seller_with_the_day_to_order_and_no_locker(demo):
    text = text_of(demo, "shopping", trip="T1")
    assert in_order(text, "For T1 Skagerrak round, 3 May 2027 to 5 Jul 2027", "Fennholt",
                    "P017 Tall brass nut M10", "Krustrand", "P014 Injector nozzle", "Too late",
                    "Lyskaer", "P112 Parachute rocket, red", "Ostrel", "P021 Shaft seal")
    assert "shaft diameter 70 mm (2.756 in)" in text        # 70 / 25.4 = 2.7559
    assert not re.search(r"\bL\d\d\b", text)
    assert text == text_of(demo, "shopping")                # T1 is the next trip


def test_the_shopping_list_says_what_was_tried_and_never_fitted(own_demo):
    belt = own_demo.named("P010", "part", "part")           # the right belt for ENG-06
    write_document(own_demo, "keep", {"part": belt, "q": 9000})
    text = text_of(own_demo, "shopping")
    assert "Never: Kallbrook KB A1130 (tried, no: 10 mm too long.)" in text


@pytest.mark.parametrize(("name", "said"), [
    ("shopping", ("Til T1 Skagerrak round, 3. maj 2027 til 5. jul 2027.", "(2,756 tommer)",
                  "For sent", "Bestil inden")),
    ("card", ("Hvorfor nu: skal ikke gøres endnu, først 15. jun 2027 eller 3200 h på tælleren.",
              "Luk først", "fra 2 til 5,5")),
    ("handover", ("3,5 bar den 12. mar 2027", "Historie ukendt", "S17 renew valve plates: historie "
                  "ukendt, tæller som noget, der skal gøres", "Hvad ingen ved")),
    ("trip", ("Driftstimer", "sagt for hele turen", "Denne tur er planlagt uden svigt"))])
def test_a_paper_in_danish_has_danish_words_and_leaves_what_people_wrote(demo, name, said):
    text = text_of(demo, name, language="da")
    assert all(words in text for words in said)
    assert not re.search(r"\b(history|Page|due|aboard|Local|Caution|recorded)\b", text)


def test_put_away_names_the_locker_of_its_like_and_says_where_there_is_none(demo):
    text = text_of(demo, "put-away")
    assert in_order(text, "L03 (F3JE)", "P061", "L07 (R24E)", "P017", "L16 (VD4C)", "P112",
                    "? no place recorded: choose one", "P058")


def test_the_stores_list_counts_what_is_aboard_and_names_no_price(own_demo):
    part = own_demo.named("P110", "part", "part")
    write_document(own_demo, "part", {"use": "dutiable"}, doc=part)
    lent(own_demo, "P111", "L23", "Tora", 3)
    text = text_of(own_demo, "stores", flag="Denmark", persons=4)
    assert in_order(text, "Flag: Denmark", "Persons aboard: 4", "Zinc pencil", "Dutiable goods",
                    "AA cell, Lyskaer LK AA 16 L23", "signature")
    assert "Ring terminals M8, mixed, Lyskaer LK RT8 not counted L10" in text
    assert "Hand torch" not in text                         # lent, so not aboard
    assert "EUR" not in text


def test_the_insurance_list_values_only_what_is_new_and_in_date(demo):
    text = text_of(demo, "insurance")
    assert "HBR Harbour set, diesel, 9 kW 230 V, Krustrand K2-9 1 KR2-1203" in text
    assert "P001 Lube oil filter, spin-on, Krustrand KR 40-118 2 - not known 37.00 EUR" in text
    assert re.search(r"P007 Coolant pump, complete, Krustrand KR 52-007, used, good 1 - "
                     r"not known not known", text)
    assert re.search(r"P117 Eye-wash 500 ml, Lyskaer LK EW, out of date 1 - not known not known",
                     text)
    assert "P119 Pump without plate, second-hand, suspect, ashore: L25" in text
    # all counts of stock.csv at list price, added up by hand apart from the program
    assert "used, suspect and out of date: 4 287.70 EUR" in text


def test_the_index_finds_every_part_also_those_of_which_there_is_none(demo):
    text = text_of(demo, "index")
    assert {f"(P{i:03})" for i in range(1, 121)} <= set(re.findall(r"\(P\d{3}\)", text))
    assert "Impeller, neoprene, 6 vanes (P037) Quillsund QS I-40 L03 (F3JE): 1 L17 (EMJR): 1" \
        in text
    assert "Hose element for H18 (P058) Quillsund QS H18-E none aboard" in text


def test_the_lid_says_what_lies_in_the_locker(demo):
    text = text_of(demo, "lid", locker="emjr")
    for said in ("EMJR", "P034 Lube oil filter", "P035", "P037", "P041", "P042"):
        assert said in text
    assert "P001" not in text


def test_the_stranded_list_says_what_it_belonged_to(demo):
    text = text_of(demo, "stranded")
    for said in ("P056 Diaphragm for D12", "L13 (WFPJ)", "SAN-02", "P054 Discharge pump",
                 "taken out on 12 Sep 2025"):
        assert said in text


def test_the_handover_book_says_what_nobody_knows(demo):
    text = text_of(demo, "handover")
    assert in_order(text, closing_sentence(), "Machines", "ENG Main engine", "S01 change oil",
                    "What nobody knows", "ENG: S04 renew belt: history unknown",
                    "WIN: no serial recorded", "P120", "Stranded", "Lockers", "V922",
                    "not under way", "Drain points", "Sea chest cock")
    assert "S06 renew thermostat 48 months 10 Apr 2024" in text
    assert "coolant: 84 °C on 14 Mar 2027; climbs" in text
    # what lies where on that day, as in stock.csv
    assert "Impeller, neoprene, 6 vanes (P037) Quillsund QS I-40 L03 (F3JE): 1 L17 (EMJR): 1" \
        in text
    assert "Ring terminals M8, mixed (P108) Lyskaer LK RT8 L10 (Y9RT): not counted" in text


def test_the_lay_up_list_has_all_drain_points_and_is_turned_round_in_spring(demo):
    points = {one["point"] for one in lay_up(demo)["points"] if one["how"] is None}
    assert points == {"sea chest cock", "exchanger lower plug", "pump cover", "water lock",
                      "casing cock", "fire main, fore end", "pump and hot coil",
                      "discharge low bend", "receiver condensate cock"}
    keel = next(one for one in lay_up(demo)["points"] if one["point"] == "keel cooler")
    assert (keel["treated"], keel["how"]) == (True, "not drained, strength tested")
    autumn, spring = lay_up(demo), lay_up(demo, spring=True)
    assert spring["points"] == autumn["points"][::-1]
    assert {one["machine"] for one in autumn["says_nothing"]} == {"WIN", "GBX", "HYD", "HTR"}
    text = text_of(demo, "lay-up", spring=True)
    assert in_order(text, closing_sentence(), "Casing cock", "Water lock", "Sea chest cock",
                    "GBX Reversing gearbox", "P073 Frost fluid")
    # what the work touches beside water: the air receiver, the waste tank, the fuel
    for turn in (text, text_of(demo, "lay-up")):
        assert all(f"Caution, {mark}:" in turn for mark in (
            "sea-cock", "acid, chemicals", "refrigerant, high-pressure air", "waste gas", "mains"))


# (service, hazards that must be said in words, what is missing: need and usable by part)
CARDS = [("S07", ("stored energy", "hot, pressure", "fuel, petrol"), {"P014": (6, 2)}),
         ("S08", ("stored energy", "hot, pressure", "fumes"), {"P017": (12, 10)}),
         ("S22", ("stored energy", "rotating", "sea-cock"), {}),
         ("S11", ("stored energy", "rotating"), {"P021": (1, 0)})]


@pytest.mark.parametrize(("service", "marks", "missing"), CARDS)
def test_the_job_card_has_its_cautions_and_what_is_missing(demo, service, marks, missing):
    found = card(demo, service)
    assert [one["mark"] for one in found["cautions"]] == [*marks, *found["machine_hazards"], ""]
    assert found["cautions"][-1]["text"] == closing_sentence()
    assert found["missing"] == list(missing)
    short = {line["part"]: (line["needed"], line["usable"]) for line in found["kit"]
             if line["short"]}
    assert short == missing
    text = text_of(demo, "card", service=service)
    said = [f"Caution, {mark}:" for mark in marks]
    assert in_order(text, "Why now", *said, closing_sentence(), "Shut off first", "Kit")
    for need, usable in missing.values():
        assert f"{need} MISSING: {usable} aboard" in text


def test_the_kit_comes_in_walking_order_with_lockers_and_what_does_not_count(demo):
    kit = card(demo, "S20")["kit"]
    assert [(line["part"], line["take"][0]["locker"]) for line in kit] == [
        ("P067", "L06"), ("P034", "L17")]
    assert card(demo, "S11")["kit"][0]["remarks"] == ["1 in L03: out of date since 2026-05-31"]
    text = text_of(demo, "card", service="S07")
    assert "L14 (AK32) Hold, bottom chest: slow movers (not under way)" in text


def test_a_kit_that_lies_in_two_lockers_says_how_many_from_each(own_demo):
    service, part = own_demo.named("S22", "s", "service"), own_demo.named("P037", "p", "part")
    line = next(one for one in own_demo.aboard().kits_of[service] if one.part == part)
    write_document(own_demo, "kit-line", {"q": 2000}, doc=f"kit-line/{line.id}")
    take = {one["part"]: one["take"] for one in card(own_demo, "S22")["kit"]}["P037"]
    assert [(place["locker"], place["quantity"]) for place in take] == [("L03", 1), ("L17", 1)]
    text = text_of(own_demo, "card", service="S22")
    assert in_order(text, "P037", "L03 (F3JE)", "1 from L17 (EMJR)")


def test_a_service_without_cautions_takes_those_of_its_machine(own_demo):
    service = own_demo.named("S22", "s", "service")
    write_document(own_demo, "service", {"cautions": None}, doc=service)
    assert {one["mark"] for one in card(own_demo, "S22")["cautions"]} >= {
        "stored energy", "rotating", "hot, pressure", "fumes", "mains", "sea-cock"}
    assert "Caution, mains:" in text_of(own_demo, "card")


def test_the_measuring_sheet_asks_in_the_order_that_rules_out_with_words_and_drawings(demo):
    text = text_of(demo, "measuring")
    assert in_order(text, "ENG Main engine · ENG-04 coolant pump", "Fitted now: P007",
                    "Caution, rotating:", closing_sentence(), "First part: maker, number",
                    "Pilot (spigot) diameter", "61.95 mm to 62.0 mm", "Bolt circle",
                    "edge to edge of two neighbouring holes", "Tool: calipers. Drawing B.",
                    "92.0 mm ± 0.3", "Bolt or stud thread", "Drawing C.",
                    "seen from shaft or cover", "Outlet port", "Measured by:", "How it is measured",
                    "B: Bolt circle from the spacing of two holes",
                    "D = s / sin(180°/n)",      # read from within the drawing
                    "bolt circle D is s divided by the sine")
    assert text.count("D = s / sin") == 1


def test_the_measuring_sheet_of_a_seat_asks_for_what_the_part_has(own_demo):
    seat = own_demo.named("HBR-05", "point", "point")
    write_document(own_demo, "point", {"kind": "pump-seal"}, doc=seat)
    write_document(own_demo, "requirement", {
        "subject": seat, "attribute": "seat_depth", "claim": {"value": "8", "unit": "mm"}})
    assert "Depth of the seat: width of the part" in text_of(own_demo, "measuring", point="HBR-05")


def test_a_hazard_that_has_no_caution_is_printed_all_the_same(own_demo):
    service = own_demo.named("S22", "s", "service")
    write_document(own_demo, "service", {"cautions": "sea-cock, angry swan"}, doc=service)
    assert card(own_demo, "S22")["hazards_without_words"] == ["angry swan"]
    text = text_of(own_demo, "card")
    assert "Caution, sea-cock:" in text and "angry swan" in text


@pytest.mark.parametrize(("name", "asked", "field"), [
    ("lid", {}, "#/locker"), ("measuring", {}, "#/point"), ("card", {}, "#/service"),
    ("index", {"trip": "T1"}, "#/trip"),
    ("shopping", {"locker": "L17"}, "#/locker"), ("index", {"page": "b4"}, "#/page")])
def test_a_paper_that_cannot_be_printed_names_the_field(demo, name, asked, field):
    with pytest.raises(InvalidInput) as told:
        paper(demo, name, **asked)
    assert told.value.facts["errors"][0]["pointer"] == field


def test_a_paper_that_is_not_there_is_told_with_those_that_are(demo):
    with pytest.raises(NotFound) as told:
        paper(demo, "anchors")
    assert told.value.facts["known"] == list(PAPERS)


def test_the_oil_change_has_its_test_run_overleaf_in_one_piece(demo):
    front, back = reading.texts(paper(demo, "card", service="S20"))
    assert "Before it runs again" in front and "Test run" not in front
    assert in_order(back, "Test run", "Caution, stop values: Stop at",
                    "oil from 2 to 5.5 bar (Krustrand K2-9 book, page 31)",
                    "Minute 0 1 5 15 30", "oil bar", "coolant °C", "outlet water yes or no",
                    "Hz", "leaks", "Waste", "Pieces accounted for")
    assert "Test run after it" not in front + back      # its note says the same


def test_a_trail_to_fill_in_has_the_places_of_the_machines_own_note(demo):
    text = text_of(demo, "trail", machine="HBR")
    assert in_order(text, "DO NOT RUN: HBR", "What is missing:", "Caution, pieces:",
                    closing_sentence(), "Shut off first", "oil cooler inlet",
                    "heat exchanger inlet cap HBR-06", "zinc HBR-07", "injection elbow",
                    "water lock", "all pieces found", "accepted with pieces missing", "Skipper:")
    assert "strainer" not in text                   # it lies before the pump
    with pytest.raises(InvalidInput):
        paper(demo, "trail")
