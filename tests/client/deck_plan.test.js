/** The deck plan's rules: what is a line, what a wet thumb meant, which locker is meant. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { closes, cornersOf, cornersText, freshNumber, placedBy, straightened, withinReach } from "../../static/domain/deck_plan.js";
import { indexOf, openAboard } from "../../static/kept/aboard.js";
import { planOf, withMarks } from "../../static/kept/deck-plan.js";
import { photosOf } from "../../static/kept/look-up.js";
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

const uuid = (number) => `00000000-0000-4000-8000-${String(number).padStart(12, "0")}`;
const [MACHINE, POINT, DECK, LINE, MARK] = ["machine", "point", "deck", "deck-line", "photo-mark"]
  .map((kind, place) => `${kind}/${uuid(place + 1)}`);
const SHA = "ab".repeat(32);

/** What lies aboard by a log of these changes. */
function aboardOf(changes) {
  return openAboard(indexOf(changes.map(([kind, body], place) => ({ id: uuid(100 + place), dev: "a0000001", n: place + 1,
    kind, g: 0, seen: null, pos: { "00000000000000e1": place + 1 }, body,
    at: `${((place + 1) * 60_000).toString(16).padStart(12, "0")}.0000.a0000001` }))));
}
const set = (doc, f, base = {}) => ["set", { doc, f, base }];

test("a deck that is begun again after it was taken out begins empty", () => {
  const begun = [set(DECK, { no: "Below", name: "Below", position: 1 }),
    set(LINE, { deck: DECK, corners: "0,0 10,10", closed: false })];
  assert.deepEqual([planOf(aboardOf(begun)).taken_out, freshNumber("Below", [])], [[], "Below"]);
  const { decks, taken_out: takenOut } = planOf(aboardOf([...begun, set(DECK, { gone: true })]));
  assert.deepEqual([decks, takenOut], [[], ["Below"]]);
  assert.equal(freshNumber("Below", takenOut), "Below 2");
  assert.equal(freshNumber("Below", [...takenOut, "Below 2"]), "Below 3");
});

test("a mark that still waits is on its fit point's page, one that was taken off is not", () => {
  const marked = [set(MACHINE, { no: "ENG", name: "Engine" }), set(POINT, { no: "ENG-02", name: "belt", machine: MACHINE }),
    ["photo", { doc: MACHINE, sha256: SHA, bytes: 9, mime: "image/jpeg" }],
    set(MARK, { photo: SHA, point: POINT, x: 10, y: 20 })];
  const now = (changes, told) => {
    const aboard = aboardOf(changes);
    return withMarks({ of: POINT, photos: [], marked_on: told }, aboard, photosOf(POINT, aboard).marked_on);
  };
  const [one] = now(marked, []).marked_on;
  assert.deepEqual([one.of, one.name, one.sha256, one.marks.map(({ point, x, y }) => [point, x, y])],
    ["ENG", "Engine", SHA, [["ENG-02", 10, 20]]]);
  assert.equal(now(marked, [{ change: one.change, here: false }]).marked_on[0].here, false);
  assert.deepEqual(now([...marked, set(MARK, { gone: true })], [one]).marked_on, []);
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
