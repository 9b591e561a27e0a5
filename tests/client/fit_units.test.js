// Exact fractions and units of the phone; expected values by hand from the factors' definitions.

import assert from "node:assert/strict";
import { test } from "node:test";
import { dayNumber, isDay } from "../../static/domain/days.js";
import { UnknownUnit } from "../../static/domain/errors.js";
import { Fraction } from "../../static/domain/fraction.js";
import { convert, exact, formatNumber, formatQuantity, parseQuantity } from "../../static/domain/units.js";

const mm = (text) => convert(parseQuantity(text, "mm"), "mm").amount;

test("sizes are read as people type them, without loss", () => {
  for (const [text, decimal] of [["5/8 in", "15.875"], ['1 1/4"', "31.75"], ["1-1/4 in", "31.75"],
    ["½\"", "12.7"], ["1,5 mm", "1.5"], ["2 ft", "609.6"], ["-3", "-3"], ["1e2", "100"]]) {
    assert.ok(mm(text).equals(Fraction.of(decimal)), text);
  }
  assert.ok(convert(parseQuantity("212 °F", "°C"), "°C").amount.equals(Fraction.of(100)));
});

test("a third of an inch three times is an inch", () => {
  const third = mm("1/3 in");
  assert.ok(third.plus(third).plus(third).equals(mm("1 in")));
});

test("what is no quantity, or one of another kind, is refused", () => {
  for (const text of ["", "wide", "1/0", "5 bar", "3 lamps", "9".repeat(90)]) {
    assert.throws(() => mm(text), UnknownUnit, text);
  }
  for (const value of [null, true, NaN, Infinity, [1], {}]) {
    assert.throws(() => exact(value), UnknownUnit);
  }
});

test("numbers are printed rounded half away from zero", () => {
  assert.deepEqual([["0.0005"], ["-0.0005"], ["0.00049"], ["65", 3, 1], ["2.5", 0], ["1e3", 1]]
    .map(([value, ...digits]) => formatNumber(value, ...digits)),
  ["0.001", "-0.001", "0", "65.0", "3", "1000"]);
  assert.equal(formatQuantity({ amount: Fraction.of(65), unit: "mm" }), "65.0 mm");
});

test("fractions round a tie to the even digit and cut towards zero", () => {
  assert.deepEqual(["0.5", "1.5", "2.5", "-0.5", "-1.5", "2.51"]
    .map((text) => Number(Fraction.of(text).rounded().top)), [0, 2, 2, 0, -2, 3]);
  assert.deepEqual(["2.9", "-2.9"].map((text) => Number(Fraction.of(text).truncated())), [2, -2]);
});

test("days are those of the calendar", () => {
  assert.equal(dayNumber("1970-01-02"), 1);
  assert.equal(dayNumber("2027-03-15") - dayNumber("2026-03-15"), 365);
  assert.deepEqual(["2024-02-29", "2023-02-29", "2023-13-01", "2023-1-1", "soon"].map(isDay),
    [true, false, false, false, false]);
});
