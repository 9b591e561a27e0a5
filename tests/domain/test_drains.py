"""Drain points: walking order, what counts as done, what is left open; the first-run card."""

from __future__ import annotations

from datetime import date

import pytest

from spares.domain.aboard import RECORDS, Aboard
from spares.domain.drains import drain_points, last_record, left_open, state_of
from spares.domain.first_run import first_run

TODAY = date(2026, 11, 10)


def _vessel(*points, note="Drain points: pump cover; cooler: not drained, tested."):
    machine = RECORDS["machine"]("m", "v", False, no="HBR", name="Set", place="forepeak", note=note)
    other = RECORDS["machine"]("n", "v", False, no="BLG", name="Pump", place="aft",
                               note="Drain point: casing cock.")
    docs = {one.id: one for one in points}
    return Aboard(None, {"machine": {"m": machine, "n": other}, "drain-point": docs})


def _point(ident, name, **more):
    return RECORDS["drain-point"](ident, "v", False, no=ident, name=name, machine="machine/m",
                                  **more)


def _record(turn, on, **more):
    return RECORDS["drain-record"]("r", "v", False, point="drain-point/D1", turn=turn, on=on,
                                   **more)


def test_notes_alone_give_the_points_by_where_the_machines_stand():
    assert [(one.machine.no, one.place, one.treated) for one in drain_points(_vessel())] == [
        ("BLG", "casing cock", False), ("HBR", "pump cover", False), ("HBR", "cooler", True)]


def test_a_point_of_its_own_stands_for_the_notes_and_the_walk_goes_first():
    found = drain_points(_vessel(_point("D2", "Pump cover", walk=2, plug="M8"),
                                 _point("D1", "sea chest", walk=1, cock="shut")))
    assert [(one.no, one.place, one.plug) for one in found] == [
        ("D1", "sea chest", ""), ("D2", "Pump cover", "M8"), ("", "casing cock", ""),
        ("", "cooler", "")]


@pytest.mark.parametrize(("facts", "left", "state"), [
    ({"done": "drained", "seen_to_run": True}, (), "done"),
    ({"done": "drained"}, ("not-seen-to-run",), "doubtful"),
    ({"done": "treated", "protects_to_c": "-25"}, (), "done"),
    ({"done": "treated"}, ("strength-not-tested",), "doubtful"),
    ({"done": "not-done"}, ("not-done",), "open"), ({}, ("not-done",), "open")])
def test_lay_up_is_done_where_it_was_seen_to_run_or_its_strength_tested(facts, left, state):
    record = _record("lay-up", "2026-11-02", **facts)
    assert (left_open(record, "lay-up"), state_of(record, "lay-up")) == (left, state)


@pytest.mark.parametrize(("facts", "left", "state"), [
    ({"plug_in": True, "seal_renewed": True, "no_leak": True}, (), "done"),
    ({"plug_in": True, "no_leak": True}, ("seal-not-renewed",), "doubtful"),
    ({"seal_renewed": True}, ("plug-not-in", "leak-not-looked-for"), "open")])
def test_fitting_out_is_done_with_plug_seal_and_a_look(facts, left, state):
    record = _record("fitting-out", "2027-04-02", **facts)
    assert (left_open(record, "fitting-out"), state_of(record, "fitting-out")) == (left, state)


def test_the_latest_record_holds_and_last_years_does_not():
    autumn, spring = _record("lay-up", "2026-11-02"), _record("fitting-out", "2026-04-10")
    assert last_record([spring, autumn], "lay-up", TODAY) is autumn
    assert last_record([spring, autumn], "fitting-out", TODAY) is None     # laid up since
    assert last_record([autumn], "lay-up", date(2026, 11, 1)) is None       # still to come
    # 2 November + 270 days is 30 July
    assert last_record([autumn], "lay-up", date(2027, 7, 30)) is autumn
    assert last_record([autumn], "lay-up", date(2027, 7, 31)) is None


def test_a_first_run_card_asks_for_what_the_machine_has():
    card = first_run(["fumes", "mains", "sea-cock", "rotating"])
    assert card.minutes == (0, 1, 5, 15, 30)
    assert [unit for _, unit in card.readings] == ["bar", "°C", "yes / no", "V", "Hz", "yes / no"]
    assert card.stop.startswith("Stop at once: no outlet water") and "last" in card.last
    assert [what for what, _ in first_run(["fumes"]).readings] == ["coolant", "leaks, smoke, noise"]
    assert first_run(["fumes"]).last == "" and first_run(["rotating"]) is None
