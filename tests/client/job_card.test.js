// The job card on the phone: what it holds goes into the record of the work.
import assert from "node:assert/strict";
import test from "node:test";
import { noteOfCard } from "../../static/pieces/job-card.js";

test("what the job card holds goes into the record of the work: waste and test run", () => {
  const card = { test_run: { minutes: [0, 5], readings: ["oil bar", "leaks"], limits: "", stop: "" } };
  const kept = { ticked: [], waste: " 8 L, harbour tank ", run: { "0 oil bar": "4,5", "5 oil bar": "4", "5 leaks": " none " } };
  assert.equal(noteOfCard(card, kept),
    "Waste: 8 L, harbour tank. Test run: Minute 0: oil bar 4,5; Minute 5: oil bar 4, leaks none");
  assert.equal(noteOfCard(card, { ...kept, run: {}, waste: "" }), "");
  assert.equal(noteOfCard(null, null), "");
});
