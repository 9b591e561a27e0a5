// Figures as a person types and reads them: asked about once, with the decimal mark of the language, one of a thing as one.
import assert from "node:assert/strict";
import test from "node:test";

Object.defineProperty(globalThis, "navigator", { configurable: true, value: { language: "da-DK" } });
const { parseCount } = await import("../../static/numbers.js");
const { asksOf } = await import("../../static/pieces/two-readings.js");
const { againText } = await import("../../static/pieces/tightened.js");
const { atText } = await import("../../static/pieces/gauges.js");
const { ofHundred } = await import("../../static/pictures/protection-curve.js");
const { FILES, MOVING_IN, WAYS, WORK } = await import("../../static/words.js");

test("of pieces, 1.000 is not taken for one: it may be meant as a thousand", () => {
  for (const text of ["1.000", "2,000", "12.000"]) assert.equal(parseCount(text, "pcs").problem, "not-whole", text);
  assert.equal(parseCount("1000", "pcs").value, 1000);
  assert.equal(parseCount("1,250", "L").value, 1.25);
});

test("what was picked of two readings is not asked about again", () => {
  assert.deepEqual(asksOf({ hours: "1,912" }, 2), [1.912, 1912]);
  assert.equal(asksOf({ hours: "1,912", meant: "1,912" }, 2), null);
  assert.deepEqual(asksOf({ hours: "1.914", meant: "1,912" }, 2), [1.914, 1914]);
});

test("hours and speeds have the decimal mark of the language", () => {
  assert.equal(againText({ again_on: null, again_at_hours: 1912.5 }), "ved 1912,5 h");
  assert.equal(againText({ again_on: null, again_at_hours: null }), "");
  assert.equal(ofHundred(0.9953), "99,5");
  assert.equal(atText({ hours: 1912.5, load_percent: null, rpm: 1500 }), "1912,5 h, 1500 o/min");
});

test("one of a thing is said as one", () => {
  const said = [WORK.days_left(1), WORK.days_left(-1), WAYS.anyway_help(1), FILES.bring(1), FILES.looked("TGL", 1), MOVING_IN.bring(1),
    MOVING_IN.rest(1)];
  for (const text of said) assert.doesNotMatch(text, /\b1 (dage|ændringer|rækker|udeladte)/, text);
  assert.equal(WORK.days_left(2), "2 dage tilbage");
});
