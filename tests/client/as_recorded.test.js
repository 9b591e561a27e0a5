// What was half typed last week does not write back over what somebody corrected since: a torque, a limit.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const answers = {};
const sent = [];
globalThis.fetch = async (url, { body } = {}) => {
  const path = String(url).replace("/api/", "").split("?")[0];
  if (body) { sent.push([path, JSON.parse(body)]); return { ok: true, json: async () => ({ change: "c", text: "" }) }; }
  if (!answers[path]) throw new TypeError("network");
  return { ok: true, json: async () => answers[path] };
};

const { revision, route } = await import("../../static/state.js");
const { parseRoute } = await import("../../static/routes.js");
const { JointEditView } = await import("../../static/views/joint-edit.js");
const { GaugeLimitsView } = await import("../../static/views/gauge-limits.js");

const { SAY } = await import("../../static/words.js");
const { TrailClose } = await import("../../static/pieces/trail-close.js");
const { TrailOrder } = await import("../../static/pieces/trail-order.js");
const { onNow } = await import("../../static/pieces/trip-read.js");
const { TripEditView } = await import("../../static/views/trip-edit.js");

const SAID_BEFORE = new RegExp(SAY.restored.slice(0, 20));
const without = ({ change_id: id, ...body }) => body;

async function correct(page, path, answer) {
  answers[path] = answer;
  revision.value += 1;
  await drawn();
  page.submit();
  await new Promise((resolve) => { setTimeout(resolve, 160); });
  page.end();
}

test("a note that is typed leaves the torque as somebody corrected it meanwhile", async () => {
  const joint = { id: "j", joint: "J1", name: "Head", pieces_text: "gasket", pattern: "cross", passes: [50, 100], fasteners: 8, rows: null,
    torque: { kind: "book", text: "45 N·m", page: "31" }, note: "" };
  answers.joints = { joints: [joint] };
  route.value = parseRoute("#/work/joint/J1/edit");
  const page = await show(JointEditView);
  await drawn();
  page.type("note", "oil the threads");
  await drawn();
  await correct(page, "joints", { joints: [{ ...joint, torque: { ...joint.torque, text: "25 N·m" } }] });
  assert.deepEqual(sent.at(-1)[1].fields, { note: "oil the threads" });
});

test("a source that is typed leaves the limits as somebody corrected them meanwhile", async () => {
  const gauge = { gauge: "G1", machine: "HBR", name: "coolant", unit: "°C", low: null, high: 95.5, source: "book", by: "Ole", place: "", cleaned_by: null };
  answers["machines/HBR"] = { no: "HBR", name: "Harbour set", gauges: [gauge] };
  answers.services = { services: [] };
  route.value = parseRoute("#/aboard/machines/HBR/limits?name=coolant");
  const page = await show(GaugeLimitsView);
  await drawn();
  page.type("source", "book, page 31");
  await drawn();
  await correct(page, "machines/HBR", { no: "HBR", name: "Harbour set", gauges: [{ ...gauge, high: 88 }] });
  const { change_id: id, ...body } = sent.at(-1)[1];
  assert.deepEqual(body, { machine: "HBR", name: "coolant", source: "book, page 31" });
});

test("of a trip goes back what was typed last week, nothing that somebody changed since", async () => {
  const trip = { id: "t1", no: "T1", name: "North", departs_on: "2027-05-03", returns_on: "2027-05-10", hours: { HBR: 20, ENG: 30 },
    limits: { cost: 100, mass_kg: 40 }, fuel: { tank_l: 600 }, crew: 2, stops: [] };
  Object.assign(answers, { "trips/T1": trip, machines: { machines: [{ no: "HBR", name: "Set", counter: "own" }, { no: "ENG", name: "Engine", counter: "own" }] } });
  route.value = parseRoute("#/restock/T1/edit");
  const page = await show(TripEditView);
  await drawn();
  page.type("hours-HBR", "25");
  await drawn();
  page.end();
  // the next week the form is opened again; somebody else has put five things right
  answers["trips/T1"] = { ...trip, name: "North, later", departs_on: "2027-05-04", hours: { HBR: 20, ENG: 33 },
    limits: { cost: 250, mass_kg: 40 }, fuel: { tank_l: 800 } };
  revision.value += 1;
  const later = await show(TripEditView);
  await drawn();
  assert.match(later.text(), SAID_BEFORE);
  const fields = Object.fromEntries(["name", "hours-HBR", "hours-ENG"].map((name) => [name, later.find((one) => one.name === name
    || one.getAttribute("name") === name).value]));
  assert.deepEqual(fields, { name: "North, later", "hours-HBR": "25", "hours-ENG": "33" });
  later.submit();
  await new Promise((resolve) => { setTimeout(resolve, 160); });
  later.end();
  assert.deepEqual([sent.at(-1)[0], without(sent.at(-1)[1])], ["trips/T1", { hours: { HBR: 25 } }]);
});

test("of a place and of the number of a trail too, and it is said that the text is of an earlier visit", async () => {
  const place = { place: "p1", number: 1, name: "oil cooler", opens: "hose", seal: "" };
  const trail = { no: "HBR-T1", state: "found", missing: 2, of_pieces: 6, places: [place] };
  const first = await show(TrailOrder, { trail });
  first.press("Change");
  await drawn();
  first.type("place-opens", "hose clamp");
  await drawn();
  first.end();
  const now = { ...trail, of_pieces: 8, places: [{ ...place, name: "oil cooler, lower end", seal: "P040" }] };
  const later = await show(TrailOrder, { trail: now });
  later.press("Change");
  await drawn();
  assert.match(later.text(), SAID_BEFORE);
  later.submit();
  await new Promise((resolve) => { setTimeout(resolve, 160); });
  later.end();
  assert.deepEqual(without(sent.at(-1)[1]), { trail: "HBR-T1", place: "p1", opens: "hose clamp" });
  const count = await show(TrailClose, { trail });
  count.type("count-missing", "3");
  await drawn();
  count.end();
  const again = await show(TrailClose, { trail: now });
  assert.match(again.text(), SAID_BEFORE);
  again.submit();
  await new Promise((resolve) => { setTimeout(resolve, 160); });
  again.end();
  assert.deepEqual(without(sent.at(-1)[1]), { trail: "HBR-T1", missing: 3, of_pieces: 8 });
});

test("of a group of fields each follows by itself, a list as a whole", () => {
  const base = { limits: { cost: "100", mass_kg: "40" }, legs: [{ hours: "3" }], name: "North" };
  const now = { limits: { cost: "250", mass_kg: "40" }, legs: [{ hours: "4" }], name: "North" };
  assert.deepEqual(onNow({ limits: { cost: "100", mass_kg: "35" }, legs: base.legs, name: "South" }, base, now),
    { limits: { cost: "250", mass_kg: "35" }, legs: now.legs, name: "South" });
});
