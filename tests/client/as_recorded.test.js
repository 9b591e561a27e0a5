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
