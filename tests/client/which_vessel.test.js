// Each page speaks of one vessel: the one chosen on it, whatever other tabs and late answers say.
import assert from "node:assert/strict";
import test, { beforeEach } from "node:test";

const kept = new Map([["spares.vessel", '"AAA"']]);
globalThis.localStorage = { getItem: (key) => kept.get(key) ?? null, setItem: (key, text) => kept.set(key, text),
  removeItem: (key) => kept.delete(key) };
const asked = [];
globalThis.fetch = (url) => new Promise((resolve) => {
  asked.push({ url, answer: () => resolve({ ok: true, status: 200, json: async () => ({ url }) }) });
});

const { apiUrl, getJson, keepAnswersOn } = await import("../../static/api.js");
const { setVessel, vessel } = await import("../../static/state.js");
const { draftName, useDraft } = await import("../../static/load.js");
const { mend } = await import("../../static/pieces/bars.js");
const { h, render } = await import("../../static/vendor/preact.js");
const { effect } = await import("../../static/vendor/signals.js");

const given = [];
keepAnswersOn({ isOpen: () => vessel.value === "AAA", ready: async () => {}, find: async () => null,
  given: async (path, answer) => { given.push([path, answer.url]); return answer; } });

beforeEach(() => {
  setVessel("AAA");
  asked.length = 0;
  given.length = 0;
});

test("what is asked for when another vessel is chosen is asked of that one", () => {
  const stop = effect(() => { if (vessel.value) getJson("summary"); });
  setVessel("BBB");
  stop();
  assert.deepEqual(asked.map(({ url }) => url), ["/api/summary?vessel=AAA", "/api/summary?vessel=BBB"]);
});

test("a late answer of another vessel is not kept as this one's", async () => {
  setVessel("BBB");
  const late = getJson("machines");
  setVessel("AAA");
  const own = getJson("machines");
  for (const one of asked) one.answer();
  await Promise.all([late, own]);
  assert.deepEqual(given, [["machines", "/api/machines?vessel=AAA"]]);
});

test("a vessel that is chosen in another tab changes nothing here", async () => {
  kept.set("spares.vessel", '"BBB"');
  assert.equal(apiUrl("lockers"), "/api/lockers?vessel=AAA");
  const here = getJson("lockers");
  asked[0].answer();
  await here;
  assert.deepEqual(given, [["lockers", "/api/lockers?vessel=AAA"]]);
});

/** Give what a form's fields hold, as a page shows it. */
function drafted(key, set) {
  let draft;
  const Form = () => {
    draft = useDraft(key, { quantity: "1" });
    return null;
  };
  render(h(Form), { childNodes: [], firstChild: null });
  if (set) draft.set(set);
  return draft.values;
}

test("what is half typed aboard one vessel is not in the form of another with the same numbers", () => {
  drafted("move.put.P1", { quantity: "7" });
  setVessel("BBB");
  assert.deepEqual(drafted("move.put.P1"), { quantity: "1" });
  setVessel("AAA");
  assert.deepEqual(drafted("move.put.P1"), { quantity: "7" });
});

test("a refused request is mended aboard the vessel that it was asked of", () => {
  globalThis.location = {};
  mend({ change_id: "c1", vessel: "BBB", mend: { draft: "trip.x", values: { name: "Out" }, to: ["restock", "T1", "edit"] } });
  assert.equal(vessel.value, "BBB");
  assert.equal(kept.get(`spares.${draftName("trip.x")}`), '{"name":"Out"}');
  assert.equal(globalThis.location.hash, "#/restock/T1/edit");
});
