"""Random but possible histories: devices with wrong clocks, one log, late syncs.

Each device knows its own changes and what it last pulled; a change's stamp is
its true time. What comes out are entries as the log would hold them.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from spares.domain.stock import Entry

EPOCH = "00000000000000e1"
PARTS, LOCKERS, LOTS = ("P1", "P2", "P3"), ("K", "L"), ("", "N")
KINDS = ("took", "put", "landed", "moved", "counted", "counted", "convert", "service", "exchange",
         "void", "settle", "settle", "same")


def stamp_at(minute: float, dev: str, count: int = 0) -> str:
    """Write the stamp of a true time [min]."""
    return f"{round(minute * 60_000):012x}.{count:04x}.{dev}"


def entry(ident: str, dev: str, n: int, kind: str, minute: float, seq: int, seen: int | None,
          **body: Any) -> Entry:
    """Make one entry, stamped at its true time [min]; `g` in the body is its grade."""
    g = body.pop("g", 0)
    return Entry(ident, dev, n, kind, stamp_at(minute, dev), g,
                 None if seen is None else {"epoch": EPOCH, "seq": seen}, {EPOCH: seq}, body)


@st.composite
def _body(draw: st.DrawFn, kind: str, ids: list[str], counts: list[str]) -> dict[str, Any]:
    part = st.sampled_from(PARTS)
    line = {"part": draw(part), "locker": draw(st.sampled_from(LOCKERS)),
            "lot": draw(st.sampled_from(LOTS)), "q": draw(st.integers(1, 9)) * 1000}
    if kind == "moved":
        return {"part": line["part"], "from": "K", "to": "L", "lot": line["lot"], "q": line["q"]}
    if kind == "convert":
        return {"out": [line], "in": [{**line, "part": draw(part), "q": 3000}]}
    if kind == "service":
        return {"lines": [line, {**line, "part": draw(part)}]}
    if kind == "exchange":
        return {"point": "F", "part": line["part"], "from": line["locker"], "lot": line["lot"],
                "old_part": draw(part), "old_to": draw(st.sampled_from(["L", "landed"])),
                "date": "2027"}
    if kind == "void":
        return {"of": draw(st.sampled_from(ids))}
    if kind == "settle":
        return {"of": draw(st.sampled_from(ids)), "count": draw(st.sampled_from(counts or ids)),
                "side": draw(st.sampled_from(["before", "after"]))}
    if kind == "same":
        keep, drop = draw(st.permutations(PARTS))[:2]
        return {"keep": keep, "drop": drop}
    return line


@st.composite
def histories(draw: st.DrawFn, most: int = 25, kinds: tuple[str, ...] = KINDS,
              least: int = 1) -> list[Entry]:
    """Draw a history of *least* to *most* changes by three devices."""
    made: list[dict[str, Any]] = []
    waiting: dict[str, list[int]] = {"A": [], "B": [], "C": []}
    pulled = dict.fromkeys(waiting, 0)
    numbers = dict.fromkeys(waiting, 0)
    in_log, minute = 0, 0.0
    for step in range(draw(st.integers(least, most))):
        minute += draw(st.sampled_from([0.5, 4, 14, 16, 300]))
        dev = draw(st.sampled_from("ABC"))
        if draw(st.booleans()):
            for place in waiting[dev]:
                in_log += 1
                made[place]["pos"] = {EPOCH: in_log}
            waiting[dev], pulled[dev] = [], in_log
        ids = [change["id"] for change in made]
        possible = [kind for kind in kinds if ids or kind not in ("void", "settle")]
        kind = draw(st.sampled_from(possible))
        counts = [change["id"] for change in made if change["kind"] == "counted"]
        numbers[dev] += 1
        waiting[dev].append(len(made))
        made.append({
            "id": f"x{step}", "dev": dev, "n": numbers[dev], "kind": kind,
            "at": stamp_at(minute, dev), "g": int(draw(st.integers(0, 9)) == 0),
            "seen": {"epoch": EPOCH, "seq": pulled[dev]},
            "body": draw(_body(kind, ids, counts))})
    for places in waiting.values():
        for place in places:
            in_log += 1
            made[place]["pos"] = {EPOCH: in_log}
    return [Entry(**change) for change in made]
