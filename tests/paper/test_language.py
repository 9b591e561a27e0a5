"""Every paper comes whole in every language: the same words by key, nothing left in English.

The Danish words were written for this project; those of cautions and codes are the phone's own.
"""

from __future__ import annotations

import ast
import re
import string
import tomllib
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from spares.actions.papers.shopping import _measure
from spares.domain.cautions import NO_WORDS, all_cautions, closing_sentence
from spares.domain.gauges import sentence
from spares.domain.starter_sets import starter_sets
from spares.domain.torque import estimate_torque
from spares.errors import InvalidInput
from spares.paper.drawings import labels, told
from spares.paper.job_card import CardKitLine, JobCard, job_card_pdf
from spares.paper.language import ENGLISH, LANGUAGES, Words, words
from spares.paper.lists import LockerName
from spares.paper.pages import Head
from spares.standards import table
from tests.client.told_words import told_text
from tests.paper import reading

TOP = Path(__file__).resolve().parents[2]
DOMAIN, PAPER = TOP / "spares/domain", TOP / "spares/paper"
PRINTERS = [*PAPER.glob("*.py"), *(TOP / "spares/actions/papers").glob("*.py")]
OTHERS = [one for one in LANGUAGES if one != "en"]
#: Modules that draw and print no words.
WORDLESS = {"qr.py", "qr_screen.py", "drawings.py"}
#: English that nobody reads on paper: fonts, a page, what a PDF calls a thing, the caution of test
#: runs by its hazard, and what a shopping list leaves out of a plan's remarks.
NAMES = {"SparesPlain", "SparesBold", "DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf",
         "Helvetica", "Letter", "Flowable | str | list[Flowable]", '<font name="', "_wrapInfo",
         "stop values", "no failure figure", "^-?[\\d.]+ .*\\bin \\S+ |^not counted"}
DANISH = words("da")


def flat(say: Words) -> dict[str, object]:
    return say._words


