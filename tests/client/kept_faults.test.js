// A fault of the browser's own store is one to try again after.
import assert from "node:assert/strict";
import test from "node:test";

globalThis.BroadcastChannel = undefined;
const { device, exchange, keeper, opened, syncNow } = await import("../../static/kept/kept.js");

test("a copy that failed to open is opened when it is asked for again", async () => {
  let tries = 0;
  globalThis.indexedDB = { open: () => { tries += 1; throw new DOMException("internal", "UnknownError"); } };
  device.value = { dev: "a0000001", role: "crew", vessel: { id: "v", mark: "AAA" } };
  for (let time = 0; time < 2; time += 1) await assert.rejects(opened());
  assert.equal(tries, 2);
});

test("a meeting that met such a fault stops with a word and is tried again", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  let times = 0;
  keeper.value = { vessel: "v", mark: "AAA", isWhole: () => true, listed: () => [], waiting: () => [], seen: () => null,
    sync: async () => { times += 1; throw new DOMException("closing", "InvalidStateError"); } };
  globalThis.document = { hidden: false };
  await syncNow();
  assert.equal(exchange.value.stop, "error");
  t.mock.timers.tick(10 * 60_000);
  assert.equal(times, 2);
});
