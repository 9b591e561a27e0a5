// The shared cases of changes, stamps and the stock fold, which Python runs as well.
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import test from "node:test";
import { fold } from "../../static/domain/stock.js";
import { canonical, contentHash, parseChange } from "../../static/sync/change.js";
import { floorOf, stamp, stampUnsent } from "../../static/sync/stamp.js";

const FOLDER = new URL("../vectors/", import.meta.url);
const SAID = ["id", "kind", "v", "t", "seen", "after", "body"];

const cases = (file) => JSON.parse(readFileSync(new URL(file, FOLDER), "utf8")).cases;
const byCell = (one, other) => (JSON.stringify([one.part, one.locker, one.lot])
  < JSON.stringify([other.part, other.locker, other.lot]) ? -1 : 1);
const counted = (changes) => fold(changes.map((change) => ({ g: 0, ...change }))).sort(byCell);

test("each change has the canonical form and the hash of its case", async () => {
  for (const { name, given, expect } of cases("change/taken.json")) {
    const change = parseChange(given);
    const said = Object.fromEntries(SAID.map((field) => [field, given[field]]));
    assert.equal(canonical(said), expect.canonical, name);
    assert.equal(await contentHash(change), expect.sha256, name);
  }
});

test("each change is refused with the code of its case", () => {
  for (const { name, given, expect } of cases("change/refused.json")) {
    assert.throws(() => parseChange(given), (error) => error.reason === expect.reason, name);
  }
});

test("a stamp is that of its case", () => {
  for (const { name, given, expect } of cases("stamp/stamps.json")) {
    const low = floorOf(given.previous, given.after, given.server_ms);
    const at = stamp(given.server_ms, given.now_ms, given.t_ms, low, given.dev);
    assert.equal(at, expect.at, name);
  }
});

test("what is unsent stands after all that was seen, in the order of its numbers", () => {
  const seen = "01a3185c5000.0000.b0000002";
  const unsent = [{ t: 1_800_000_090_000, after: seen }, { t: 1_700_000_000_000, after: seen }];
  // the phone is 60 s ahead: the tap was at 1 800 000 030 s of the server's time (0x01a3185cc530)
  assert.deepEqual(stampUnsent(unsent, 60_000, "a0000001"),
    ["01a3185cc530.0000.a0000001", "01a3185cc530.0001.a0000001"]);
});

for (const file of readdirSync(new URL("stock/", FOLDER))) {
  test(`the stock of ${file} comes out as worked by hand, in any order`, () => {
    for (const { name, given, expect } of cases(`stock/${file}`)) {
      const wanted = [...expect.on_hand].sort(byCell);
      assert.deepEqual(counted(given.changes), wanted, name);
      assert.deepEqual(counted([...given.changes].reverse().concat(given.changes.slice(0, 2))),
        wanted, name);
    }
  });
}
