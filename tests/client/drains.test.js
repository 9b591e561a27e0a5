// Lay-up on the phone: notes read as the boat's computer reads them, what counts as done, what a form gives.
import assert from "node:assert/strict";
import test from "node:test";
import { waterPoints } from "../../static/domain/water_points.js";
import { lastRecord, leftOpen, stateOf } from "../../static/kept/lay-up.js";
import { readDrained, usualOf } from "../../static/pieces/drain-form.js";

test("a note is read as the boat's computer reads it", () => {
  // the examples of spares/domain/lay_up.py
  assert.deepEqual(waterPoints("Old. Drain points: pump cover; keel cooler: not drained. New."),
    [{ place: "pump cover", treated: false, how: "" }, { place: "keel cooler", treated: true, how: "not drained" }]);
  assert.deepEqual(waterPoints("Lay-up: hung upright."), [{ place: "", treated: true, how: "hung upright" }]);
  assert.deepEqual(waterPoints(null), []);
});

test("a hole counts as drained when it was seen to run, and last year's record counts no more", () => {
  const record = { ref: "drain-record/a", turn: "lay-up", on: "2026-11-02", done: "drained" };
  assert.equal(stateOf(leftOpen(record, "lay-up")), "doubtful");
  assert.equal(stateOf(leftOpen({ ...record, seen_to_run: true }, "lay-up")), "done");
  assert.equal(stateOf(leftOpen(null, "lay-up")), "open");
  // 270 days after 2 November 2026 is 30 July 2027
  assert.equal(lastRecord([record], "lay-up", "2027-07-30"), record);
  assert.equal(lastRecord([record], "lay-up", "2027-07-31"), null);
  assert.equal(lastRecord([record], "fitting-out", "2027-03-01"), null);
});

test("a form gives what was typed: a strength below zero, no strength for what was drained", () => {
  const point = { no: "D10", machine: "ENG", named: "keel cooler", treated: true, cock: null };
  const typed = { ...usualOf(point), strength: "−25,5", by: " Anna " };
  assert.deepEqual(readDrained(point, "lay-up", typed),
    { faults: {}, body: { turn: "lay-up", point: "D10", by: "Anna", done: "treated", protects_to_c: "-25,5" } });
  assert.deepEqual(readDrained(point, "lay-up", { ...typed, strength: "cold" }).faults, { strength: "not-a-number" });
  assert.deepEqual(readDrained({ ...point, no: null }, "lay-up", { ...typed, done: "drained", cock: "open" }).body,
    { turn: "lay-up", machine: "ENG", name: "keel cooler", cock: "open", by: "Anna", done: "drained", seen_to_run: false });
  assert.deepEqual(readDrained(point, "fitting-out", { ...typed, plug_in: true }).body,
    { turn: "fitting-out", point: "D10", by: "Anna", plug_in: true, seal_renewed: false, no_leak: false });
});
