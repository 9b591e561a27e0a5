// Figures as a person types and reads them: asked about once, with the decimal mark of the language, one of a thing as one.
import assert from "node:assert/strict";
import test from "node:test";

Object.defineProperty(globalThis, "navigator", { configurable: true, value: { language: "da-DK" } });
const { parseCount } = await import("../../static/numbers.js");
const { asksOf } = await import("../../static/pieces/two-readings.js");
const { againText } = await import("../../static/pieces/tightened.js");
const { atText } = await import("../../static/pieces/gauges.js");
const { ofHundred } = await import("../../static/pictures/protection-curve.js");
const { readTrip } = await import("../../static/pieces/trip-read.js");
const { usualValues } = await import("../../static/pieces/trip-values.js");
const { readKit } = await import("../../static/pieces/trip-kit.js");
const { readDayRun } = await import("../../static/views/trip-days.js");
const { readInterval } = await import("../../static/pieces/interval-form.js");
const { readFound } = await import("../../static/pieces/found-form.js");
const { readTightened } = await import("../../static/pieces/tightened.js");
const { readGauge } = await import("../../static/views/gauge.js");
const { FILES, MOVING_IN, WAYS, WORK } = await import("../../static/words.js");

const AT = { day: "3", month: "5", year: "2027" };
const DAY_RUN = { machine: "HBR", hours: "", litres: "", charge_ah: "", amps: "", by: "", note: "", at: AT };
const FOUND = { answer: "done", by: "", origin: "seen", done_on: AT, hours: "" };
const TIGHTENED = { torque_used: "45 N·m", again_on: AT, again_at: "", by: "", note: "" };
const GAUGE = { value: "80", hours: "", load: "", rpm: "", other: "", unit: "", other_unit: "", at: AT, place: "", by: "", note: "" };

test("of pieces, 1.000 is not taken for one: it may be meant as a thousand", () => {
  for (const text of ["1.000", "2,000", "12.000"]) assert.equal(parseCount(text, "pcs").problem, "not-whole", text);
  assert.equal(parseCount("1000", "pcs").value, 1000);
  assert.equal(parseCount("1,250", "L").value, 1.25);
});

test("an amount that may be thousands is not taken for less than two", () => {
  const machines = [{ no: "HBR" }];
  const trip = (typed) => readTrip({ ...usualValues(null), ...typed, leave: { day: "1", month: "4", year: "2027" },
    back: { day: "13", month: "4", year: "2027" } }, machines, {});
  for (const text of ["1.500", "1,500"]) {
    const { faults } = trip({ limits: { cost: text, mass_kg: text }, fuel: { tank_l: text }, hours: { HBR: text } });
    const fields = ["limits.cost", "limits.mass_kg", "fuel.tank_l", "hours.HBR"];
    assert.deepEqual(faults, Object.fromEntries(fields.map((field) => [field, "two-readings"])), text);
    assert.equal(readKit({ by: "money", cost: text, mass_kg: "" }).faults.cost, "two-readings");
    assert.equal(readDayRun("T1", { ...DAY_RUN, litres: text }).faults.litres, "two-readings");
    assert.equal(readInterval({ no: "S1" }, { every_hours: text, because: "book" }).faults.every_hours, "two-readings");
    assert.equal(readFound({ question: "history", about: "S1" }, { ...FOUND, hours: text }).faults.hours, "two-readings");
    assert.equal(readTightened("J1", { ...TIGHTENED, again_at: text }).faults.again_at, "two-readings");
    assert.equal(readGauge("ENG", { ...GAUGE, hours: text }, { name: "coolant", unit: "°C" }).faults.hours, "two-readings");
  }
  assert.equal(trip({ fuel: { tank_l: "1500" } }).body.fuel.tank_l, 1500);
  assert.equal(trip({ fuel: { tank_l: "1.500,5" } }).faults["fuel.tank_l"], "not-a-number");
});

test("what is recorded stands in a field so that it reads as what it is", () => {
  // a form that nobody touched writes back 1.125 kn, not a question about it
  const told = { legs: [{ distance_nm: 84.25, speed_kn: 6.125, machines: ["HBR"] }], fuel: { tank_l: 1500 } };
  const { faults, body } = readTrip({ ...usualValues(told), leave: { day: "1", month: "4", year: "2027" },
    back: { day: "13", month: "4", year: "2027" } }, [{ no: "HBR" }], {});
  assert.deepEqual(faults, {});
  assert.deepEqual([body.legs[0].distance_nm, body.legs[0].speed_kn, body.fuel.tank_l], [84.25, 6.125, 1500]);
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
