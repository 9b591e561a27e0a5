// What a changed number does to the plan of a trip.
import assert from "node:assert/strict";
import test from "node:test";
import { effectOf } from "../../static/domain/trip_effect.js";

const plan = (hours, needs, reached) => ({ hours, short: Object.keys(needs).filter((part) => needs[part] > 1), protection: reached === undefined ? null : { reached },
  lines: Object.entries(needs).map(([part, minimum]) => ({ part, minimum, name: `name of ${part}` })) });

test("the effect names hours, pieces and how many parts are short", () => {
  const effect = effectOf(plan({ HBR: 120, ENG: 80 }, { P034: 1, P001: 1 }), plan({ HBR: 132, ENG: 80 }, { P034: 2, P001: 1 }));
  assert.deepEqual(effect, { hours: [["HBR", 12]], pieces: [{ part: "P034", change: 1, name: "name of P034" }], short: 1, protection: null });
});

test("a part that is no longer asked for counts as fewer", () => {
  const effect = effectOf(plan({}, { P034: 2 }, 0.91), plan({}, {}, 0.96));
  assert.deepEqual(effect.pieces.map((one) => one.change), [-2]);
  assert.equal(effect.protection, 0.05);
});

test("the same plan has no effect", () => {
  const one = plan({ ENG: 0.1 }, { P001: 0.3 }, 0.9);
  assert.deepEqual(effectOf(one, one), { hours: [], pieces: [], short: 0, protection: 0 });
});
