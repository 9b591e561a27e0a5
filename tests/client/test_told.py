"""Has everything that the program says to a phone its Danish twin with the same facts?

What the check of a fit can say is read from its source: every text that is a reason, a measure, a
change or an advice there, each fact in it replaced by a mark that no language touches. What plans,
services and the log say is taken from the demo vessel.
"""

from __future__ import annotations

import ast
import json
import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from spares.actions.changes import changes
from spares.actions.due import due
from spares.actions.trip.restock import restock
from spares.domain.document_kinds import DOCUMENTS
from tests.client.kept_server import Watched

TOP = Path(__file__).resolve().parents[2]
FIT, SYNC = TOP / "spares/domain/fit", TOP / "spares/sync"
#: Modules that read and check, and say nothing but errors.
SILENT = {"own_sheets.py", "sheets.py", "sheet_shape.py", "reading.py", "prepared.py", "limits.py"}
FINDINGS = {"match", "differs", "unknown", "caution", "warn", "but", "_link_row"}
SAYS = ("detail", "barred", "measure", "reason", "required", "offered")
#: Codes of outcomes, and what reads alike in both languages.
CODES = {"match", "stop", "unknown", "⟦0⟧ mm", "⟦0⟧ (π × ⟦1⟧ mm × ⟦2⟧ r/min)",
         "⟦0⟧ (⟦1⟧ mm for ⟦2⟧ mm)", "⟦0⟧: ≥ ⟦1⟧ mm"}
_PULLEY = "pump pulley ⟦0⟧ mm for ⟦1⟧ mm (ratio ⟦2⟧): ⟦3⟧ L/min at ⟦4⟧ r/min"
#: What stands in the source in pieces, as it is said.
WHOLE = {
    " at ⟦0⟧ r/min": ["⟦0⟧ at ⟦1⟧ r/min"], " at ⟦0⟧ bar": ["⟦0⟧ at ⟦1⟧ r/min at ⟦2⟧ bar"],
    "at ⟦0⟧ ⟦1⟧": ["≥ ⟦0⟧ at ⟦1⟧ r/min at ⟦2⟧ bar"],
    "; more joints in a fuel line only as the rules allow": [
        "⟦0⟧ to ⟦1⟧; more joints in a fuel line only as the rules allow"],
    "; the pump's highest speed is not stated": [
        f"{_PULLEY}; the pump's highest speed is not stated"],
    f"{_PULLEY}⟦5⟧": [_PULLEY],
    "; would be a change if it is reversible": [
        "the other way round: ⟦0⟧; would be a change if it is reversible"],
    "the other way round: ⟦0⟧⟦1⟧": ["the other way round: ⟦0⟧"],
    "⟦0⟧ to ⟦1⟧⟦2⟧": ["⟦0⟧ to ⟦1⟧"],
    "at the fit point": ["at the fit point: ⟦0⟧"], "on the part": ["on the part: ⟦0⟧"],
    "it may be one of several threads that look alike: ": [
        "it may be one of several threads that look alike: ⟦0⟧, ⟦1⟧"],
    "⟦0⟧ only": ["⟦0⟧ bears ⟦1⟧ to ⟦2⟧ °C only"],
    "⟦0⟧ tpi": ["⟦0⟧ over the crest, pitch ⟦1⟧ tpi"],
    "⟦0⟧ ⟦1⟧ than asked": ["⟦0⟧ mm more than asked", "under ⟦0⟧ less than asked: ⟦1⟧"],
}
ENGLISH = re.compile(r"\b(the|is|of|and|are|than|which|or|asked|needed|only|more|with)\b")
MARKS = re.compile("⟦.⟧")
ERRORS = {"InvalidInput", "Conflict", "NotFound", "NotAllowed", "AskFirst", "UnknownUnit",
          "Ambiguous", "Refused"}
#: Why a change is refused that no phone of ours makes.
NOT_OURS = {"'bad_shape'", "'bad_value'", "'too_long'", "reason"}
#: What is done at the server's own screen, in its command line and in English.
OFFICE = {"offices.py", "letters.py", "meeting.py", "her_server.py", "across.py", "bring_in.py",
          "compute.py", "backup.py", "read_json.py"}
SAY = """
globalThis.localStorage = { getItem: (key) => (key === "spares.language" ? '"da"' : null) };
const words = await import("./static/words.js");
await words.allTold;
const asked = JSON.parse(await new Response(process.stdin).text());
console.log(JSON.stringify(asked.map(([name, text]) => words[name](text))));
"""
pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")


def in_danish(name: str, texts: list[str]) -> dict[str, str]:
    """Give what a phone that is set to Danish says for each text."""
    done = subprocess.run(["node", "--input-type=module", "-e", SAY], text=True, timeout=60,
                          input=json.dumps([(name, text) for text in texts]),
                          capture_output=True, check=True, cwd=TOP)
    return dict(zip(texts, json.loads(done.stdout), strict=True))


