/** What a form writes of a fit point: nothing that it does not ask about is lost. */

import assert from "node:assert/strict";
import test from "node:test";

import { askedBodies } from "../../static/pieces/asking.js";
import { readSpot, valuesOfSpot } from "../../static/pieces/spot.js";

const SHEET = { attributes: new Map([["bore", { code: "bore", unit: "mm" }], ["flow", { code: "flow", unit: "L/min" }]]) };
const HOW = { how: "maker", when: "2027-03-15" };
const recorded = (attribute, claim, own = true) => ({ attribute, own, doc: `requirement/${attribute}`, value: "as it was", origin: claim.origin, claim });
const asked = (requires, offers) => askedBodies({ id: "p1", requires }, SHEET, offers, HOW);

test("a bare number is written in the unit of its line, another unit as it is typed", () => {
  assert.deepEqual(asked([], { bore: "31,75" })[0].body, { kind: "requirement",
    fields: { subject: "point/p1", attribute: "bore", claim: { value: "31.75", unit: "mm", origin: HOW } } });
  assert.deepEqual(asked([], { bore: "5/8 in" })[0].body.fields.claim, { value: "5/8 in", origin: HOW });
});

test("what is recorded from the same source keeps its tolerance, comparison, weight and name", () => {
  const old = { value: 16, unit: "mm", tol: "0.02", cmp: "at-most", severity: "stop", origin: { how: "maker", by: "Ida" } };
  const [{ body }] = asked([recorded("bore", old)], { bore: "17" });
  assert.equal(body.doc, "requirement/bore");
  assert.deepEqual(body.fields.claim, { ...old, value: "17", origin: { how: "maker", by: "Ida", when: "2027-03-15" } });
});

test("a value with parts keeps the parts that were not typed", () => {
  const old = { value: { value: "140", at_rpm: "2000", at_bar: "0.8" }, unit: "L/min", cmp: "at-least", origin: { how: "maker" } };
  const [{ body }] = asked([recorded("flow", old)], { flow: { value: "150" } });
  assert.deepEqual(body.fields.claim.value, { value: "150", at_rpm: "2000", at_bar: "0.8" });
  assert.equal(body.fields.claim.unit, "L/min");
  assert.equal(body.fields.claim.cmp, "at-least");
});

test("one number does not replace a range, a list, or a tolerance in another unit", () => {
  for (const old of [{ value: { min: "1", max: "2" } }, { value: ["16", "17"] }, { value: "0.6", unit: "in", tol: "0.01" }]) {
    const [{ fault, body }] = asked([recorded("bore", { ...old, origin: { how: "maker" } })], { bore: "17" });
    assert.match(fault, /as it was is recorded/);
    assert.equal(body, undefined);
  }
});

test("another source, and what every part of a model asks, stay beside what is written", () => {
  const requires = [recorded("bore", { value: 16, origin: { how: "measured" } }), recorded("flow", { value: 1, origin: { how: "maker" } }, false)];
  for (const { body } of asked(requires, { bore: "17", flow: "9" })) assert.equal(body.doc, undefined);
});

test("a place goes through its form unchanged, and numbers are kept as text", () => {
  const place = { wet: true, petrol_space: false, medium: "diesel", temperature_c: "150", mating_metal: "bronze",
    rotation: { value: "cw", seen_from: "shaft-end" }, slip: "0.02" };
  assert.deepEqual(readSpot(valuesOfSpot(place)), { faults: {}, place });
  assert.deepEqual(readSpot({ ...valuesOfSpot({}), temperature_c: "150,5", wire_mm2: "two" }),
    { faults: { wire_mm2: "not-a-number" }, place: { temperature_c: "150.5" } });
  assert.deepEqual(readSpot({ ...valuesOfSpot({}), seen_from: "shaft-end" }).faults, { rotation: "empty" });
});
