// A form that is pressed again while it is under way records once; a movement that is made twice counts twice.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const sent = [];
let answer;
globalThis.fetch = async (url, { body } = {}) => {
  const path = String(url).replace(/^\/api\//, "");
  if (!body) throw new TypeError("network");
  sent.push([path, JSON.parse(body)]);
  await new Promise((resolve) => { answer = resolve; });
  return { ok: true, json: async () => ({ change: sent.at(-1)[1].change_id, text: "done" }) };
};
const soon = () => new Promise((resolve) => { setTimeout(resolve, 160); });     // it is painted first
async function answered() {
  const give = answer;
  give();
  await soon();
}

const { record } = await import("../../static/outbox.js");
const { FirstRun } = await import("../../static/pieces/first-run.js");
const { DoneForm } = await import("../../static/pieces/done-form.js");
const { keep } = await import("../../static/phone-store.js");
const { RUN, SAY } = await import("../../static/words.js");

test("pressed twice is pressed once; after the answer it may be pressed again", async () => {
  const press = () => record("do/give-back", { loan: "n", quantity: 1 }, "Gave 1 back", { form: true });
  const both = [press(), press()];
  await soon();
  assert.equal(sent.length, 1);
  await answered();
  assert.equal(sent.length, 1);
  assert.deepEqual((await Promise.all(both)).map(({ state }) => state), ["recorded", "recorded"]);
  press();
  await soon();
  assert.equal(sent.length, 2);
  await answered();
});

test("two pieces taken one after the other are two", async () => {
  sent.length = 0;
  const took = () => record("do/took", { part: "P1", locker: "L1", quantity: 1 }, "Took 1");
  took();
  took();
  await soon();
  await answered();
  await answered();
  assert.equal(new Set(sent.map(([, { change_id: id }]) => id)).size, 2);
});

test("a first run that is pressed twice is one run", async () => {
  sent.length = 0;
  const card = { machine: "HBR", name: "Harbour set", minutes: [0], readings: [], leaks: ["Pump"], cautions: [], last: null };
  const page = await show(FirstRun, { card });
  page.type("run-leaks", "none");
  await drawn();
  page.press(RUN.record);
  await soon();
  page.press(RUN.record);
  await soon();
  await answered();
  assert.equal(sent.filter(([path]) => path === "do/test-run").length, 1);
  page.end();
});

test("work that is done is not recorded again while its test run is", async () => {
  sent.length = 0;
  const card = { machine: "HBR", test_run: { minutes: [0], readings: ["oil bar"] } };
  const read = globalThis.fetch;
  globalThis.fetch = async (url, more) => (String(url).includes("services/S22/card") ? { ok: true, json: async () => card } : read(url, more));
  keep("draft.card.S22", { ticked: [], run: { "0 oil bar": "4.5" }, waste: "", leaks: "", accepted_by: "" });
  const page = await show(DoneForm, { service: { no: "S22", what: "Oil", machine: "HBR", kit: [] } });
  page.submit();
  await soon();
  await answered();               // the work is recorded, its test run is under way
  if (!page.find(SAY.recording)) page.submit();
  await soon();
  await answered();
  await answered();
  assert.deepEqual(sent.map(([path]) => path), ["do/done", "do/test-run"]);
  page.end();
});
