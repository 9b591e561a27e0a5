"""Rights over the vessels of one store: who has a role aboard one reaches no other, by any way."""

from __future__ import annotations

import io
import json
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select

from spares.actions.backup import backup
from spares.actions.devices import pair
from spares.actions.papers.paper import PAPERS
from spares.config import read_settings
from spares.db.door import submit
from spares.db.dump import logical_dump
from spares.db.find import head_of, vessels
from spares.db.tables import DOCUMENT_TABLES, Device
from spares.domain.draft import setting
from spares.web.app import create_app
from spares.web.store import store_of
from spares.web.who import OPEN
from tests.problems import is_problem
from tests.stores import DAY_ZERO
from tests.web.crew import NOW, SERVED, here, on_net

#: Stands in the name or note of one thing of each sort aboard TGL, and nowhere else.
SECRET = "Dybhavsdragt"
#: What is asked for it: an answer that only says again what was asked has not told it.
ASKED = SECRET[:8]
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
#: Fields of requests by the sort of thing that they name.
NAMING = {"locker": ("locker", "from", "to", "place", "bag"), "machine": ("machine", "other"),
          "point": ("point", "fit_point", "at"), "service": ("service", "job"),
          "trip": ("trip",), "order": ("order",), "trail": ("trail",), "joint": ("joint",)}


@pytest.fixture(scope="module")
def app(demo_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    path = shutil.copy(demo_file, tmp_path_factory.mktemp("fleet") / "spares.sqlite")
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}),
                     net=SERVED)
    yield app
    store_of(app).close()


@pytest.fixture(scope="module")
def ids(app: Flask) -> dict[str, str]:
    with store_of(app).get().reading() as session:
        return {mark: ident for ident, mark in vessels(session)}


def phone(app: Flask, vessel: str, role: str, token: str) -> tuple[FlaskClient, str]:
    """A phone of one vessel's crew, and its number there."""
    dev = pair(store_of(app).get(), vessel, token, name=token, role=role)
    client = on_net(app, "192.168.7.77")
    client.environ_base["HTTP_AUTHORIZATION"] = f"Bearer {token}"
    return client, dev


def state(app: Flask, vessel: str) -> Any:
    """The whole of a vessel: her log, what the tables say, and her devices."""
    with store_of(app).get().reading() as session:
        devices = session.execute(select(Device).where(
            Device.vessel == vessel).order_by(Device.dev)).scalars()
        return (head_of(session, vessel), logical_dump(session, vessel),
                [one.model_dump_json() for one in devices])


def secrets(app: Flask, vessel: str) -> dict[str, tuple[str, str]]:
    """One thing of each sort, by its id and number, that is called as nothing else is."""
    found = {}
    with store_of(app).get().writing() as session:
        for kind in ("part", *NAMING):
            table: Any = DOCUMENT_TABLES[kind]
            rows = session.execute(select(table).where(table.vessel == vessel)).scalars().all()
            if not rows:
                continue
            row = rows[-1]
            doc = f"{kind}/{row.id}"
            field = "name" if hasattr(row, "name") else "note"
            submit(session, vessel, [setting(doc, **{field: f"{SECRET} {kind}"})], wall_ms=NOW)
            found[kind] = (doc, getattr(row, "no", None) or doc)
    return found


def thing(things: dict[str, tuple[str, str]], field: str, which: int) -> str:
    kind = next((kind for kind, names in NAMING.items() if field in names), "part")
    return things.get(kind, things["part"])[which]


def filled(shape: dict[str, Any], shapes: dict[str, Any], name: str, naming: Any) -> Any:
    """A value of this shape whose every text names a thing of hers."""
    shape = shapes[shape["$ref"].rsplit("/", 1)[1]] if "$ref" in shape else shape
    for word in ("allOf", "anyOf", "oneOf"):
        if word in shape:
            return filled(shape[word][0], shapes, name, naming)
    if "enum" in shape:
        return shape["enum"][0]
    kind = shape.get("type", "string")
    kind = kind if isinstance(kind, str) else kind[0]
    if kind == "object":
        return {key: filled(one, shapes, key, naming)
                for key, one in shape.get("properties", {}).items()}
    if kind == "array":
        return [filled(shape.get("items", {}), shapes, name, naming)]
    simple = {"integer": 1, "number": 1, "boolean": True}
    if kind in simple:
        return simple[kind]
    return {"date": "2027-05-01"}.get(shape.get("format", ""), naming(name))


def requests(document: dict[str, Any], naming: Any) -> Iterator[tuple[str, str, Any, Any]]:
    """Every operation of the document: method, address, query and body, all naming her things."""
    shapes = document["components"]["schemas"]
    for path, item in document["paths"].items():
        for method in set(item) & {one.lower() for one in METHODS}:
            named = {one["name"]: (one["in"], filled(one.get("schema", {}), shapes, one["name"],
                                                     naming))
                     for one in (*item.get("parameters", ()), *item[method].get("parameters", ()))}
            address = path
            for name, (where, value) in named.items():
                if where == "path":
                    address = address.replace(f"{{{name}}}", str(value).rpartition("/")[2])
            query = {name: value for name, (where, value) in named.items()
                     if where == "query" and name != "vessel"}
            content = item[method].get("requestBody", {}).get("content", {})
            shape = content.get("application/json", {}).get("schema")
            yield (method.upper(), address, query,
                   filled(shape, shapes, "", naming) if shape else None)


