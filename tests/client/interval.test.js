// How often a service comes round: what the form sends, and what a full note gives up.
import assert from "node:assert/strict";
import test from "node:test";
import { interval } from "../../static/kept/verbs/interval.js";
import { readInterval } from "../../static/pieces/interval-form.js";

test("an interval sends what was touched, not what the service was meanwhile", () => {
  const now = { service: "S24", every_hours: 300, every_months: 24 };
  assert.deepEqual(readInterval(now, { every_months: "12", because: " weed " }),
    { faults: {}, body: { service: "S24", because: "weed", every_months: 12 } });
  assert.deepEqual(readInterval(now, { every_hours: "", not_wanted: false, because: "x" }).body,
    { service: "S24", because: "x", every_hours: 0 });
  assert.deepEqual(readInterval(now, { every_hours: "-5", every_months: "1,5", because: "" }).faults,
    { every_hours: "too-small", every_months: "not-whole", because: "empty" });
});

/** The note after a change on a phone whose copy holds this service. */
function noteAfter(note, because) {
  const service = { ref: "service/1", every_minutes: 30_000, every_months: 24, note };
  const aboard = { named: () => service, versions: () => new Map() };
  const [draft] = interval({ aboard, body: { service: "S24", because, every_hours: 300 }, id: "1", today: "2027-03-15" });
  return draft.body.f.note;
}

test("a full note gives up its oldest reasons, never a person's own words", () => {
  const said = "2027-03-15: 500 h / 24 mo -> 300 h / 24 mo: weed";
  const own = "2025-06-01: the plug is on port -> mind the wiring";
  const old = ["2026-05-01: 400 h or 24 months -> 500 h or 24 months, x", `2026-06-01: – -> 500 h / 24 mo: ${"y".repeat(3900)}`];
  assert.equal(noteAfter("", "weed"), said);
  assert.equal(noteAfter([own, ...old].join("\n"), "weed"), [own, said].join("\n"));
  assert.throws(() => noteAfter("z".repeat(3990), "weed"), ({ errors: [{ pointer }] }) => pointer === "#/because");
});
