// A photo that was put away before this phone kept a copy is sent all the same, and each aboard its own vessel.
import assert from "node:assert/strict";
import { register } from "node:module";
import test from "node:test";

const asModule = (text) => `data:text/javascript,${encodeURIComponent(text)}`;
register(asModule(`
  const small = ${JSON.stringify(asModule('export const shrink = async () => ({ bytes: new ArrayBuffer(3), sha256: "ef".repeat(32), mime: "image/jpeg" });'))};
  export const resolve = (name, context, next) => name === "./shrink.js" ? { url: small, shortCircuit: true } : context.parentURL?.endsWith("/photos/send.js") && name === "./shelf.js"
    ? { url: ${JSON.stringify(asModule(`export const { arrived, dropQueued, keepSeen, onPhone, putQueued, queued, setProblem } = shelf;`))},
      shortCircuit: true } : next(name, context);`));

let isFull = false;
const shelves = new Map();
const of = (place) => shelves.get(place) ?? shelves.set(place, new Map()).get(place);
const drop = async (place, sha256) => of(place).delete(sha256);
globalThis.shelf = { arrived: drop, dropQueued: drop, keepSeen: async () => {}, onPhone: async () => null,
  putQueued: async (place, sha256, { bytes, mark }) => {
    if (isFull) throw new SparesError("phone-full");
    of(place).set(sha256, { bytes, mark, problem: null });
  },
  queued: async (place) => [...of(place)], setProblem: async () => {} };
globalThis.BroadcastChannel = undefined;
globalThis.navigator ??= {};
const asked = [];
globalThis.fetch = async (url) => {
  asked.push(url);
  return { ok: true, status: 200, json: async () => (url.includes("missing") ? { missing: [] } : { have: 0, whole: true }) };
};

const { SparesError } = await import("../../static/api.js");
const { device, keeper } = await import("../../static/kept/kept.js");
const { setVessel } = await import("../../static/state.js");
const { addPhoto, sendPhotos, unsent } = await import("../../static/photos/send.js");

test("what waits since before there was a copy goes too, and what she lacks is asked of its own vessel", async () => {
  of("here").set("ab", { bytes: new ArrayBuffer(3), mark: "AAA", problem: null });
  device.value = { dev: "a0000001", role: "crew", vessel: { id: "v", mark: "AAA" } };
  keeper.value = { vessel: "v", mark: "AAA", listed: () => [], isWhole: () => true };
  setVessel("BBB");
  await sendPhotos();
  assert.deepEqual(asked, ["/api/photo/ab/state?vessel=AAA", "/api/photos/missing?vessel=AAA"]);
  assert.deepEqual([...shelves.values()].map((one) => one.size), [0, 0]);
  assert.equal(unsent.value.size, 0);
});

test("a full phone sends what waits all the same: only that makes room", async () => {
  of("here").set("ab", { bytes: new ArrayBuffer(3), mark: "AAA", problem: null });
  of("v").set("cd", { bytes: new ArrayBuffer(3), mark: "AAA", problem: null });
  asked.length = 0;
  isFull = true;
  await sendPhotos();
  assert.deepEqual(asked.filter((url) => url.includes("state")), ["cd", "ab"].map((sha256) => `/api/photo/${sha256}/state?vessel=AAA`));
  assert.deepEqual([...shelves.values()].map((one) => one.size), [0, 0]);
});

test("a photo stays on its shelf where nobody heard whether the change that names it was written", async () => {
  isFull = false;
  setVessel("AAA");
  const aboard = { named: (_, kind) => (kind === "part" ? { ref: "part/P1" } : null), keptName: (name) => name, get: () => ({}), record: () => ({}) };
  const fails = (code) => ({ vessel: "v", mark: "AAA", listed: () => [], isWhole: () => true, aboard: () => aboard,
    record: async () => { throw new SparesError(code); } });
  // She takes none of it, for good: nothing is tried again later.
  globalThis.fetch = async () => ({ ok: false, status: 413, json: async () => ({ type: "/problems/too-big" }) });
  for (const [code, left] of [["phone-full", 0], ["phone-trouble", 1]]) {
    keeper.value = fails(code);
    assert.equal((await addPhoto("part/P1", "Impeller", null))?.code, code);
    assert.equal(of("v").size, left, code);
  }
});