def plain(answer: Any) -> bytes:
    """What an answer says, unpacked: the files of an archive, the words of a paper."""
    if answer.mimetype == "application/zip":
        with zipfile.ZipFile(io.BytesIO(answer.data)) as archive:
            return b"\n".join(archive.read(name) for name in archive.namelist())
    if answer.mimetype == "application/pdf":
        document = pypdfium2.PdfDocument(answer.data)
        return " ".join(page.get_textpage().get_text_range() for page in document).encode()
    return answer.data


@pytest.mark.slow
def test_who_has_a_role_aboard_one_reaches_the_other_by_no_address(
        app: Flask, ids: dict[str, str]) -> None:
    """The skipper of HRE names things of TGL in every address, query and body that there is."""
    hers = secrets(app, ids["TGL"])
    _, dev = phone(app, ids["TGL"], "crew", "a phone of TANGLOPPE's")
    client, _ = phone(app, ids["HRE"], "skipper", "HESTEREJE's skipper")
    document = here(app).get("/api/openapi.json").json
    for address in (f"parts/{hers['part'][1]}", f"find?q={ASKED}", "export/csv",
                    "papers/stores.pdf"):       # it can be told at all
        assert SECRET.encode() in plain(here(app).get(f"/api/{address}"))
    before, asked = state(app, ids["TGL"]), 0
    for which in (0, 1):
        def naming(field: str, which: int = which) -> str:
            known = {"dev": dev, "ident": hers["part"][0].partition("/")[2], "vessel": "TGL",
                     "q": ASKED, "asked": ASKED, "number": ASKED, "sha256": "0" * 64}
            return known.get(field) or thing(hers, field, which)
        for method, address, query, body in requests(document, naming):
            answer = client.open(address, method=method, query_string=query, json=body)
            asked += 1
            told = plain(answer)
            assert SECRET.encode() not in told, (method, address, told[:300])
            assert ids["TGL"].encode() not in told, (method, address)
            refused = client.open(address, method=method, json=body,
                                  query_string={**query, "vessel": "TGL"})
            assert refused.status_code == 403 or address in OPEN, (method, address, refused.data)
    assert asked > 200
    for name in PAPERS:
        kind = {"card": "service", "lid": "locker", "measuring": "point", "trip": "trip"}.get(name)
        answer = client.get(f"/api/papers/{name}.pdf?{f'{kind}={hers[kind][1]}' if kind else ''}")
        assert answer.status_code != 403 and SECRET.encode() not in plain(answer), name
    assert state(app, ids["TGL"]) == before


def test_sync_and_lists_of_several_give_nothing_of_the_other(
        app: Flask, ids: dict[str, str], tmp_path: Path) -> None:
    client, _ = phone(app, ids["HRE"], "skipper", "HESTEREJE's other skipper")
    before = state(app, ids["TGL"])
    body = {"proto": 1, "schema": 1, "vessel": ids["TGL"], "inst": "one", "cursor": None,
            "now": NOW, "off_prev": None, "boot_prev": None, "stepped": False, "last": 0,
            "ops": [], "relay": [], "gone": [], "want": 1000}
    assert is_problem(client.post("/api/sync", json=body), 409)["stop"] == "wrong_boat"
    is_problem(client.post("/api/sync?vessel=TGL", json=body), 403)
    rows = client.post("/api/sync", json={**body, "vessel": ids["HRE"]}).json["changes"]
    assert rows and ids["TGL"] not in json.dumps(rows)
    told = client.get("/api/vessels/part?part=KR%2010-034").json["vessels"]
    assert [one["vessel"] for one in told] == ["HRE"]
    assert "TGL-HRE" in backup(store_of(app).get(), tmp_path)["file"]
    assert client.get("/api/summary").json["backup"]["days_ago"] is not None
    for address in ("vessels", "vessels/out-of-date?until=2040-01-01", "vessels/wanted",
                    "devices/me", "summary"):
        assert b"TGL" not in client.get(f"/api/{address}").data
    assert state(app, ids["TGL"]) == before


