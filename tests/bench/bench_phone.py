"""The phone's page in Chromium: first load, cold start, search, ten thousand changes.

Each figure stands beside the least that any page would have to do for it, taken in the same run
and the same browser, or beside a bare SQLite insert of the same rows.
"""

from __future__ import annotations

import time
from typing import Any

from tests.bench.bench_sync import _bare_insert
from tests.bench.phones import GATHERED, KEEP, PARTS, PATIENCE_S, TYPED, until

CHANGES, AT_ONCE = 10_000, 500
#: One of sixty pictures in a second.
FRAME_MS = 16.7

#: The same rows into a database of their own, a page of a thousand in each durable transaction.
BARE_PUT = """async () => {
  const { openDB, deleteDB } = await import("/vendor/idb.js");
  const { keeper } = await import("/kept/kept.js");
  const rows = keeper.value.aboard().entries();
  const db = await openDB("bare", 1, { upgrade: (made) => made.createObjectStore("rows") });
  const start = performance.now();
  for (let at = 0; at < rows.length; at += 1000) {
    const tx = db.transaction("rows", "readwrite", { durability: "strict" });
    for (const row of rows.slice(at, at + 1000)) tx.store.put(row, row.id);
    await tx.done;
  }
  const seconds = (performance.now() - start) / 1000;
  db.close();
  await deleteDB("bare");
  return seconds;
}"""
#: Seconds of the slowest and the usual key while TYPED is typed, and of a bare look at all names.
KEYS = """async (typed) => {
  const { getJson } = await import("/api.js");
  const { keeper } = await import("/kept/kept.js");
  const ask = (text) => getJson(`find?q=${encodeURIComponent(text)}`);
  await ask("warm");
  const taken = [];
  for (let end = 2; end <= typed.length; end += 1) {
    const start = performance.now();
    await ask(typed.slice(0, end));
    taken.push((performance.now() - start) / 1000);
  }
  taken.sort((one, other) => one - other);
  const names = keeper.value.aboard().all("part").map((part) => part.name.toLowerCase());
  const start = performance.now();
  for (let round = 0; round < 10; round += 1) names.filter((name) => name.includes(typed));
  const bare = (performance.now() - start) / 10_000;
  return [taken.at(-1), taken[Math.floor(taken.length / 2)], bare, names.length];
}"""
RECORD = """async ([count, atOnce]) => {
  const { newId } = await import("/api.js");
  const { keeper } = await import("/kept/kept.js");
  const aboard = keeper.value.aboard();
  const [parts, lockers] = ["part", "locker"].map((kind) => aboard.all(kind).map(({ ref }) => ref));
  const drafts = Array.from({ length: count }, (_, place) => ({ id: newId(), kind: "put", body: {
    part: parts[place % parts.length], locker: lockers[place % lockers.length], lot: "",
    q: 1000 } }));
  const start = performance.now();
  for (let at = 0; at < count; at += atOnce) {
    await keeper.value.record(drafts.slice(at, at + atOnce), {});
  }
  return (performance.now() - start) / 1000;
}"""
KEEPS = "() => import('/kept/kept.js').then(({ keepsHere }) => keepsHere())"
#: Seconds for all files of the page once more, as they come out of the worker's cache.
FILES = """async () => {
  const names = performance.getEntriesByType("resource").map(({ name }) => name)
    .filter((name) => !name.includes("/api/"));
  const start = performance.now();
  await Promise.all(names.map((name) => fetch(name).then((answer) => answer.text())));
  return (performance.now() - start) / 1000;
}"""
MEET = """async () => {
  const { keeper } = await import("/kept/kept.js");
  const start = performance.now();
  await keeper.value.sync();
  return [(performance.now() - start) / 1000, keeper.value.waiting().length];
}"""


def bench_phone_first_load(figure, page):
    taken, rows = page.evaluate(KEEP)
    least = page.evaluate(BARE_PUT)
    figure(f"phone: bare put of {rows} rows into IndexedDB", least, "s")
    figure(f"phone: first load of {PARTS} lines ({rows} rows)", taken, "s")
    figure("phone: first load as a multiple of the bare put", taken / least, "x")


def bench_phone_alone(figure, page, served):
    """Without the server from here on: search, and a cold start on a slow phone."""
    until(page, GATHERED)
    served.stop()
    slowest, usual, least, names = page.evaluate(KEYS, TYPED)
    figure(f"phone: a key of a search in {names} lines, slowest", slowest * 1000, "ms")
    figure(f"phone: a key of a search in {names} lines, usual", usual * 1000, "ms")
    figure(f"phone: a bare look through {names} names", least * 1000, "ms")
    figure("phone: a usual key as a multiple of the bare look", usual / least, "x")
    address = page.url
    slow = page.context.new_page()
    slow.set_default_timeout(PATIENCE_S * 1000)
    session = slow.context.new_cdp_session(slow)
    session.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    start = time.perf_counter()
    slow.goto(address)
    slow.locator("#search").wait_for()
    typed = time.perf_counter() - start
    until(slow, KEEPS, 100)
    whole = time.perf_counter() - start
    files = slow.evaluate(FILES)
    figure("phone: the page's own files from the cache, CPU four times slower", files, "s")
    slowest, usual, least, _ = slow.evaluate(KEYS, TYPED)
    figure("phone: a key of a search, CPU four times slower, slowest", slowest * 1000, "ms")
    figure("phone: a key of a search, CPU four times slower, usual", usual * 1000, "ms",
           limit=FRAME_MS)
    figure("phone: a bare look through the names, CPU four times slower", least * 1000, "ms")
    figure("phone: cold start until it can be typed into, CPU four times slower", typed, "s")
    figure(f"phone: cold start until the copy of {PARTS} lines is open", whole, "s")
    figure("phone: cold start as a multiple of its files", typed / files, "x")


def bench_phone_ten_thousand_changes(figure, small, open_page, tmp_path):
    one, other = open_page(small), open_page(small)
    for phone in (one, other):
        phone.evaluate(KEEP)
    ops = [_row(n) for n in range(1, CHANGES + 1)]
    least = _bare_insert(tmp_path / "bare.sqlite", ops)
    recorded = one.evaluate(RECORD, [CHANGES, AT_ONCE])
    out, left = one.evaluate(MEET)
    came, _ = other.evaluate(MEET)
    assert left == 0
    figure(f"phone: {CHANGES} changes, bare SQLite insert", least, "s")
    figure(f"phone: {CHANGES} changes recorded, {AT_ONCE} at once", recorded, "s")
    figure(f"phone: {CHANGES} changes out, until they are acknowledged", out, "s")
    figure(f"phone: {CHANGES} changes out, against the bare insert", out / least, "x")
    figure(f"phone: {CHANGES} changes in, from another phone", came, "s")
    figure(f"phone: {CHANGES} changes in, against the bare insert", came / least, "x")


def _row(n: int) -> dict[str, Any]:
    return {"n": n, "id": f"00000000-0000-4000-8000-{n:012}", "kind": "put", "v": 1, "t": n,
            "seen": None, "after": "", "body": {
                "part": f"part/00000000-0000-4000-8000-{n:012}",
                "locker": f"locker/00000000-0000-4000-8000-{n:012}", "lot": "", "q": 1000}}
