/** The deck plan's rules: what is a line, what a wet thumb meant, which locker is meant. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { closes, cornersOf, cornersText, placedBy, straightened, withinReach } from "../../static/domain/deck_plan.js";
import { search, searchLine, searchWithRests } from "../../static/domain/search_text.js";

test("a line has 2 to 100 corners, each within the picture", () => {
  assert.deepEqual(cornersOf("0,0 500,1000"), [[0, 0], [500, 1000]]);
  for (const text of ["", "1,1", "1,1 2,1001", "1,1 2, 2", "01,1 2,2", "1,1 -2,2", Array(101).fill("1,1").join(" "), null]) {
    assert.deepEqual(cornersOf(text), [], String(text));
  }
  assert.equal(cornersText([[0, 0], [500, 250]]), "0,0 500,250");
});

test("a corner that is nearly in line with the one before is put in line", () => {
  assert.deepEqual(straightened([513, 107], null), [510, 110]);
  assert.deepEqual(straightened([513, 407], [500, 110]), [500, 410]);
  assert.deepEqual(straightened([541, 131], [500, 110]), [540, 110]);
  assert.deepEqual(straightened([998, -3], [0, 500]), [1000, 0]);
});

test("a tap at the first corner closes a line of three corners, not one of two", () => {
  const line = [[500, 100], [800, 600], [200, 600]];
  assert.equal(closes([520, 120], line), true);
  assert.equal(closes([560, 100], line), false);
  assert.equal(closes([500, 100], line.slice(0, 2)), false);
});

test("a locker is found by the nearest one around it; a ring of lockers ends", () => {
  const parents = new Map([["bag", "box"], ["box", "bench"], ["one", "other"], ["other", "one"]]);
  assert.equal(placedBy("bag", parents, new Map([["bench", {}]])), "bench");
  assert.equal(placedBy("bag", parents, new Map([["bench", {}], ["box", {}]])), "box");
  assert.equal(placedBy("one", parents, new Map()), null);
});

test("what is within reach comes nearest first, by the height of the picture", () => {
  const things = [{ no: "far", x: 500, y: 580 }, { no: "near", x: 530, y: 510 }];
  assert.deepEqual(withinReach([500, 500], things, 90, 1).map(({ no }) => no), ["near", "far"]);
  assert.deepEqual(withinReach([500, 500], things, 90, 1.5).map(({ no }) => no), ["near"]);
});

test("a search that rests finds what one without rests finds", async () => {
  const lines = Array.from({ length: 3500 }, (_, at) => searchLine(at, `fuel filter ${at}`, [`KR ${at}-7`]));
  for (const [query, ways] of [["fuel 12", {}], ["fule", {}], ["fule", { slips: false }], ["kr1234", {}], ["", {}]]) {
    let rests = 0;
    const found = await searchWithRests(query, lines, 50, ways, async () => { rests += 1; });
    assert.deepEqual(found, search(query, lines, 50, ways));
    assert.equal(rests > 0, query !== "");
  }
});
