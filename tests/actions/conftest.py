"""A small vessel of our own: one engine with a pump, four lockers, a few parts."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.context import Context, open_context
from spares.config import read_settings
from spares.db.engine import open_store
from spares.db.find import vessels
from tests.stores import DAY_ZERO, make_demo

TODAY = date(2027, 3, 15)
FILES = {
    "vessel": "mark;name\nTST;TEST HULL\n",
    "machines": "no;name;counter;counter_of;hazards\nENG;Engine;own;;rotating, hot\n"
                "GBX;Gearbox;of;ENG;\nWIN;Winch;none;;\n",
    "lockers": "no;name;code;aboard;reachable\nL01;Port shelf;NNH9;yes;yes\n"
               "L02;Bilge box;EPXR;yes;no\nL03;Shed;F3JE;no;no\n",
    "parts": "no;name;maker;number;kind\nP01;Old pump;Quillsund;QS 1;pump\n"
             "P02;New pump;Quillsund;QS 2;pump\n"
             "P03;Impeller for old pump;Quillsund;QS 1-I;impeller\n"
             "P04;Impeller for new pump;Quillsund;QS 2-I;impeller\n"
             "P05;Filter;Fennholt;FH 5;filter\n"
             "P06;Filter of another make;Pellwick;PW 5;filter\n",
    "points": "no;name;machine;parent;as_part;template;kind\nENG-01;sea-water pump;ENG;;;;pump\n"
              "ENG-02;filter;ENG;;;;filter\n"
              "ENG-03;impeller;ENG;ENG-01;P01;P01.1;impeller\n",
    "inner_points": "no;part;name;kind\nP01.1;P01;impeller;impeller\nP02.1;P02;impeller;impeller\n",
    "links": "part;to;role;proof\nP01;ENG-01;takes;fitted-before\nP02;ENG-01;takes;makers-list\n"
             "P03;P01.1;takes;makers-list\nP04;P02.1;takes;makers-list\nP05;ENG-02;takes;makers-list\n"
             "P06;ENG-02;takes;hearsay\n",
    "fitted": "point;part;since\nENG-01;P01;2020\nENG-02;P05;2026-05-01\nENG-03;P03;2026-05-01\n",
    "stock": "part;locker;quantity;condition;expires\nP03;L01;3;new;2030-06-30\n"
             "P03;L01;1;used-good;\nP03;L01;2;new;2028-06-30\nP02;L02;1;new;\nP05;L01;4;new;\n"
             "P04;L03;2;new;\n",
    "services": "no;what;machine;point;every_h;every_months\nS01;change filter;ENG;ENG-02;250;12\n",
    "kits": "service;part;quantity;set_aside\nS01;P05;1;yes\n",
    "readings": "machine;date;hours\nENG;2026-05-01;100\nENG;2026-09-01;200\nENG;2027-03-01;350\n",
    "keep": "part;quantity\nP05;3\n",
}


@pytest.fixture(scope="session")
def file_of_hull(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The store's file with the vessel in it, made once."""
    folder = tmp_path_factory.mktemp("hull")
    (folder / "files").mkdir()
    for name, text in FILES.items():
        (folder / "files" / f"{name}.csv").write_text(text, encoding="utf-8")
    store = open_store(folder / "spares.sqlite")
    bring_in(store, folder / "files")
    store.close()
    return (folder / "spares.sqlite").read_bytes()


@pytest.fixture
def ctx(file_of_hull: bytes, tmp_path: Path) -> Iterator[Context]:
    """The vessel on 2027-03-15, the test's own."""
    path = tmp_path / "own.sqlite"
    path.write_bytes(file_of_hull)
    store = open_store(path)
    with store.reading() as session:

        vessel = vessels(session)[0][0]
    yield Context(store, vessel, TODAY)
    store.close()


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_demo(tmp_path_factory.mktemp("demo"))


@pytest.fixture
def demo(demo_file: Path, tmp_path: Path) -> Iterator[Context]:
    """TANGLOPPE on day zero, the test's own copy."""
    path = shutil.copy(demo_file, tmp_path / "demo.sqlite")
    context = open_context(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}))
    yield context
    context.store.close()
