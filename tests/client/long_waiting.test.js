// What waits on a phone for days is as easily lost as the phone: that is said on every page.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

globalThis.fetch = async () => { throw new TypeError("network"); };
const { keeper } = await import("../../static/kept/kept.js");
const { KeptBar, sinceOldest } = await import("../../static/pieces/kept-bar.js");
const { KEPT } = await import("../../static/words.js");

const [NOW, DAY] = [1_800_000_000_000, 86_400_000];
const waiting = (days, now = NOW) => ({ id: `c${days}`, as: "waiting", t: now - days * DAY, body: {}, text: { text: "Took 1" } });

test("what waits is told apart from three days on, and again from seven", () => {
  const told = (...days) => sinceOldest(days.map((one) => waiting(one)), NOW);
  assert.deepEqual(told(0, 2.9), { days: 2, how: null });
  assert.deepEqual(told(3, 1), { days: 3, how: "old" });
  assert.deepEqual(told(1, 7), { days: 7, how: "very-old" });
  assert.deepEqual(told(), { days: 0, how: null });
  assert.deepEqual(told(-400), { days: 0, how: null });        // the clock was set back since
  assert.deepEqual(sinceOldest([{ ...waiting(9), as: "held" }], NOW), { days: 0, how: null });
});

test("the bar says it also while the boat's computer answers and takes nothing", async () => {
  for (const [days, said] of [[1, null], [4, KEPT.oldest.old(4)], [8, KEPT.oldest["very-old"](8)]]) {
    keeper.value = { listed: () => [waiting(days, Date.now())], waiting: () => [], isWhole: () => true };
    const page = await show(KeptBar);
    await drawn();
    assert.equal(page.text().includes(said ?? KEPT.waits(1)), said !== null, page.text());
    page.end();
  }
  keeper.value = null;
});
