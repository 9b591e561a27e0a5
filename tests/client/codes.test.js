// Codes of labels. The demo's codes come from her data files, where they were written by hand.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { ALPHABET, checkCharacter, codeAt, codeFrom, isCode, looksLikeCode, normalise, parseLabel }
  from "../../static/domain/codes.js";

const seed = new URL("../../seed/tangloppe/", import.meta.url);

function codesIn(name) {
  const [head, ...rows] = readFileSync(new URL(name, seed), "utf8").replace(/^\uFEFF/, "").trim()
    .split(/\r?\n/).map((row) => row.split(/[;](?=(?:[^"]*"[^"]*")*[^"]*$)/));
  const at = head.indexOf("code");
  return rows.map((row) => row[at]).filter(Boolean);
}

const printed = [...codesIn("lockers.csv"), ...codesIn("machines.csv")];

test("every printed code of the demo checks", () => {
  assert.ok(printed.length >= 30);
  for (const code of printed) assert.ok(isCode(code), code);
});

test("a code checks in any case, with spaces and hyphens", () => {
  for (const text of ["EMJR", "emjr", " em jr", "EM-JR", "e.m.j.r"]) {
    assert.equal(normalise(text), "EMJR");
    assert.ok(isCode(text), text);
  }
});

test("no single wrong character and no swap of unequal neighbours ever checks", () => {
  for (const code of printed) {
    for (let at = 0; at < 4; at += 1) {
      for (const other of ALPHABET) {
        if (other === code[at]) continue;
        assert.ok(!isCode(code.slice(0, at) + other + code.slice(at + 1)));
      }
      if (at < 3 && code[at] !== code[at + 1]) {
        assert.ok(!isCode(code.slice(0, at) + code[at + 1] + code[at] + code.slice(at + 2)));
      }
    }
  }
});

test("what looks like a code but does not check is told from a word", () => {
  assert.ok(looksLikeCode("EMRJ") && !isCode("EMRJ"));
  assert.ok(!looksLikeCode("imp har"));
  assert.ok(!looksLikeCode("BOLT"), "B and O stand in no code");
  assert.equal(checkCharacter("EM"), null);
  assert.equal(checkCharacter("EMO"), null);
  assert.equal(isCode(""), false);
});

test("the text of a label is read with vessel, letter and code", () => {
  assert.deepEqual(parseLabel("tgl:lemjr"), { vessel_mark: "TGL", letter: "L", code: "EMJR" });
  assert.equal(parseLabel("TGL:LEMRJ"), null, "the check character disagrees");
  assert.equal(parseLabel("TGL:BEMJR"), null, "a bag has five and one");
  assert.equal(parseLabel("EMJR"), null);
});

test("the order of codes is scattered, and holds each code once", () => {
  // by hand: the first step is 7, 16, 9, that is K X M; 2*7 + 3*16 + 4*9 = 98 = 4*23 + 6, so Y (17) closes it
  assert.equal(codeAt(0), "KXMY");
  const last = 23 ** 3 - 1;
  const all = new Set(Array.from({ length: last + 1 }, (_, index) => codeAt(index)));
  assert.ok(all.size === last + 1 && [...all].every(isCode));
  assert.deepEqual([codeFrom([], last), codeFrom([codeAt(last)], last)], [codeAt(last), codeAt(0)]);
});
