"""paper, card and layup on the command line: to the screen, to a file, as JSON."""

from __future__ import annotations

import pytest

from spares.domain.cautions import closing_sentence
from tests.cli.conftest import is_error, is_json_error
from tests.paper import reading
from tests.stores import as_before


@pytest.mark.parametrize("words", [
    ("paper", "shopping", "--trip", "T1"), ("paper", "put-away"), ("paper", "insurance"),
    ("paper", "stores", "--flag", "Denmark", "--last-port", "Thisted", "--persons", "4"),
    ("paper", "handover"), ("paper", "index", "--page", "letter"), ("paper", "stranded"),
    ("paper", "lid", "--locker", "L17"), ("paper", "card", "--service", "S22"),
    ("paper", "measuring", "--point", "ENG-04"),
    ("paper", "lay-up", "--spring"), ("card", "S22"), ("layup", "--spring")])
def test_a_paper_is_written_to_the_file_that_is_named(demo, run, tmp_path, words):
    with as_before(demo):
        ran = run(*words, "--out", tmp_path / "a.pdf")
    assert ran.code == 0, ran
    assert all("TANGLOPPE" in page for page in reading.texts((tmp_path / "a.pdf").read_bytes()))
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]


def test_without_a_name_the_file_is_called_after_the_paper(demo, run, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run("paper", "index").code == 0
    assert (tmp_path / "index.pdf").read_bytes().startswith(b"%PDF-")


def test_a_paper_is_printed_in_the_language_asked_for(demo, run, tmp_path):
    out = tmp_path / "a.pdf"
    assert run("layup", "--language", "da", "--out", str(out)).code == 0
    assert "Oplægningsliste" in reading.texts(out.read_bytes())[0]
    is_error(run("paper", "index", "--language", "xx"), "language")


def test_the_card_on_the_screen_opens_with_the_cautions_and_names_what_is_missing(demo, run):
    ran = run("card", "S07")
    assert ran.code == 0
    text = " ".join(ran.out.split())
    order = [text.index(said) for said in (
        "test or renew nozzles", "Caution, stored energy", "Caution, hot, pressure",
        closing_sentence(), "Shut off first", "Kit, in walking order", "P014 Injector nozzle",
        "take 2 from L14 AK32", "MISSING: 4, 2 usable aboard", "Before it runs again")]
    assert order == sorted(order)
    assert max(map(len, ran.out.splitlines())) <= 80


def test_the_lay_up_list_on_the_screen_ends_its_cautions_and_names_every_silent_machine(demo, run):
    ran = run("layup")
    text = " ".join(ran.out.split())
    assert closing_sentence() in text
    assert "sea chest cock (HBR, forepeak machinery box)" in text
    assert "Nothing recorded, so look: WIN" in text


def test_card_and_layup_answer_as_json_what_the_api_answers(demo, run):
    from spares.config import read_settings
    from spares.web.app import create_app

    client = create_app(read_settings()).test_client()
    for words, address in ((("card", "S07"), "services/S07/card"), (("layup",), "layup")):
        assert run(*words, "--json").answer == client.get(f"/api/{address}").get_json()


@pytest.mark.parametrize(("words", "named"), [
    (("paper",), "name"), (("paper", "anchors"), "name:"), (("paper", "lid"), "locker:"),
    (("paper", "index", "--trip", "T1"), "trip:"), (("paper", "index", "--page", "a0"), "page:"),
    (("paper", "shopping", "--trip", "T9"), "trip:"), (("paper", "stores", "--persons", "x"), "x"),
    (("paper", "index", "--out", "/nowhere/at/all.pdf"), "out:"), (("card",), "service"),
    (("card", "S99"), "service:"), (("card", "P034"), "service:")])
def test_a_paper_that_cannot_be_printed_leaves_no_file(demo, run, tmp_path, monkeypatch, words,
                                                       named):
    monkeypatch.chdir(tmp_path)
    is_error(run(*words), named)
    assert list(tmp_path.iterdir()) == []


def test_with_json_an_unknown_service_is_one_problem_object(demo, run):
    is_json_error(run("card", "S99", "--json"), field="#/service")


def test_walk_round_shows_what_is_open_and_of_one_machine_all(run, demo):
    run("found", "plate", "WIN", "told", "no plate", "--by", "the owner before")
    ran = run("walk-round")
    assert ran.code == 0 and "S04 history, renew belt, not known: look at it first" in ran.out
    assert "ENG counter" not in ran.out
    ran = run("walk-round", "WIN")
    assert "told: no plate (the owner before)" in ran.out
    assert run("walk-round", "WIN", "--json").answer["machines"][0]["machine"] == "WIN"
