// Is there a word and a shape for every code that answers carry?
import assert from "node:assert/strict";
import { readFileSync, readdirSync } from "node:fs";
import test from "node:test";
import { SHAPES } from "../../static/pieces/shapes.js";
import * as words from "../../static/words.js";

const ours = (path) => readFileSync(new URL(`../../${path}`, import.meta.url), "utf8");

// The codes as the answers' shapes promise them.
const SIGNS = {
  VERDICT: ["fits", "fits-with-changes", "does-not-fit", "not-known-yet"],
  ROW: ["match", "change", "stop", "advisory", "unknown"],
  SERVICE: ["done", "coming", "due", "overdue", "history-unknown", "not-wanted"],
  LINE: ["enough", "order-by", "short", "too-late", "cannot-say", "accepted"],
  COUNT: ["enough", "low", "none", "not-counted", "ashore", "lent"],
  TAG: ["used-good", "suspect", "out-of-date", "no-date", "stranded", "dropped", "fits-not-recorded",
    "ashore", "lent", "not-reachable", "in-doubt", "negative"],
  TRAIL_STATE: ["open", "found", "accepted"],
  PLACE_STATE: ["not-looked", "nothing", "found", "in-doubt"],
};
const WORDS = {
  PROOF: ["makers-list", "measured", "fitted-before", "hearsay", "candidate", "tried-no"],
  CONDITION: ["new", "used-good", "suspect"],
  WEIGHT: ["A", "B", "C"],
};

for (const [table, codes] of Object.entries(SIGNS)) {
  test(`${table} has word, drawn shape and colour role for each code`, () => {
    for (const code of codes) {
      const sign = words[table][code];
      assert.ok(sign?.word, code);
      assert.ok(SHAPES.includes(sign.shape), `${code}: ${sign?.shape}`);
      assert.ok(["good", "watch", "stop", "ask", "aside"].includes(sign.role), code);
    }
  });
}

for (const [table, codes] of Object.entries(WORDS)) {
  test(`${table} has a word for each code`, () => {
    for (const code of codes) assert.ok(words[table][code], code);
  });
}

test("every error of the program has words", () => {
  const codes = [...ours("spares/errors.py").matchAll(/^ {4}code = "([a-z-]+)"/gm)].map((found) => found[1]);
  assert.ok(codes.length > 10);
  for (const code of codes) assert.ok(words.PROBLEM[code], code);
});

test("every sign that a person meets has its sentence", () => {
  for (const family of Object.keys(words.HELP.families)) {
    const codes = Object.keys(words[family]).filter((code) => family !== "TAG" || !words.COUNT[code]);
    assert.deepEqual(Object.keys(words.HELP[family]).sort(), codes.sort(), family);
  }
});

test("what nobody knows is never shown with the shape or colour of good", () => {
  const asks = [words.VERDICT["not-known-yet"], words.ROW.unknown, words.SERVICE["history-unknown"],
    words.LINE["cannot-say"], words.COUNT["not-counted"], words.TAG["no-date"],
    words.signFor(words.COUNT, "a-code-from-tomorrow")];
  for (const sign of asks) {
    assert.match(sign.shape, /dotted/);
    assert.equal(sign.role, "ask");
  }
  const good = Object.keys(SIGNS).flatMap((table) => Object.values(words[table]))
    .filter((sign) => sign.role === "good");
  for (const sign of good) assert.match(sign.shape, /full/);
});

test("within a family no two states share a shape unless they share the colour", () => {
  for (const table of ["VERDICT", "SERVICE"]) {
    const shapes = Object.values(words[table]).map((sign) => sign.shape);
    assert.equal(new Set(shapes).size, shapes.length, table);
  }
});

test("a code without a word is shown in plain words", () => {
  assert.equal(words.wordFor(words.PROOF, "seen-on-a-photo"), "seen on a photo");
  assert.equal(words.wordFor(words.PROOF, null), "not known");
});

