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

from spares.actions.fit_data import fit_data
from spares.domain.fit import check, prepare_part, prepare_point, sheet
from spares.domain.fit.limits import within
from spares.transfer.compute import fit
from tests.bench.conftest import seconds_of

PARTS = 200
ROWS = (("pilot_diameter", 62), ("pilot_depth", 5.5), ("bolt_count", 4), ("bolt_circle", 92),
        ("bolt_hole", 10.5), ("flange_thickness", 10), ("shaft_height", 60), ("shaft_diameter", 17),
        ("key_width", 5), ("key_height", 5), ("shaft_projection", 30), ("pulley_line", 48.5),
        ("inlet_barb", 32), ("outlet_barb", 25), ("pulley_diameter", 100))
POINT = {"kind": "pump", "place": {"wet": True, "medium": "sea-water"}, "today": "2027-03-15",
         "requires": [{"attr": attr, "value": size, "tol": 0.5} for attr, size in ROWS]}
OFFERS = [{attr: {"value": round(size + 0.04 + n / 1000, 3), "u": 0.05} for attr, size in ROWS}
          for n in range(PARTS)]
SCRIPT = Path(__file__).with_name("fit_check.js")


def bench_fit(figure):
    requests = [fit.read_request(fit.Request().load({**POINT, "offers": offers}))
                for offers in OFFERS]
    one, pump = requests[0], sheet("pump")
    point = prepare_point(pump, one.requires, one.place, one.today)
    parts = [prepare_part(pump, request.offers) for request in requests]
    verdicts = [check(point, part) for part in parts]
    assert {verdict.verdict for verdict in verdicts} == {"fits"}
    assert all(len(verdict.rows) >= len(ROWS) for verdict in verdicts)
    sizes = [_sizes(point, part) for part in parts]
    whole = seconds_of(lambda: [check(point, part) for part in parts]) / PARTS
    bare = seconds_of(lambda: [[within(have - wanted, tol, u) for have, wanted, tol, u in rows]
                               for rows in sizes]) / PARTS
    told = seconds_of(lambda: [check(point, part).as_dict() for part in parts]) / PARTS
    read = seconds_of(lambda: [fit.answer(fit.Request().load({**POINT, "offers": offers}))
                               for offers in OFFERS], times=2) / PARTS
    figure("fit check of 15 rows, beside 15 bare comparisons", whole / bare, "times")
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
    if shutil.which("node") is None:
        return
    done = subprocess.run(["node", str(SCRIPT)], capture_output=True, text=True, check=True,
                          input=json.dumps({"data": fit_data(), "request": {**POINT, "offers": OFFERS[0]}}))
    took = json.loads(done.stdout)
    figure("on node: fit check of 15 rows, beside 15 bare comparisons",
           took["whole_s"] / took["bare_s"], "times")
    figure("on node: opening sheets and tables", took["opening_s"], "s")
    figure("on node: fit checks of 15 rows in a second", 1 / took["whole_s"], "1/s")
