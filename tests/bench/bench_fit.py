"""What a fit check of fifteen rows costs beside fifteen bare comparisons, here and on the phone.

A check: the fit point and each part have been read before, as where all parts aboard are held
against one point; it ends with the verdict, and its rows are put into words only for whoever
looks at them (that is a figure of its own, and so is reading a part). Every part has other sizes,
so no answer can be one that was remembered.

The bare loop holds the same sizes, limits and uncertainties, in the same whole numbers, against
each other: fifteen times `within` (two comparisons with the tolerance, less and more the
uncertainty), kept in a list. No attributes, no place, no severity, no verdict; the ratio says
what those cost. In the phone's language whole numbers without limit are slow themselves, so there
a loop over its plain numbers is a figure too.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

from playwright.sync_api import sync_playwright

from spares.actions.fit_data import fit_data
from spares.domain.fit import check, prepare_part, prepare_point, sheet
from spares.domain.fit.limits import within
from spares.transfer.compute import fit, fit_shape
from tests.bench.conftest import seconds_of

PARTS = 200
TIMES = 25      # by turns, so that whatever else runs here slows both sides of a ratio
ROWS = (("pilot_diameter", 62), ("pilot_depth", 5.5), ("bolt_count", 4), ("bolt_circle", 92),
        ("bolt_hole", 10.5), ("flange_thickness", 10), ("shaft_height", 60), ("shaft_diameter", 17),
        ("key_width", 5), ("key_height", 5), ("shaft_projection", 30), ("pulley_line", 48.5),
        ("inlet_barb", 32), ("outlet_barb", 25), ("pulley_diameter", 100))
POINT = {"kind": "pump", "place": {"wet": True, "medium": "sea-water"}, "today": "2027-03-15",
         "requires": [{"attr": attr, "value": size, "tol": 0.5} for attr, size in ROWS]}
OFFERS = [{attr: {"value": round(size + 0.04 + n / 1000, 3), "u": 0.05} for attr, size in ROWS}
          for n in range(PARTS)]
SCRIPT = Path(__file__).resolve().with_name("fit_check.js")
ROOT = SCRIPT.parents[2]


def bench_fit(figure):
    requests = [fit.read_request(fit_shape.Request().load({**POINT, "offers": offers}))
                for offers in OFFERS]
    one, pump = requests[0], sheet("pump")
    point = prepare_point(pump, one.requires, one.place, one.today)
    parts = [prepare_part(pump, request.offers) for request in requests]
    verdicts = [check(point, part) for part in parts]
    assert {verdict.verdict for verdict in verdicts} == {"fits"}
    assert all(len(verdict.rows) >= len(ROWS) for verdict in verdicts)
    sizes = [_sizes(point, part) for part in parts]
    pairs = [(seconds_of(lambda: [check(point, part) for part in parts], times=1),
              seconds_of(lambda: [[within(have - wanted, tol, u) for have, wanted, tol, u in rows]
                                  for rows in sizes], times=1)) for _ in range(TIMES)]
    whole, bare = (min(taken) / PARTS for taken in zip(*pairs, strict=True))
    told = seconds_of(lambda: [check(point, part).as_dict() for part in parts]) / PARTS
    read = seconds_of(lambda: [fit.answer(fit_shape.Request().load({**POINT, "offers": offers}))
                               for offers in OFFERS], times=2) / PARTS
    figure("fit check of 15 rows, beside 15 bare comparisons", whole / bare, "times", limit=10)
    figure("fit checks of 15 rows in a second", 1 / whole, "1/s")
    figure("the same put into words, row by row", told * 1000, "ms")
    figure("the same from JSON to JSON, nothing read before", read * 1000, "ms")


def _sizes(point, part):
    rows = []
    for line in point.sides[0].lines:
        (have, u), (wanted, own) = part.sides[0].sizes[line.code], line.limits.sizes[0]
        rows.append((have, wanted, line.limits.tol, u + own))
    return rows


def bench_fit_on_phone(figure):
    given = json.dumps({"data": fit_data(), "point": POINT, "offers": OFFERS})
    for where, run in (("node", _on_node), ("Chromium", _in_chromium)):
        took = run(given)
        if took is None:
            continue
        assert took["verdicts"] == ["fits"]
        figure(f"{where}: fit check of 15 rows, beside 15 bare comparisons",
               took["whole_s"] / took["bare_s"], "times")
        figure(f"{where}: the same beside 15 of plain numbers",
               took["whole_s"] / took["numbers_s"], "times")
        figure(f"{where}: fit checks of 15 rows in a second", 1 / took["whole_s"], "1/s")
        figure(f"{where}: the same put into words, row by row", took["told_s"] * 1000, "ms")
        figure(f"{where}: opening sheets and tables", took["opening_s"], "s")


def _on_node(given: str):
    if shutil.which("node") is None:
        return None
    code = (f"import {{ timed }} from {json.dumps(SCRIPT.as_uri())};"
            "import { readFileSync } from 'node:fs';"
            "console.log(JSON.stringify(timed(JSON.parse(readFileSync(0, 'utf8')))));")
    done = subprocess.run(["node", "--input-type=module", "-e", code], capture_output=True,
                          text=True, check=True, input=given)
    return json.loads(done.stdout)


def _in_chromium(given: str):
    if shutil.which("chromium") is None:
        return None
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"),
                                       args=["--no-sandbox"])
        page = browser.new_page()
        page.route("**/*", _from_disk)
        page.goto("http://bench.local/")
        took = page.evaluate("async ([url, given]) => (await import(url)).timed(JSON.parse(given))",
                             [f"/{SCRIPT.relative_to(ROOT)}", given])
        browser.close()
    return took


def _from_disk(route):
    path = ROOT / route.request.url.removeprefix("http://bench.local/")
    if path.is_file():
        route.fulfill(path=path, content_type="text/javascript")
    else:
        route.fulfill(body="<!doctype html>", content_type="text/html")