def test_a_person_of_an_office_has_a_role_aboard_several_until_each_takes_it_back(
        app: Flask, ids: dict[str, str]) -> None:
    client, dev = phone(app, ids["TGL"], "skipper", "the office's phone")
    at = here(app)
    also = f"/api/devices/{dev}/also?vessel=TGL"
    is_problem(client.get("/api/summary?vessel=HRE"), 403)
    is_problem(client.post(also, json={"vessel": "HRE", "role": "skipper"}), 403)
    is_problem(at.post(also, json={"vessel": "TGL", "role": "crew"}), 422)
    is_problem(at.post(also, json={"vessel": "XXX", "role": "crew"}), 404)
    given = at.post(also, json={"vessel": "HRE", "role": "crew"}).json
    assert given["also"] == [{"vessel": "HRE", "role": "crew"}]
    me = client.get("/api/devices/me").json
    assert me["vessel"]["mark"] == "TGL"
    assert [(one["mark"], one["role"]) for one in me["vessels"]] == [
        ("TGL", "skipper"), ("HRE", "crew")]
    assert len(client.get("/api/vessels").json["vessels"]) == 2
    told = client.get("/api/vessels/part?part=P034").json["vessels"]
    assert [one["vessel"] for one in told] == ["TGL", "HRE"]
    # aboard the other it is crew: it takes, and changes no part, nor the crew
    taking = {"part": "P034", "locker": told[1]["parts"][0]["where"][0]["locker"], "quantity": 1}
    before = state(app, ids["TGL"])
    assert client.post("/api/do/took?vessel=HRE", json=taking).status_code == 200
    is_problem(client.post("/api/documents?vessel=HRE", json={
        "kind": "part", "fields": {"name": "Filter"}}), 403)
    assert state(app, ids["TGL"]) == before
    # each crew sees it in its own list, and what is aboard the other only who is skipper there
    (line,) = [one for one in at.get("/api/devices?vessel=HRE").json["devices"]
               if one["name"] == "the office's phone"]
    assert line["also"] == [{"vessel": "TGL", "role": "skipper"}] and line["dev"] != dev
    other, _ = phone(app, ids["HRE"], "skipper", "a skipper of one")
    (seen,) = [one for one in other.get("/api/devices").json["devices"]
               if one["dev"] == line["dev"]]
    assert seen["also"] == []
    is_problem(other.post(f"/api/devices/{line['dev']}/also",
                          json={"vessel": "TGL", "role": "guest"}), 403)
    # its own vessel stays its own, also when it has left and was taken in again from the other
    at.post(f"/api/devices/{dev}/revoke?vessel=TGL", json={"how": "retired"})
    is_problem(client.get("/api/summary"), 403)
    assert client.get("/api/summary?vessel=HRE").status_code == 200
    at.post(f"/api/devices/{line['dev']}/also?vessel=HRE", json={"vessel": "TGL",
                                                                 "role": "skipper"})
    back = client.get("/api/devices/me").json
    assert (back["vessel"]["mark"], back["role"]) == ("TGL", "skipper") and back["dev"] != dev
    dev, also = back["dev"], f"/api/devices/{back['dev']}/also?vessel=TGL"
    # it goes there, and stays here; comes back with another role; and is lost on both at once
    other.post(f"/api/devices/{line['dev']}/revoke", json={"how": "retired"})
    assert is_problem(client.get("/api/summary?vessel=HRE"), 403)["stop"] == "revoked"
    assert client.get("/api/summary").status_code == 200
    assert [one["vessel"] for one in client.get("/api/vessels/part?part=P034").json["vessels"]
            ] == ["TGL"]
    assert at.post(also, json={"vessel": "HRE", "role": "guest"}).json["also"] == [
        {"vessel": "HRE", "role": "guest"}]
    is_problem(client.post("/api/do/took?vessel=HRE", json=taking), 403)
    (again,) = [one for one in at.get("/api/devices?vessel=HRE").json["devices"]
                if one["name"] == "the office's phone"]
    at.post(f"/api/devices/{again['dev']}/revoke?vessel=HRE", json={"how": "lost"})
    for vessel in ("", "?vessel=TGL", "?vessel=HRE"):
        assert is_problem(client.get(f"/api/summary{vessel}"), 403)["stop"] == "revoked"
    (lost,) = [one for one in at.get("/api/devices?vessel=TGL").json["devices"]
               if one["dev"] == dev]
    assert lost["state"] == "lost"
    is_problem(at.post(also, json={"vessel": "HRE", "role": "crew"}), 409)


def test_one_whose_time_aboard_its_own_vessel_is_over_writes_nothing_aboard_another(
        app: Flask, ids: dict[str, str]) -> None:
    """A guest's week is over; it has a role aboard the other vessel still, and names none."""
    client, dev = phone(app, ids["TGL"], "guest", "a guest who helps the neighbour")
    here(app).post(f"/api/devices/{dev}/also?vessel=TGL", json={"vessel": "HRE", "role": "crew"})
    locker = here(app).get("/api/parts/P035?vessel=HRE").json["where"][0]["locker"]
    taking = {"part": "P035", "locker": locker, "quantity": 1}
    with store_of(app).get().writing() as session:
        session.get_one(Device, (ids["TGL"], dev)).until_ms = 1
    before = state(app, ids["HRE"])
    assert is_problem(client.post("/api/do/took", json=taking), 401)["stop"] == "not_paired"
    is_problem(client.get("/api/devices/me"), 401)
    is_problem(client.get("/api/summary?vessel=TGL"), 401)
    assert state(app, ids["HRE"]) == before
    assert client.post("/api/do/took?vessel=HRE", json=taking).status_code == 200
