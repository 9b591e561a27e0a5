"""The import table holds, and its checker sees a planted fault."""

from __future__ import annotations

import pytest

from tests.structure.layers import (
    MAY_IMPORT,
    TOP,
    layer_faults,
    modules,
    worldly_calls,
)


@pytest.mark.parametrize("module", sorted(modules()))
def test_module_imports_only_what_the_table_allows(module):
    path = modules()[module]
    source = path.read_text(encoding="utf-8")
    assert layer_faults(source, module, path.name == "__init__.py") == []
    assert worldly_calls(source, module) == []


def test_every_folder_and_module_has_its_row_in_the_table():
    assert {module.split(".")[0] for module in modules()} <= set(MAY_IMPORT)


def test_the_table_names_only_what_exists():
    there = {path.stem for path in (TOP / "spares").iterdir()}
    assert set(MAY_IMPORT) <= there


@pytest.mark.parametrize(("module", "line"), [
    ("errors", "from spares.source import Source"),
    ("units", "from spares import standards"),
    ("config", "from spares.domain import codes"),
    ("domain.stock", "import flask"),
    ("domain.stock", "import numpy"),
    ("domain.stock", "from ..db import tables"),
    ("domain.fit.verdict", "from ...db.engine import transaction"),
    ("domain.stock", "import time"),
    ("domain.stock", "def f():\n    import spares.sync.stamp"),
    ("sync.stamp", "from spares.units import metres"),
    ("sync.stamp", "import random"),
    ("db.parts", "from spares.units import metres"),
    ("db.parts", "from spares.config import today"),
    ("paper.labels", "from spares.db import tables"),
    ("actions.move", "from spares.web import create_app"),
    ("actions.move", "import sqlmodel"),
    ("actions.move", "import marshmallow"),
    ("transfer.book", "import reportlab.pdfgen"),
    ("web.parts", "from spares.db.tables import Part"),
    ("web.parts", "from spares.sync import stamp"),
    ("web.parts", "import sqlalchemy as sa"),
    ("web.parts", "import qrcode"),
    ("cli.find", "from flask import Flask"),
    ("cli.find", "from spares.paper import labels"),
    ("__main__", "import platformdirs"),
    ("selftest", "from spares.config import today"),
])
def test_checker_sees_a_forbidden_import(module, line):
    assert layer_faults(line, module) != []


@pytest.mark.parametrize(("module", "line"), [
    ("domain.stock", "from spares.domain.codes import check_letter"),
    ("domain.stock", "from .codes import check_letter"),
    ("domain.fit.verdict", "from ...errors import OutOfRange"),
    ("domain.stock", "from datetime import date"),
    ("sync.change", "import rfc8785"),
    ("actions.compute", "from marshmallow import ValidationError"),
    ("actions.move", "from spares.db import engine, tables"),
    ("web.parts", "from spares.db.engine import transaction"),
    ("web.parts", "from spares.db import engine"),
    ("cli.serve", "from spares.web import create_app"),
    ("cli.serve", "from spares import __version__"),
])
def test_checker_lets_an_allowed_import_pass(module, line):
    assert layer_faults(line, module) == []


def test_a_package_climbs_from_itself():
    assert layer_faults("from .verdict import Verdict", "domain.fit", is_package=True) == []
    assert layer_faults("from ...db import x", "domain.fit", is_package=True) != []


@pytest.mark.parametrize("call", ["date.today()", "datetime.now(UTC)", "uuid4()", "os.urandom(8)"])
def test_checker_sees_a_computation_that_asks_the_world(call):
    assert worldly_calls(f"x = {call}", "domain.due") != []
    assert worldly_calls(f"x = {call}", "cli.due") == []
