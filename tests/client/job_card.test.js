// The job card on the phone: what it holds goes into the record of the work.
import assert from "node:assert/strict";
import test from "node:test";
import { readDone } from "../../static/pieces/done-form.js";
import { noteOfCard } from "../../static/pieces/job-card.js";
import { screensOf } from "../../static/views/learn.js";
import { DEFERRAL } from "../../static/words.js";

test("what the job card holds goes into the record of the work: waste and test run", () => {
  const card = { test_run: { minutes: [0, 5], readings: ["oil bar", "leaks"], limits: "", stop: "" } };
  const kept = { ticked: [], waste: " 8 L, harbour tank ", run: { "0 oil bar": "4,5", "5 oil bar": "4", "5 leaks": " none " } };
  assert.equal(noteOfCard(card, kept),
    "Waste: 8 L, harbour tank. Test run: Minute 0: oil bar 4,5; Minute 5: oil bar 4, leaks none");
  assert.equal(noteOfCard(card, { ...kept, run: {}, waste: "" }), "");
  assert.equal(noteOfCard(null, null), "");
});

test("who looks at a job to learn it is shown every caution, and at their end who decides", () => {
  const card = { what: "change oil", shut_off: ["Cooled"], kit: [], steps: [], after: [],
    cautions: [{ mark: "hot, pressure", text: "Let it cool." }, { mark: "", text: DEFERRAL }] };
  const shown = screensOf(card).filter((one) => one.picture === "triangle");
  assert.deepEqual(shown.map((one) => one.text), ["Let it cool.", DEFERRAL]);
  assert.ok(shown.every((one) => one.kind === "off" && one.title));
});

test("who did the work and how that is known goes with it", () => {
  const values = { at: { day: "15", month: "3", year: "2027" }, hours: "", kit: false, by: " Fjord yard ", proof: "yard", note: "" };
  assert.deepEqual(readDone("S22", values).body, { service: "S22", at: "2027-03-15", kit: false, by: "Fjord yard", proof: "yard" });
});
