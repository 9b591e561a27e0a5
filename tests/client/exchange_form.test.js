// An exchange is asked about what is known: nothing is offered before it is known where the new part lies and what comes out.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const answers = {};
globalThis.fetch = async (url) => {
  const path = String(url).replace(/^\/api\//, "").split("?")[0];
  const found = await answers[path];
  if (!found) throw new TypeError("network");
  return { ok: true, json: async () => found };
};
const later = () => { let give; return Object.assign(new Promise((resolve) => { give = resolve; }), { give: (one) => give(one) }); };

const { Exchange } = await import("../../static/pieces/exchange.js");
const { FIT, PROBLEM } = await import("../../static/words.js");

const props = { answer: { part: { no: "P037", name: "Impeller" }, changes: [] }, point: "HBR-04", part: "P037", close: () => {} };
const part = { no: "P037", name: "Impeller", unit: "pcs", where: [{ locker: "L17", name: "Forepeak", quantity: 2, low: 2, high: 2 }] };
const point = { no: "HBR-04", name: "Impeller", fitted: { part: "P036", name: "Old impeller" } };
const named = (name) => (one) => one.name === name || one.getAttribute("name") === name;

test("while the answers are on their way the form waits for them", async () => {
  const [one, other] = [later(), later()];
  Object.assign(answers, { "parts/P037": one, "points/HBR-04": other });
  const page = await show(Exchange, props);
  assert.equal(page.find(FIT.exchange_check), undefined);
  one.give(part);
  other.give(point);
  await drawn();
  await drawn();
  assert.ok(page.find(FIT.exchange_check));
  assert.ok(page.find(named("old")), "what comes out is asked about");
  assert.match(page.find(named("from")).textContent, /L17/);
  page.end();
});

test("where they do not come, that is said beside the form", async () => {
  for (const path of Object.keys(answers)) delete answers[path];
  const page = await show(Exchange, { ...props, point: "HBR-05", part: "P099" });
  await drawn();
  assert.match(page.text(), new RegExp(PROBLEM["no-answer"].slice(0, 12)));
  assert.ok(page.find(FIT.exchange_check));
  page.end();
});
