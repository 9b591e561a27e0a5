// A tap while a paired phone still opens its copy is made on the phone, not asked of the boat's computer.
import assert from "node:assert/strict";
import test from "node:test";

globalThis.IDBRequest = class extends EventTarget {};
for (const name of ["IDBDatabase", "IDBObjectStore", "IDBIndex", "IDBCursor", "IDBTransaction"]) globalThis[name] = class {};
globalThis.BroadcastChannel = undefined;       // it would keep the test's process from ending
const opening = [];
globalThis.indexedDB = { open: () => { opening.push(new IDBRequest()); return opening.at(-1); } };
const asked = [];
globalThis.fetch = async (url) => { asked.push(url); throw new TypeError("network"); };

const { SparesError } = await import("../../static/api.js");
const { outbox, record, send } = await import("../../static/outbox.js");
const { setVessel } = await import("../../static/state.js");
const { device, keeper, syncNow } = await import("../../static/kept/kept.js");

const tick = () => new Promise((resolve) => { setTimeout(resolve, 20); });
const made = [];
const aboard = { named: (text, kind) => ({ ref: `${kind}/${text}` }), keptName: (name) => name, get: () => null,
  record: () => null, versions: () => new Map() };
const whole = { vessel: "v", mark: "AAA", isWhole: () => true, aboard: () => aboard, listed: () => [], waiting: () => [],
  seen: () => null, sync: async () => { throw new SparesError("put-off"); }, record: async (drafts) => { made.push(...drafts); } };

test("it waits until the copy is open", async () => {
  device.value = { dev: "a0000001", role: "skipper", vessel: { id: "v", mark: "AAA" } };
  setVessel("AAA");
  const done = record("do/doubt", { part: "P1", locker: "L1" }, "In doubt");
  while (!opening.length && !asked.length) await tick();
  assert.deepEqual([asked.length, made.length], [0, 0]);
  setVessel("BBB");        // whose things bear the same numbers
  keeper.value = whole;
  // The stand-in opens nothing; a copy that fails to open is not waited for either.
  Object.assign(opening[0], { error: new DOMException("gone", "UnknownError") }).dispatchEvent(new Event("error"));
  assert.equal((await done).state, "recorded");
  assert.deepEqual(asked, []);
  assert.deepEqual(made.map(({ kind }) => kind), ["set"]);
});

test("what could not be kept is made again aboard the vessel that it was made for", async () => {
  setVessel("AAA");
  made.length = 0;
  keeper.value = { ...whole, record: async () => { throw new SparesError("phone-full"); } };
  await record("do/doubt", { part: "P1", locker: "L1" }, "In doubt");
  setVessel("BBB");
  keeper.value = whole;
  await send(outbox.value[0]);
  assert.deepEqual([made.length, asked], [1, []]);
});

test("a meeting that met a fault of the browser itself leaves the outbox readable", async () => {
  const waits = { id: "1", as: "waiting", body: {}, text: { path: "do/took", body: {}, text: "Took 1" } };
  const sync = async () => { throw new DOMException("closing", "InvalidStateError"); };      // its code is 11
  keeper.value = { ...whole, listed: () => [waits], waiting: () => [waits], sync };
  globalThis.document = { hidden: true };
  await syncNow().catch(() => {});
  assert.deepEqual(outbox.value.map(({ text }) => text), ["Took 1"]);
  keeper.value = whole;
  await syncNow();        // ends with what is not tried again, so that no timer keeps the test's process from ending
});

test("a form whose end on this phone nobody heard is still the same act when it is pressed again", async () => {
  setVessel("AAA");
  made.length = 0;
  const ids = [];
  keeper.value = { ...whole, record: async ([draft]) => { ids.push(draft.id); throw new SparesError("phone-trouble"); } };
  const press = () => record("do/doubt", { part: "P1", locker: "L1" }, "In doubt", { form: true });
  assert.equal((await press()).error.code, "phone-trouble");
  keeper.value = { ...whole, record: async ([draft]) => { ids.push(draft.id); } };
  assert.equal((await press()).state, "recorded");
  assert.equal((await press()).state, "recorded");
  assert.equal(ids[0], ids[1]);
  assert.notEqual(ids[1], ids[2], "what was recorded is another act the next time");
});
