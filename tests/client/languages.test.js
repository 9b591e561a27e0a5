// Is every text there in every language, and does each put the same facts into its sentences?
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readdirSync } from "node:fs";
import test from "node:test";
import * as danish from "../../static/words/da.js";
import * as danishTold from "../../static/words/told/da.js";
import * as english from "../../static/words/en.js";

/** What is sent on, and so is the same in every language: choices by their code, shapes, roles, addresses. */
const isSame = (key, of) => key === "locale" || (of.word !== undefined && of.shape !== undefined && key !== "word");
/** What reads alike in both: names, and the reasons that the counters know by their words. */
const ALIKE = new Set(["Find", "Model", "Scan", "Spares", "Letter", "new counter", "last entry was a slip", "stored energy"]);

/** Name what a function puts into its text: the names of its parameters, also inside a pattern. */
function facts(text) {
  const head = text.slice(0, text.indexOf("=>"));
  return [...head.matchAll(/[a-z_]\w*/g)].map(([name]) => name);
}

function compare(one, other, at) {
  assert.equal(typeof other, typeof one, at);
  if (typeof one === "function") {
    assert.deepEqual(facts(other.toString()), facts(one.toString()), `${at} takes other facts`);
    for (const name of facts(one.toString())) {
      const used = (text) => new RegExp(`\\b${name}\\b`).test(text.slice(text.indexOf("=>")));
      assert.equal(used(other.toString()), used(one.toString()), `${at} leaves ${name} out`);
    }
  } else if (Array.isArray(one)) {
    assert.equal(other.length, one.length, at);
    one.forEach((piece, place) => {
      // of a choice the first is its code
      if (place === 0 && one.length > 1 && typeof piece === "string" && /choice/.test(kindOf(one, at))) {
        assert.equal(other[0], piece, `${at}: a code`);
      } else compare(piece, other[place], `${at}[${place}]`);
    });
  } else if (one && typeof one === "object") {
    assert.deepEqual(Object.keys(other).sort(), Object.keys(one).sort(), at);
    for (const key of Object.keys(one)) {
      if (key === "locale") continue;
      if (isSame(key, one)) assert.equal(other[key], one[key], `${at}.${key}`);
      else compare(one[key], other[key], `${at}.${key}`);
    }
  } else if (typeof one === "string") {
    assert.equal(other.trim() === "", one.trim() === "", `${at} is empty`);
  }
}

/** Lists of choices are lists of pairs; such a pair lies in another list. */
function kindOf(list, at) {
  return /\[\d+\]$/.test(at) && list.every((piece) => typeof piece === "string") ? "choice" : "list";
}

/** What stands for English of the program's own tables and rules, which comes with the answers. */
const TOLD = ["FIT_SENTENCES", "LOG_SENTENCES", "LOG_WORDS", "PLAN_SENTENCES", "PROBLEM_SENTENCES", "SENTENCES", "TOLD"];

test("Danish has every text of English, with the same codes and the same facts", () => {
  assert.deepEqual(Object.keys(danish).filter((name) => !TOLD.includes(name)).sort(), Object.keys(english).sort());
  for (const name of Object.keys(english)) compare(english[name], danish[name], name);
});

test("what marks a caution is the same in every language", () => {
  for (const name of ["OPENING", "PIECES"]) assert.equal(danish[name].mark, english[name].mark);
});

test("sentences of the program and of the fit check keep their facts in Danish", () => {
  const named = (text) => [...new Set([...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name))].sort();
  for (const table of ["SENTENCES", "PLAN_SENTENCES", "LOG_SENTENCES", "PROBLEM_SENTENCES", "FIT_SENTENCES"].map((name) => danishTold[name])) {
    for (const [text, twin] of Object.entries(table)) assert.deepEqual(named(twin), named(text), text);
  }
});

test("what the program says is told in Danish, with its days, figures and the texts inside it", () => {
  const shown = execFileSync(process.execPath, ["--input-type=module", "-e", `
    globalThis.localStorage = { getItem: (key) => (key === "spares.language" ? '"da"' : null) };
    const { showDays } = await import("./static/dates.js");
    const { allTold, cautionLines, told, toldFit } = await import("./static/words.js");
    await allTold;
    console.log(JSON.stringify([showDays(told("0.5 in L04 usable to 2027-03-20 only")), told("Filter 1.5.2 as Ole wrote it"),
      toldFit("0.5 mm more than asked: torque and backlash. Only where: the seat is what Ole made of it"), toldFit("key or 12.5 mm"),
      told("KR 10.034: no mass is known, so the curve leaves it as it is"),
      toldFit("M20x1.5 to G 1/2"), toldFit("a shaft that is turned at home"), cautionLines([{ mark: "hot, pressure", text: "a hand-made one" }])]));`],
  { cwd: new URL("../..", import.meta.url), encoding: "utf8" });
  assert.deepEqual(JSON.parse(shown), ["0,5 i L04 kun brugelig til 20. marts 2027", "Filter 1.5.2 as Ole wrote it",
    "0,5 mm mere end krævet: moment og slør. Kun hvor: the seat is what Ole made of it", "feder eller 12,5 mm",
    "KR 10.034: massen kendes ikke, så kurven lader den være",
    "M20x1.5 til G 1/2", "a shaft that is turned at home", [{ mark: "varmt, tryk", text: "a hand-made one" }]]);
});

test("each language has the same files", () => {
  const files = (path) => readdirSync(new URL(path, import.meta.url)).filter((name) => name.endsWith(".js"));
  const own = ["coming.js", "en.js", "da.js", "sign.js"];
  assert.deepEqual(files("../../static/words/da/"), files("../../static/words/").filter((name) => !own.includes(name)));
});

test("no text is left in English", () => {
  const same = [];
  const look = (one, other) => {
    if (typeof one === "string") {
      // without a space or a capital it is a code
      if (one === other && /[a-z]{4}/.test(one) && /[ A-Z]/.test(one) && !ALIKE.has(one)) same.push(one);
    } else if (one && typeof one === "object") for (const key of Object.keys(one)) {
      if (!isSame(key, one)) look(one[key], other[key]);
    }
  };
  for (const name of Object.keys(english)) look(english[name], danish[name]);
  assert.deepEqual(same, []);
});

// Danish months and the decimal comma: Retskrivningsordbogen and the locale data of the platform (CLDR).
test("days and numbers are written as the language writes them", () => {
  const shown = execFileSync(process.execPath, ["--input-type=module", "-e", `
    globalThis.localStorage = { getItem: (key) => (key === "spares.language" ? '"da"' : null) };
    const { showDay, showUntil } = await import("./static/dates.js");
    const { showHours, showNumber } = await import("./static/numbers.js");
    const { SAY } = await import("./static/words.js");
    console.log(JSON.stringify([showDay("2027-05-03"), showDay("2027-05"), showUntil("2031-06-30"), showDay(null),
      showNumber(1912.5), showHours(2056.5), SAY.undo]));`], { cwd: new URL("../..", import.meta.url), encoding: "utf8" });
  assert.deepEqual(JSON.parse(shown), ["3. maj 2027", "maj 2027", "til juni 2031", "vides ikke", "1912,5", "2056,5 h", "Fortryd"]);
  const month = new Intl.DateTimeFormat("da-DK", { month: "long", timeZone: "UTC" });
  assert.deepEqual(danish.CALENDAR.months, Array.from({ length: 12 }, (_, at) => month.format(new Date(Date.UTC(2027, at, 15)))));
});
