// Fetching that a person stopped rests until somebody asks; what waits here is still sent.
import assert from "node:assert/strict";
import test from "node:test";
import { SparesError } from "../../static/api.js";
import { exchange, isPutOff, keeper, meet, progress, putOff, syncNow } from "../../static/kept/kept.js";
import { summary } from "../../static/state.js";

/** A keeper that has come so far in a log of *rows*; a round takes two seconds and sends one of what waits. */
function slow(rows) {
  const self = { rounds: [], have: 0, own: 0, vessel: "v", mark: "M", listed: () => [], isWhole: () => false,
    seen: () => ({ seq: self.have }), waiting: () => Array(self.own).fill({}),
    async sync(goesOn, fetches) {
      while (self.have < rows || self.own) {
        self.rounds.push(fetches());
        self.have += fetches() ? 100 : 1;
        self.own = Math.max(0, self.own - 1);
        Date.now = () => now += 2000;
        self.after?.();
        if (!goesOn()) throw new SparesError("put-off");
      }
    } };
  return self;
}

let now = Date.now();

test("a stop holds through every occasion until a person asks, and what waits is sent", async (test_) => {
  test_.mock.timers.enable({ apis: ["setTimeout"] });
  const mine = slow(500);
  keeper.value = mine;
  summary.value = { changes: 50 };
  const told = [];
  mine.after = () => putOff();
  const unwatch = progress.subscribe((one) => one && told.push([one.have, one.of]));
  await syncNow();
  assert.deepEqual([mine.rounds, exchange.value.stop, isPutOff.value], [[true], "put-off", true]);
  assert.deepEqual(told, [[100, 100]]);           // more came to the log than was counted before
  await syncNow();                                // the net is back, the page is looked at, ...
  assert.deepEqual([mine.have, mine.rounds.length], [100, 1]);
  mine.own = 2;                                   // something is recorded
  await syncNow();
  assert.deepEqual([mine.own, mine.have, mine.rounds, exchange.value.stop],
    [0, 102, [true, false, false], "put-off"]);
  mine.after = null;
  await meet();
  assert.deepEqual([mine.have >= 500, exchange.value.stop, isPutOff.value], [true, null, false]);
  unwatch();
});