def template(node: ast.AST) -> str | None:
    """Give a text of the source with its facts as marks, or None where the node is none."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        count = iter(range(99))
        return "".join(str(one.value) if isinstance(one, ast.Constant) else f"⟦{next(count)}⟧"
                       for one in node.values)
    return None


def said(path: Path) -> Iterator[str]:
    """Give what a module says: texts in sentences, and the words that a finding is given."""
    tree = ast.parse(path.read_text("utf-8"))
    passed: set[int] = set()
    given: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
        elif isinstance(node, ast.Raise) or isinstance(node, ast.Call) and ast.unparse(
                node.func).endswith(("compile", "table", "InvalidInput.at")):
            passed |= {id(one) for one in ast.walk(node)}
        elif isinstance(node, ast.JoinedStr):
            passed |= {id(one) for one in node.values}
        if isinstance(node, ast.Call) and ast.unparse(node.func).split(".")[-1] in FINDINGS:
            given |= {id(one) for one in (*node.args[:1], *(
                key.value for key in node.keywords if key.arg in SAYS))}
    for node in ast.walk(tree):
        text = template(node)
        if text and id(node) not in passed and (
                re.search(r"[a-z]{2,} [a-z⟦(]|[a-z]{2,}:|⟧ [a-z]|[a-z] ⟦", text)
                or id(node) in given and re.search("[a-z]{3}", text)):
            yield text


def test_every_sentence_of_the_fit_check_is_said_in_danish_with_its_facts() -> None:
    found = {text for path in sorted(FIT.rglob("*.py")) if path.name not in SILENT
             and path.parent.name != "designations" for text in said(path)}
    assert found >= {*WHOLE, *CODES} and len(found) > 200
    texts = sorted({whole for text in found - CODES for whole in WHOLE.get(text, [text])})
    danish = in_danish("toldFit", texts)
    assert not [text for text, twin in danish.items() if twin == text or ENGLISH.search(twin)]
    for text, twin in danish.items():
        assert sorted(MARKS.findall(twin)) == sorted(MARKS.findall(text)), (text, twin)


def raised(path: Path) -> Iterator[str]:
    """Give the details of the errors that a module raises."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call) and node.args:
            name = ast.unparse(node.func)
            at = len(node.args) > 1 and name.endswith(".at")
            if name.split(".")[0] in ERRORS and (text := template(node.args[at])):
                yield text
            elif name == "refuse" and node.args[2:] and ast.unparse(node.args[0]) not in NOT_OURS:
                yield f"type: {template(node.args[2])}"      # after the field that it names


def test_every_refusal_of_an_ordinary_act_is_said_in_danish_with_its_facts() -> None:
    paths = [*(TOP / "spares/actions").glob("*.py"), *(TOP / "spares/actions/trip").glob("*.py"),
             *FIT.rglob("*.py"), TOP / "spares/domain/dates.py", TOP / "spares/domain/slip.py",
             *(SYNC / f"{name}.py" for name in ("handing", "merge", "rights", "taking"))]
    texts = {text for path in paths if path.name not in OFFICE for text in raised(path)}
    texts -= {"⟦0⟧: ⟦1⟧⟦2⟧"}    # puts others together
    danish = in_danish("toldFault", sorted(texts))
    assert len(danish) > 150
    assert not [text for text, twin in danish.items() if twin == text or ENGLISH.search(twin)]
    for text, twin in danish.items():
        assert sorted(MARKS.findall(twin)) == sorted(MARKS.findall(text)), (text, twin)


def test_plans_services_and_log_of_the_demo_vessel_are_said_in_danish(server: Watched) -> None:
    plan = restock(server, "T1")
    lines = [*plan["lines"], *(line for stop in plan["stops"] for line in stop.get("lines", ()))]
    said = {text for line in lines for text in (*line["why"], *line.get("remarks", ()))}
    said |= {*plan["remarks"], *(one["why"] for one in plan["running"])}
    said |= {text for one in plan["services"] for text in one["remarks"]}
    said |= {text for one in due(server)["services"] for text in one["remarks"]}
    english = re.compile(r"\b(has run|since|before leaving|in use|failures?|months|used of|known|"
                         r"nobody|counted|aboard|usual|readings?|asked|keep level|stand-in)\b")
    danish = in_danish("told", sorted(said))
    assert len(danish) > 40
    assert not [text for text, twin in danish.items() if english.search(twin)]
    log = [one["text"] for one in changes(server, 500)["changes"]]
    log += [f"Set {', '.join(sorted(fields))}, gone of {kind} X1"
            for kind, fields in DOCUMENTS.items()]
    danish = in_danish("toldLog", sorted(set(log)))
    assert not [text for text, twin in danish.items() if twin == text or "_" in twin]
