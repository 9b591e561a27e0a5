// Joint sheets on the phone: where each fastener sits, what a form makes of what was typed.
import assert from "node:assert/strict";
import test from "node:test";
import { pieceText } from "../../static/pieces/joint-sheet.js";
import { jointTable, placesOf } from "../../static/pictures/joint-order.js";
import { readJoint, valuesOf } from "../../static/views/joint-edit.js";

test("a ring is numbered clockwise from the top, and each place has its turn", () => {
  const places = placesOf({ order: [1, 3, 2, 4], pattern: "cross", rows: null });
  // four places at 12, 3, 6 and 9 o'clock; second turn is opposite the first
  assert.deepEqual(places.map(({ number, turn, x, y }) => [number, turn, x, y]),
    [[1, 1, 0.5, 0.08], [2, 3, 0.92, 0.5], [3, 2, 0.5, 0.92], [4, 4, 0.08, 0.5]]);
});

test("rows lie one below the other, numbered from the same end", () => {
  const places = placesOf({ order: [2, 5, 4, 1, 3, 6], pattern: "middle-out", rows: 2 });
  assert.deepEqual(places.map(({ x, y }) => [Math.round(x * 6), Math.round(y * 4)]), [[1, 1], [3, 1], [5, 1], [1, 3], [3, 3], [5, 3]]);
  assert.deepEqual(places.map(({ turn }) => turn), [4, 1, 5, 3, 2, 6]);
  assert.deepEqual(jointTable({ order: [2, 1] }).rows, [["1", "2"], ["2", "1"]]);
});

test("a piece is written with its count, number, name and what is said", () => {
  assert.equal(pieceText({ count: 12, part: "P018", name: "Conical spring washer M10", words: "hollow side to the flange" }),
    "12 × P018 Conical spring washer M10, hollow side to the flange");
  assert.equal(pieceText({ count: null, part: null, name: null, words: "flange" }), "flange");
});

test("a form gives whole numbers or says which field is wrong; what is empty is not known", () => {
  const typed = { ...valuesOf(null), name: " Cover ", fasteners: "8", pieces: "gasket\n" };
  const { faults, fields } = readJoint(typed);
  assert.deepEqual([faults, fields.name, fields.fasteners, fields.pieces, fields.torque, fields.rows],
    [{}, "Cover", 8, "gasket", null, null]);
  assert.deepEqual(readJoint({ ...typed, name: "", fasteners: "7,5", rows: "0" }).faults,
    { name: "empty", fasteners: "not-whole", rows: "too-small" });
});
