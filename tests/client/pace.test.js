/** How much goes at once over a net that carries little. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { makePace } from "../../static/sync/pace.js";

/** Send *pieces* times over a net that carries *most*; gives how many came through. */
function sent(pace, most, pieces) {
  let passed = 0;
  for (let at = 0; at < pieces; at += 1) {
    if (pace.size() <= most) {
      pace.passed();
      passed += 1;
    } else pace.failed();
  }
  return passed;
}

test("a good net is given the most at once", () => {
  const pace = makePace(700_000, 20_000);
  assert.equal(sent(pace, Infinity, 10), 10);
  assert.equal(pace.size(), 700_000);
});

test("over a poor net nearly every piece comes through, and it stays at what is carried", () => {
  const pace = makePace(700_000, 20_000);
  const first = sent(pace, 30_000, 5);      // 700, 350, 175, 87.5 and 43.75 kB do not
  assert.equal(first, 0);
  assert.ok(sent(pace, 30_000, 260) >= 235);
  assert.ok(pace.size() > 15_000);
});

test("when the net is good again it grows to the most", () => {
  const pace = makePace(700_000, 20_000);
  sent(pace, 30_000, 50);
  sent(pace, Infinity, 40);
  assert.equal(pace.size(), 700_000);
});

test("it is never less than the least", () => {
  const pace = makePace(700_000, 20_000);
  sent(pace, 1, 30);
  assert.equal(pace.size(), 20_000);
});