test("the caution of any opening and the closing sentence are those of the data file", () => {
  const data = ours("spares/domain/cautions.toml");
  assert.ok(data.includes(`closing = "${words.DEFERRAL}"`));
  assert.ok(data.includes(`text = "${words.OPENING.text}"`));
  const named = [{ mark: "hot", text: "..." }, { mark: "", text: words.DEFERRAL }];
  assert.deepEqual(words.cautionLines(named, { opening: true }).map((line) => line.mark), ["stored energy", "hot"]);
  assert.ok(data.includes(`text = "${words.PIECES.text}"`));
  assert.deepEqual(words.cautionLines([], { opening: true, pieces: true }), [words.OPENING, words.PIECES]);
  assert.equal(words.cautionLines([words.PIECES], { pieces: true }).length, 1);
  assert.equal(words.cautionLines([words.OPENING], { opening: true }).length, 1);
  assert.deepEqual(words.cautionLines(undefined), []);
});

const sources = ["", "views/", "pieces/", "pictures/"].flatMap((folder) => readdirSync(new URL(`../../static/${folder}`, import.meta.url))
  .filter((name) => name.endsWith(".js")).map((name) => ours(`static/${folder}${name}`))).join("\n");
const tables = Object.entries(words).filter(([, table]) => typeof table === "object");

test("every word that a view names is there", () => {
  for (const [, table, name] of sources.matchAll(/\b([A-Z]{3,})\.([a-z]\w*)\b/g)) {
    if (words[table]) assert.ok(name in words[table], `${table}.${name}`);
  }
});

test("no word is kept that no view says", () => {
  const chosenByCode = ["MOVE", "FAULT", "TITLE", "PLACE", "PROBLEM", "PROOF", "CONDITION", "WEIGHT", "OPENING", "PIECES",
    "TRAIL_STATE", "PLACE_STATE", "GAUGE_STATE", "BAG_STATE", "KNOWN", "DRAIN",
    "COUNT", "TAG", "SERVICE", "VERDICT", "ROW", "LINE", "HELP"];
  for (const [name, table] of tables) {
    if (chosenByCode.includes(name)) continue;
    for (const word of Object.keys(table)) {
      const help = word.endsWith("_help") && sources.includes(`${name}[`);
      assert.ok(help || sources.includes(`${name}.${word}`), `${name}.${word}`);
    }
  }
});

test("every word of the protocol for what was not taken has its own on screen", () => {
  // An office alone is told that it is too old; a phone that is told of a fork goes on under its new number.
  const [, ofStop, ofStatus] = ours("spares/web/problems.py").match(/STATUS_OF_STOP = \{([^}]*)\}\nSTOPS = \{([^}]*)\}/);
  const stops = [...ofStop.matchAll(/"(\w+)": \d/g), ...ofStatus.matchAll(/\d: "(\w+)"/g), [0, "wrong_origin"]]
    .map(([, stop]) => stop).filter((stop) => !["app_old", "fork"].includes(stop));
  const [, reasons] = ours("spares/sync/PROTOCOL.md").match(/`refused` with `code` and `say`:\n([^.]*)\. /);
  const codes = reasons.replace("; for envelopes also", ",").split(", ");
  assert.ok(stops.length > 15 && codes.length === 8);
  for (const code of [...stops, ...codes]) assert.ok(words.PROBLEM[code.replaceAll("_", "-")], code);
});

test("no table of words gives one name twice, where the later would silently win", () => {
  const files = readdirSync(new URL("../../static/words/", import.meta.url), { recursive: true });
  for (const file of files.filter((name) => name.endsWith(".js"))) {
    for (const [, table, body] of ours(`static/words/${file}`)
      .matchAll(/^export const (\w+) = \{\n([\s\S]*?)^\};/gm)) {
      const names = [...body.matchAll(/^ {2}(?:"([^"]+)"|([\w-]+)):/gm)].map((found) => found[1] ?? found[2]);
      assert.deepEqual(names.filter((name, n) => names.indexOf(name) !== n), [], `${file} ${table}`);
    }
  }
});