def facts(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_has_every_word_of_english_with_the_same_facts(language):
    english, other = flat(ENGLISH), flat(words(language))
    assert list(other) == list(english)
    for key, text in english.items():
        pairs = [(text, other[key])] if isinstance(text, str) else list(
            zip(text, other[key], strict=True))
        for one, twin in pairs:
            assert facts(twin) == facts(one), key
            assert (twin == "") == (one == ""), key


def told_texts() -> Iterator[str]:
    """Give what the tables of the program say on papers."""
    yield from (closing_sentence(), NO_WORDS)
    for one in all_cautions():
        yield from (one.text, one.mark, *one.words, *one.shut_off, *one.after)
    first = tomllib.loads((DOMAIN / "first_run.toml").read_text("utf-8"))
    yield first["last"]
    yield from (line["what"] for line in first["reading"])
    flows = tomllib.loads((DOMAIN / "trail_flows.toml").read_text("utf-8"))
    yield flows["source"]
    for flow in flows["flow"]:
        yield flow["name"]
        yield from (text for place in flow["place"] for text in place.values() if text)
    warnings = tomllib.loads((DOMAIN / "joint_warnings.toml").read_text("utf-8"))["warning"]
    yield from (text for one in warnings for text in (one["mark"], one["text"]))
    yield from (row["remark"] for row in table("torque_factors").records() if row["remark"])
    yield from estimate_torque("M8", "8.8", "dry-steel").remarks
    for one in starter_sets():
        yield from (one.name, one.note, *(point.name for point in one.points),
                    *(work.what for work in one.services))
    for path in (DOMAIN / "fit/kinds").glob("*.toml"):
        kind = tomllib.loads(path.read_text("utf-8"))
        yield kind["label"]
        for line in kind["attributes"].values():
            yield from filter(None, map(line.get, ("label", "measure", "why", "caution")))
    for change in tomllib.loads((DOMAIN / "fit/changes.toml").read_text("utf-8")).values():
        yield from (change["name"], change["conditions"])
    for path in (TOP / "static/drawings").glob("*.svg"):
        svg = path.read_text("utf-8")
        yield from (*told(svg), *labels(svg))


@pytest.mark.parametrize("language", OTHERS)
def test_what_the_tables_say_has_its_twin_and_sentences_their_facts(language):
    said = {section: twins for name in ("tables", "kinds") for section, twins in tomllib.loads(
        (PAPER / f"words/{language}-{name}.toml").read_text("utf-8")).items()}
    sentences = said.pop("sentences")
    twins = {text for section in said.values() for text in section}
    assert not {text for text in told_texts() if text not in twins}
    assert all(facts(twin) == facts(one) for one, twin in sentences.items())
    assert all(twin for section in said.values() for twin in section.values())


def english_in(path: Path) -> Iterator[str]:
    """Give the texts of a module that read as English and are no docstring, no error, no key."""
    tree = ast.parse(path.read_text("utf-8"))
    passed: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
        if isinstance(node, ast.Raise):
            passed |= {id(one) for one in ast.walk(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) \
                and id(node) not in passed and node.value not in NAMES \
                and re.search(r"[A-Z][a-z]{2}|[a-z]{2,} [a-z]|[a-z]{2,}:|: [a-z]{2}", node.value):
            yield node.value


def test_no_printer_holds_english_of_its_own():
    found = {f"{path.name}: {text!r}" for path in PRINTERS if path.name not in WORDLESS
             for text in english_in(path)}
    assert not found
    assert list(english_in(Path(__file__)))     # it does see what it looks for


def test_every_word_is_asked_for_and_every_asked_word_is_there():
    code = "\n".join(path.read_text("utf-8") for path in PRINTERS)
    asked = set(re.findall(r'say(?:\.listed|\.some)?\(\s*["\']([a-z_]+\.[a-z_]+)["\']', code))
    keys = {key.removesuffix(".one").removesuffix(".many") for key in flat(ENGLISH)}
    assert asked <= keys | set(flat(ENGLISH))
    built = ("word.", "gauge.", "card.low", "card.high", "measuring.", "number.", "calendar.")
    assert not {key for key in keys if not re.search(rf"[\"']{key}[\"']", code)
                and not key.startswith(built)}


def test_cautions_and_codes_read_on_paper_as_on_the_phone():
    folder = TOP / "static/words/da"
    cautions = re.sub(r'"\s*\+\s*"', "", (folder / "cautions.js").read_text("utf-8"))
    # the rest the phone tells by the papers' own words, see told_words.py
    every = {one.mark: one.text for one in all_cautions()}
    assert all(f'"{DANISH.told(text)}"' in cautions
               for text in (closing_sentence(), every["stored energy"], every["pieces"]))
    for language in OTHERS:
        module = TOP / f"static/words/told/{language}-tables.js"
        assert module.read_text("utf-8") == told_text(language), (
            "words changed: run python3 tests/client/told_words.py --write")
    assert DANISH("caution.lead", mark="x").startswith(
        re.search(r'CAUTION_WORD = "(.+?)"', cautions)[1])
    codes = (folder / "codes.js").read_text("utf-8")
    for kind in ("service", "condition", "proof"):
        for key, word in flat(DANISH).items():
            if key.startswith(f"word.{kind}.") and key != "word.service.history-unknown":
                code = key.split(".")[-1]
                assert re.search(rf'["\s]{code}"?: (?:sign\()?"{re.escape(str(word))}"', codes), key


@pytest.mark.parametrize(("english", "danish"), [
    ("0.5 in L04 usable to 2027-03-20 only", "0,5 i L04 kun brugelig til 20. mar 2027"),
    ("1 in L03: out of date since 2026-05-31", "1 i L03: for gammel siden 31. maj 2026"),
    ("assumed, not known: one failure in 3000.5 h of running, 2 pieces",
     "antaget, ikke kendt: ét svigt på 3000,5 driftstimer, 2 stykker"),
    ("counts 0.5 of KR 10.034 as stand-in", "tæller 0,5 af KR 10.034 som afløser"),
    ("stop Bay 3.5: 2027-03-20 is outside the trip, so not counted; left out",
     "havnen Bay 3.5: 20. mar 2027 ligger uden for turen og er ikke talt med; udeladt"),
    ("Filter 1.5.2 as Ole wrote it", "Filter 1.5.2 as Ole wrote it")])
def test_a_sentence_of_the_program_is_said_in_danish(english, danish):
    assert DANISH.sentence(english) == danish


def test_a_size_has_the_comma_and_a_designation_keeps_its_point():
    assert _measure(DANISH, {"value": "7.5", "unit": "L"}) == "7,5 L"
    # 1.4401 is a number of EN 10088-1, from memory
    assert _measure(DANISH, {"value": "1.4401"}) == "1.4401"


def test_numbers_days_and_money_are_written_as_the_language_does():
    assert [say.quantity("0.5", "L") for say in (ENGLISH, DANISH)] == ["0.5 L", "0,5 L"]
    assert [say.day("2031-10-05") for say in (ENGLISH, DANISH)] == ["5 Oct 2031", "5. okt 2031"]
    assert DANISH.day("2031-05") == "maj 2031"
    assert DANISH.moment(datetime(2027, 3, 15, 18, 5)) == "15. mar 2027, 18:05"
    assert DANISH.money(428770, "EUR") == "4 287,70 EUR"
    with pytest.raises(InvalidInput):
        words("xx")


def test_a_job_card_in_danish_has_its_cautions_and_defers_to_the_licensed_trade():
    card = JobCard("HBR", "", "S24", "x", ("sea-cock", "mains"), kit=(CardKitLine(
        "P040", "KR 10", 2, "0.5", LockerName("L04", "x"), unit="L", short=True),))
    head = Head("TANGLOPPE", "TGL", "x", datetime(2027, 3, 15, 18, 5), say=DANISH)
    text = " ".join(reading.texts(job_card_pdf(head, card)))
    for said in ("Pr. 15. mar 2027, 18:05", "Pas på, søhane:", "Pas på, netspænding:",
                 "hvor der kræves autorisation, overlades det til en autoriseret.", "Luk først",
                 "MANGLER: 0,5 L om bord", "Før den kører igen", "Side 1 af 1"):
        assert said in text
    assert not re.search(r"\b(the|and|before|Caution)\b", text)


def test_a_gauge_says_on_paper_what_it_says_on_the_command_line():
    from spares.actions.papers.gauge_words import gauge_words
    trend = {"code": "climbs", "slope": 0.014, "step": 10, "step_unit": "h", "readings": 6,
             "left": 570.4}
    gauge = {"unit": "°C", "low": None, "high": 92.0, "trend": trend,
             "since": {"what": "cleaned", "on": "2025-06-10"}}
    assert gauge_words(ENGLISH, gauge) == ENGLISH.days(sentence(gauge))
    assert gauge_words(DANISH, gauge) == (
        "stiger 0,14 °C pr. 10 h siden cleaned den 10. jun 2025 (6 aflæsninger); bogen siger højst "
        "92 °C, i dette tempo nået om cirka 570 h")
