// Two tabs keep one copy: what the one reads late must not replace what it pulled meanwhile.
import assert from "node:assert/strict";
import { register } from "node:module";
import test from "node:test";

const asModule = (text) => `data:text/javascript,${encodeURIComponent(text)}`;
/** What the keeper asks of the disk, answered by `disk` below. */
const STANDING_IN = {
  "copy-store.js": asModule(`export const { loadCopy, cursorOnDisk, saveCopy, wipeCopy } = disk;`),
  "box-store.js": asModule("export const openBox = () => disk.box;"),
  "open.js": asModule("export const { forgetPhotos, holdRoom } = disk;"),
};
register(asModule(`
  const standingIn = ${JSON.stringify(STANDING_IN)};
  export const resolve = (name, context, next) => {
    const url = context.parentURL?.endsWith("/kept/keeper.js") && standingIn[name.slice(2)];
    return url ? { url, shortCircuit: true } : next(name, context);
  };`));

const { newBox } = await import("../../static/sync/box.js");
const { newCopy } = await import("../../static/sync/copy.js");
const nothing = async () => {};
const box = newBox("a0000001", "inst-1");
let kept = { ...newCopy(), cursor: null };
let loading = (copy) => copy;
let saving = nothing;
let written = null;
globalThis.disk = {
  // As in IndexedDB, what is read after a write began waits for it.
  loadCopy: () => Promise.resolve(written).then(() => loading(structuredClone(kept))),
  cursorOnDisk: () => Promise.resolve(written).then(() => kept.cursor),
  saveCopy: (_, copy) => {
    written = saving().then(() => { kept = structuredClone(copy); });
    return written;
  },
  wipeCopy: nothing, forgetPhotos: nothing, holdRoom: nothing,
  box: { change: async (work) => work(box), look: async () => ({ box, texts: new Map() }), latest: () => ({ box, texts: new Map() }) },
};
let channel;
globalThis.BroadcastChannel = class {
  constructor() { channel = this; }

  postMessage() { this.told = true; }
};
globalThis.navigator ??= {};

const at = (seq) => ({ cursor: `c${seq}`, seen: { epoch: "e", seq } });

test("what is read late does not replace what this tab pulled meanwhile", async () => {
  const { openKeeper } = await import("../../static/kept/keeper.js");
  const ask = async () => ({ dev: "a0000001", clock: "good", results: [], relayed: [], changes: [], epochs: [],
    more: false, need: [], held: [], next_n: 1, now: 1, boot: "b", ...at(2) });
  const keeper = await openKeeper({ vessel: "v", mark: "TGL", dev: "a0000001", ask, told: () => {} });
  kept = { ...kept, ...at(1) };           // another tab pulled, and says so
  let readOn;
  loading = (copy) => new Promise((resolve) => { readOn = () => resolve(copy); });
  const looked = channel.onmessage();
  await new Promise(setImmediate);
  loading = (copy) => copy;
  saving = async () => {
    readOn();
    await new Promise(setImmediate);
  };
  await keeper.sync();
  await looked;
  assert.deepEqual(keeper.seen(), at(2).seen);
});

test("what another tab pulled while one copy was read is read as well", async () => {
  const { openKeeper } = await import("../../static/kept/keeper.js");
  const keeper = await openKeeper({ vessel: "v", mark: "TGL", dev: "a0000001", ask: nothing, told: () => {} });
  const late = [];
  loading = (copy) => new Promise((resolve) => { late.push(() => resolve(copy)); });
  const looked = [3, 4].map((seq) => {
    kept = { ...kept, ...at(seq) };
    return channel.onmessage();
  });
  while (late.length < 2) await new Promise(setImmediate);
  loading = (copy) => copy;
  for (const resolve of late) resolve();
  await Promise.all(looked);
  assert.deepEqual(keeper.seen(), at(4).seen);
});

test("an exchange that comes to no end is not told as a whole one", async () => {
  const { openKeeper } = await import("../../static/kept/keeper.js");
  kept = newCopy();
  saving = nothing;
  let seq = 10;
  const ask = async () => ({ dev: "a0000001", clock: "good", results: [], relayed: [], changes: [], epochs: [],
    more: true, need: [], held: [], next_n: 1, now: 1, boot: "b", ...at(seq += 1) });
  const keeper = await openKeeper({ vessel: "v", mark: "TGL", dev: "a0000001", ask, told: () => {} });
  await assert.rejects(keeper.sync(), { code: "busy" });
  assert.ok(keeper.seen().seq > 1000);       // and what came is kept
});

test("a change that is on the disk is not told as lost where the disk fails after it", async () => {
  const { openKeeper } = await import("../../static/kept/keeper.js");
  kept = newCopy();
  const keeper = await openKeeper({ vessel: "v", mark: "TGL", dev: "a0000001", ask: nothing, told: () => {} });
  disk.box.look = async () => { throw new DOMException("Connection to Indexed Database server lost", "UnknownError"); };
  const part = "part/00000000-0000-4000-8000-000000000001";
  const id = "00000000-0000-4000-8000-000000000009";
  await keeper.record([{ id, kind: "set", body: { doc: part, f: { note: "worn" }, base: {} } }], { path: "documents", body: {}, text: "Noted" });
  assert.deepEqual(keeper.listed().map((one) => one.id), [id]);
});
