// Text of an earlier visit is said to be one wherever it stands: a count of last week would pass for one of today.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const loans = { lent: [], borrowed: [{ loan: "n1", quantity: 3, back: 0, part: "P034", name: "Filter", who: "HRE", on: "2027-03-01" }] };
const line = { part: "P034", name: "Filter", unit: "pcs" };
const ANSWERS = { loans, counts: { lockers: [{ locker: "L17", name: "Forepeak", lines: [line] }] }, "lockers/L17": { lines: [{ no: "P034", quantity: 2 }] },
  "services/S1/card": { service: "S1", what: "Filter", machine: null, cautions: [], kit: [], steps: ["do it"], shut_off: [], after: [], lessons: [] },
  plan: { decks: [], lockers: [], lines: [] }, "parts/P1": { no: "P1", where: [] }, "points/G1": { no: "G1", fitted: null } };
globalThis.fetch = async (url) => {
  const found = ANSWERS[String(url).replace("/api/", "").split("?")[0]];
  if (!found) throw new TypeError("network");
  return { ok: true, json: async () => found };
};

const { keep, forget } = await import("../../static/phone-store.js");
const { draftName } = await import("../../static/load.js");
const { parseRoute } = await import("../../static/routes.js");
const { route } = await import("../../static/state.js");
const { SAY } = await import("../../static/words.js");
const from = async (path, name) => (await import(`../../static/${path}.js`))[name];

const CARD = { machine: "HBR", name: "Harbour set", minutes: [0], readings: [], leaks: [], cautions: [], last: null };
const PLACES = [
  ["views/count-locker", "CountLockerView", "count.L17.P034", { yours: "2" }, {}, "#/aboard/counts/L17"],
  ["views/learn", "LearnView", "lesson.S1", { learner: "Ida" }, {}, "#/work/S1/learn"],
  ["pieces/first-run", "FirstRun", "first-run.HBR", { leaks: "none" }, { card: CARD }],
  ["pieces/left-over", "LeftOver", "left-over.P056", { choice: "sell" }, { part: "P056", left_over: null }],
  ["pieces/burns", "Burns", "burns.m1", { l_per_h: "3" }, { machine: { id: "m1", no: "HBR", burns: null } }],
  ["pieces/exchange", "Exchange", "exchange.G1.P1", { from: "L17" }, { point: "G1", part: "P1", answer: {}, close: () => {} }],
];

for (const [path, name, key, typed, props, hash = "#/find"] of PLACES) {
  test(`${name} says so, and only then`, async () => {
    route.value = parseRoute(hash);
    if (name === "LearnView") keep(draftName("learn.S1"), { at: 99 });
    const said = [];
    for (const has of [false, true]) {
      if (has) keep(draftName(key), typed);
      const page = await show(await from(path, name), props);
      await drawn();
      said.push(page.text().includes(SAY.restored));
      page.end();
    }
    forget(draftName(key));
    assert.deepEqual(said, [false, true]);
  });
}

test("a loan's pieces that are given back too, and starting over is one press", async () => {
  keep(draftName("give-back.n1"), { quantity: "2" });
  const page = await show(await from("views/loans", "LoansView"));
  const { LOANS } = await import("../../static/words.js");
  page.press(LOANS.give_back);
  await drawn();
  assert.ok(page.text().includes(SAY.restored));
  page.press(SAY.start_over);
  await drawn();
  assert.ok(!page.text().includes(SAY.restored));
  assert.equal(page.find((one) => (one.name ?? one.getAttribute("name")) === "quantity").value, "3");
  page.end();
});
