"""What a fit check of fifteen rows costs beside fifteen bare comparisons, here and on the phone.

The bare loop compares plain numbers with a tolerance, nothing else: no units, no uncertainty,
no reasons, no designations. The ratio says what those cost; both sides run the same request.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

from spares.actions.fit_data import fit_data
from spares.domain.fit import check_fit
from spares.transfer.compute import fit
from tests.bench.conftest import seconds_of

ROUNDS = 200
ROWS = (("pilot_diameter", 62), ("pilot_depth", 5.5), ("bolt_count", 4), ("bolt_circle", 92),
        ("bolt_hole", 10.5), ("flange_thickness", 10), ("shaft_height", 60), ("shaft_diameter", 17),
        ("key_width", 5), ("key_height", 5), ("shaft_projection", 30), ("pulley_line", 48.5),
        ("inlet_barb", 32), ("outlet_barb", 25), ("pulley_diameter", 100))
REQUEST = {"kind": "pump", "place": {"wet": True, "medium": "sea-water"}, "today": "2027-03-15",
           "requires": [{"attr": attr, "value": size, "tol": 0.5} for attr, size in ROWS],
           "offers": {attr: {"value": size + 0.04, "u": 0.05} for attr, size in ROWS}}
SCRIPT = Path(__file__).with_name("fit_check.js")


def _bare() -> list[bool]:
    return [abs(REQUEST["offers"][row["attr"]]["value"] - row["value"]) <= row["tol"]
            for row in REQUEST["requires"]]


def bench_fit(figure):
    loaded = fit.Request().load(REQUEST)
    request = fit.read_request(loaded)
    assert len(check_fit(request).rows) >= len(ROWS)
    whole = seconds_of(lambda: [check_fit(request) for _ in range(ROUNDS)]) / ROUNDS
    bare = seconds_of(lambda: [_bare() for _ in range(ROUNDS)]) / ROUNDS
    read = seconds_of(lambda: [fit.answer(fit.Request().load(REQUEST)) for _ in range(ROUNDS)])
    figure("fit check of 15 rows, beside 15 bare comparisons", whole / bare, "times")
    figure("the same from JSON to JSON", read / ROUNDS / bare, "times")
    figure("fit checks of 15 rows in a second", 1 / whole, "1/s")


def bench_fit_on_phone(figure):
    if shutil.which("node") is None:
        return
    done = subprocess.run(["node", str(SCRIPT)], capture_output=True, text=True, check=True,
                          input=json.dumps({"data": fit_data(), "request": REQUEST}))
    took = json.loads(done.stdout)
    figure("on node: fit check of 15 rows, beside 15 bare comparisons",
           took["whole_s"] / took["bare_s"], "times")
    figure("on node: opening sheets and tables", took["opening_s"], "s")
    figure("on node: fit checks of 15 rows in a second", 1 / took["whole_s"], "1/s")
