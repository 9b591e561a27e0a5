// A page that needs two answers says why it is empty, whichever of them does not come.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const answers = {};
globalThis.fetch = async (url) => {
  const found = answers[String(url).replace("/api/", "").split("?")[0]];
  if (!found) return { ok: false, status: 500, json: async () => ({ type: "https://x/problems/server-fault", detail: "" }) };
  return { ok: true, status: 200, json: async () => found };
};

const { route } = await import("../../static/state.js");
const { parseRoute } = await import("../../static/routes.js");
const { PROBLEM } = await import("../../static/words.js");
const VIEWS = {
  "#/restock/T1/edit": ["trip-edit", "TripEditView", { "trips/T1": { id: "t", no: "T1", name: "Home", departs_on: "2027-05-01", returns_on: "2027-05-09" } }],
  "#/restock/new": ["trip-new", "TripNewView", { machines: { machines: [] } }],
  "#/work/S22": ["service", "ServiceView", { due: { services: [] } }],
  "#/aboard/counts/L17": ["count-locker", "CountLockerView", { "lockers/L17": { lines: [] } }],
};

for (const [address, [file, name, known]] of Object.entries(VIEWS)) {
  test(`${address} is not left blank`, async () => {
    const view = (await import(`../../static/views/${file}.js`))[name];
    for (const path of Object.keys(answers)) delete answers[path];
    Object.assign(answers, known);
    route.value = parseRoute(address);
    const page = await show(view);
    await drawn();
    await drawn();
    assert.ok(page.text().includes(PROBLEM["server-fault"]), page.text());
    page.end();
  });
}
