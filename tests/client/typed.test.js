// Numbers and days as people type and read them.
import assert from "node:assert/strict";
import test from "node:test";
import { daysBetween, joinDay, showDay, showUntil, splitDay } from "../../static/dates.js";
import { parseCount, parseNumber, showHours, showNumber, twoReadings } from "../../static/numbers.js";

test("comma and point are both the decimal mark", () => {
  for (const text of ["2056,5", "2056.5", " 2056.5 ", "2 056,5"]) {
    assert.deepEqual(parseNumber(text), { value: 2056.5, problem: null });
  }
  assert.equal(parseNumber("-3").value, -3);
});

test("what is no number is said, never guessed", () => {
  for (const text of ["1.912,4", "1,912.4", "12h", "1e3", "0x10", "--1", ","]) {
    assert.equal(parseNumber(text).problem, "not-a-number", text);
  }
  assert.equal(parseNumber("  ").problem, "empty");
});

test("a lone mark before three digits is asked about, the likelier reading first", () => {
  assert.deepEqual(twoReadings("1.912", 1890), [1912, 1.912]);
  assert.deepEqual(twoReadings("1,912", 2), [1.912, 1912]);
  assert.deepEqual(twoReadings("1,912", null), [1912, 1.912]);
  for (const text of ["1912", "1912,4", "1,9", "0,125", "19,1234"]) assert.equal(twoReadings(text, 1), null, text);
});

test("pieces are whole, litres are not", () => {
  assert.equal(parseCount("1,5", "pcs").problem, "not-whole");
  assert.equal(parseCount("1,5", "L").value, 1.5);
  assert.equal(parseCount("0", "pcs", { atLeast: 0.001 }).problem, "too-small");
  assert.equal(parseCount("-1", "pcs").problem, "too-small");
  assert.equal(parseCount("0", "pcs").value, 0);
});

test("figures are shown without thousands marks, hours with one decimal", () => {
  assert.equal(showNumber(1912, { locale: "en" }), "1912");
  assert.equal(showNumber(0.5, { locale: "da" }), "0,5");
  // the languages known here go another way than the rest: both write alike
  for (const locale of ["en", "en-GB", "da", "da-DK", "fr-CH"]) {
    for (const decimals of [null, 0, 1, 2]) {
      const digits = decimals === null ? { maximumFractionDigits: 3 } : { minimumFractionDigits: decimals, maximumFractionDigits: decimals };
      const writer = new Intl.NumberFormat(locale, { useGrouping: false, ...digits });
      for (const count of [0, 7, 12345, 1e9, -3, 2.5, 0.125, 0.0625, 1.005, 1234567.8915, -0.75, 99.995, -7.25, 1e-7, 0.0004, 3.5e17, 987654321.0125]) {
        assert.equal(showNumber(count, { locale, decimals }), writer.format(count), `${count} with ${decimals} in ${locale}`);
      }
    }
  }
  assert.equal(showNumber(-0.0001, { locale: "en" }), "0", "nothing has no sign");
  assert.equal(showHours(1912.4, "en"), "1912.4 h");
  assert.equal(showHours(640, "da"), "640,0 h");
});

test("a day shows its month as a word, cut to what is known", () => {
  assert.equal(showDay("2027-05-03"), "3 May 2027");
  assert.equal(showDay("2027-05"), "May 2027");
  assert.equal(showDay("2023"), "2023");
  assert.equal(showDay(null), "not known");
  assert.equal(showUntil("2031-06-30"), "until June 2031");
  assert.equal(showUntil("2028-02-29"), "until February 2028");
  assert.equal(showUntil("2027-05-20"), "until 20 May 2027");
});

test("a typed day is joined, and one that does not exist is refused", () => {
  assert.deepEqual(joinDay({ day: "3", month: "5", year: "2027" }), { value: "2027-05-03", problem: null });
  assert.equal(joinDay({ day: "31", month: "4", year: "2027" }).problem, "no-such-day");
  assert.equal(joinDay({ day: "29", month: "2", year: "2027" }).problem, "no-such-day");
  assert.equal(joinDay({ day: "29", month: "2", year: "2028" }).value, "2028-02-29");
  assert.equal(joinDay({ day: "", month: "", year: "" }).problem, "empty");
  assert.equal(joinDay({ day: "", month: "5", year: "2027" }).problem, "need-full-day");
  assert.equal(joinDay({ day: "", month: "5", year: "2027" }, { cut: true }).value, "2027-05");
  assert.equal(joinDay({ day: "", month: "", year: "2023" }, { cut: true }).value, "2023");
  assert.equal(joinDay({ day: "3", month: "", year: "2023" }, { cut: true }).problem, "no-such-day");
  assert.equal(joinDay({ day: "3", month: "5", year: "27" }).problem, "no-such-day");
});

test("a day taken apart and joined again is the same", () => {
  for (const iso of ["2027-05-03", "2028-02-29", "1999-12-31"]) assert.equal(joinDay(splitDay(iso)).value, iso);
});

test("days between two dates are counted over clock changes and leap days", () => {
  assert.equal(daysBetween("2027-05-03", "2027-07-05"), 63);
  assert.equal(daysBetween("2028-02-28", "2028-03-01"), 2);
  assert.equal(daysBetween("2027-03-27", "2027-03-29"), 2);
});

test("a figure has the mark of the place, also where English has the comma", () => {
  // CLDR (Unicode), decimal separators as this runtime carries them
  for (const locale of ["en-GB", "en-US", "en-DK", "en-DE", "en-ZA", "da-DK", "de-DE"]) {
    assert.equal(showNumber(1.5, { locale }), new Intl.NumberFormat(locale).format(1.5), locale);
  }
});
