// The sourced cases of the fit check, which the server's own tests run too.

import assert from "node:assert/strict";
import { test } from "node:test";
import { cases, fit } from "./fit_data.js";

for (const { kind, name, given, expect } of cases) {
  test(`${kind}: ${name}`, () => {
    const answer = fit(given);
    assert.equal(answer.verdict, expect.verdict, JSON.stringify(answer.rows, null, 1));
    const outcomes = Object.fromEntries(answer.rows.map((row) => [row.attr, row.outcome]));
    for (const [attr, outcome] of Object.entries(expect.rows ?? {})) {
      assert.equal(outcomes[attr], outcome, attr);
    }
    const advised = answer.advisories.map((one) => one.attr);
    for (const attr of expect.advisories ?? []) assert.ok(advised.includes(attr), attr);
    const changes = answer.changes.map((one) => one.change).sort();
    if (expect.changes) assert.deepEqual(changes, [...expect.changes].sort());
    else if (expect.verdict.startsWith("fits") && expect.verdict !== "fits-with-changes") {
      assert.deepEqual(changes, []);
    }
    if (expect.to_measure) assert.deepEqual(answer.to_measure, expect.to_measure);
    if (expect.detail) {
      assert.ok(answer.changes.some((one) => one.detail.includes(expect.detail)), expect.detail);
    }
  });
}

test("cases were found, each with its source", () => {
  assert.ok(cases.length >= 190);
  assert.ok(cases.every((one) => one.source.trim()));
});
