// Wet glass: a second touch at once is none.
import assert from "node:assert/strict";
import test from "node:test";
import { isGhost } from "../../static/ghost.js";

test("the first touch counts, one at once after it does not, a later one does", () => {
  assert.deepEqual([0, 100, 750, 1600].map((now) => isGhost(10_000 + now)),
    [false, true, true, false]);
});
