// The browser's own store dies under a page, or has no room: what came to the disk is there once, and what failed is named.
import assert from "node:assert/strict";
import { register } from "node:module";
import test from "node:test";

const asModule = (text) => `data:text/javascript,${encodeURIComponent(text)}`;
register(asModule(`
  export const resolve = (name, context, next) => name.endsWith("/vendor/idb.js")
    ? { url: ${JSON.stringify(asModule("export const openDB = async (...given) => disk.open(...given);"))}, shortCircuit: true }
    : next(name, context);`));

const lost = () => new DOMException("Connection to the store lost", "UnknownError");
const full = () => new DOMException("full", "QuotaExceededError");
const later = () => new Promise((done) => { setTimeout(done, 5); });

/** Databases in memory; `opens` and `ends` say what becomes of the next ones, else all goes well. */
const disk = globalThis.disk = {
  stores: new Map(), opens: [], ends: [], opened: [],
  open(name, _, { terminated } = {}) {
    disk.opened.push(name);
    const fault = disk.opens.find((one) => one.of.test(name));
    if (fault) {
      if (!fault.forEver) disk.opens.splice(disk.opens.indexOf(fault), 1);
      throw fault.error;
    }
    return new Db(name, terminated);
  },
  of: (name) => disk.stores.get(name) ?? disk.stores.set(name, new Map()).get(name),
};
const read = (name, store) => disk.of(`${name} ${store}`);

class Db {
  constructor(name, terminated) { Object.assign(this, { name, terminated }); }

  close() {}

  transaction(stores, mode) {
    const writes = [];
    const tx = { error: null, abort: () => {} };
    const end = mode === "readwrite" && disk.ends.find((one) => one.of.test(this.name));
    if (end) disk.ends.splice(disk.ends.indexOf(end), 1);
    tx.objectStore = (store) => {
      const all = read(this.name, store);
      const asked = async (answer) => {
        await end?.reads;
        return answer();
      };
      const write = async (work) => {
        writes.push(work);
        if (end?.how === "request") throw full();
      };
      return { get: (key) => asked(() => structuredClone(all.get(key))), getKey: (key) => asked(() => (all.has(key) ? key : undefined)),
        getAll: () => asked(() => [...all.values()]), getAllKeys: () => asked(() => [...all.keys()]),
        put: (value, key) => write(() => all.set(key, structuredClone(value))), delete: (key) => write(() => all.delete(key)),
        clear: () => write(() => all.clear()) };
    };
    tx.store = tx.objectStore([stores].flat()[0]);
    const commit = () => writes.forEach((work) => work());
    tx.done = later().then(() => {
      if (!end || end.how === "slow") return commit();
      if (end.how === "request") {      // a failed request is told before its transaction has the error
        setTimeout(() => { tx.error = full(); });
        throw new DOMException("AbortError", "AbortError");
      }
      if (end.how === "commits, and dies") commit();
      end.meanwhile?.();
      this.terminated();
      return new Promise(() => {});
    });
    return tx;
  }

  async clear(store) { read(this.name, store).clear(); }

  async delete(store, key) { read(this.name, store).delete(key); }

  async put(store, value, key) { read(this.name, store).set(key, value); }
}

globalThis.BroadcastChannel = undefined;
globalThis.indexedDB = {};
const { openKeeper } = await import("../../static/kept/keeper.js");
const { openBox } = await import("../../static/kept/box-store.js");
const { saveCopy } = await import("../../static/kept/copy-store.js");
const { keep, newCopy } = await import("../../static/sync/copy.js");
const { newBox, putIn } = await import("../../static/sync/box.js");

const id = "00000000-0000-4000-8000-000000000009";
const draft = { id, kind: "set", body: { doc: "part/00000000-0000-4000-8000-000000000001", f: { note: "worn" }, base: {} } };
const SAID = { path: "documents", body: {}, text: "Noted" };
const waiting = (vessel) => [...read(`spares-box-${vessel}`, "changes").values()].map((text) => JSON.parse(text).id);
let times = 1_800_000_000_000;
const keeperOf = (vessel) => openKeeper({ vessel, mark: "TGL", dev: "a0000001", told: () => {}, now: () => (times += 7) });

test("what came to the disk before its connection died is told so where the next does not open at once", async () => {
  const keeper = await keeperOf("opens");
  disk.ends.push({ of: /box/, how: "commits, and dies" });
  disk.opens.push({ of: /box/, error: new DOMException("closed", "AbortError") });
  await keeper.record([draft], SAID);
  assert.deepEqual(waiting("opens"), [id]);
});

test("a change that is on the disk, and was told as not saved, is there once when it is pressed again", async () => {
  const keeper = await keeperOf("again");
  disk.ends.push({ of: /box/, how: "commits, and dies" });
  disk.opens.push({ of: /box/, error: lost(), forEver: true });
  await assert.rejects(keeper.record([draft], SAID), { code: "phone-trouble" });
  disk.opens.length = 0;
  await keeper.record([draft], SAID);
  assert.deepEqual(waiting("again"), [id]);
  assert.deepEqual(keeper.listed().map((one) => one.id), [id]);
});

test("a page of the version before, which keeps no earlier marks, may write before it is heard", async () => {
  const keeper = await keeperOf("older");
  const about = read("spares-box-older", "about");
  const meanwhile = () => {
    const { earlier, ...plain } = about.get("box");
    about.set("box", { ...plain, mark: "of the older page" });
  };
  disk.ends.push({ of: /box/, how: "commits, and dies", meanwhile });
  await keeper.record([draft], SAID);
  assert.deepEqual(waiting("older"), [id]);
  assert.deepEqual(keeper.listed().map((one) => one.id), [id]);
});

test("an attempt that was given up and goes on late does not stand for the one that was written", async () => {
  const box = openBox({ vessel: "late", dev: "a0000001", inst: "i" });
  let goOn;
  disk.ends.push({ of: /box/, how: "dies", reads: new Promise((resolve) => { goOn = resolve; }) },
    { of: /box/, how: "commits, and dies" });
  let runs = 0;
  const work = (inside) => {
    if ((runs += 1) === 1) setTimeout(goOn);        // the first one's reads are answered now
    putIn(inside, { ...draft, id: `00000000-0000-4000-8000-00000000000${runs}` }, { seen: null, after: "" }, 1);
    return runs;
  };
  assert.equal(await box.change(work), 1);
  assert.equal(waiting("late").length, 1);
  assert.equal(box.latest().mark, read("spares-box-late", "about").get("box").mark);
});

test("a write for which there is no room makes room, whichever way the browser says it", async () => {
  const [rows, about] = [read("spares-copy-room", "rows"), read("spares-box-room", "about")];
  about.set("room", 1);
  disk.ends.push({ of: /copy/, how: "request" });
  const copy = newCopy();
  keep(copy, { id: "one", at: "a" }, 1);
  await saveCopy("room", copy);
  assert.deepEqual([[...rows.keys()], about.has("room")], [["one"], false]);
});

test("the room that is held back is given also where the photos do not open", async () => {
  const [rows, about] = [read("spares-copy-shut", "rows"), read("spares-box-shut", "about")];
  about.set("room", 1);
  disk.ends.push({ of: /copy/, how: "request" });
  disk.opens.push({ of: /photos/, error: full(), forEver: true });
  const copy = newCopy();
  keep(copy, { id: "one", at: "a" }, 1);
  await saveCopy("shut", copy).finally(() => { disk.opens.length = 0; });
  assert.deepEqual([[...rows.keys()], about.has("room")], [["one"], false]);
});

test("a photo that was seen and finds no room costs only itself", async () => {
  const { keepSeen } = await import("../../static/photos/shelf.js");
  for (let time = 0; time < 3; time += 1) disk.ends.push({ of: /photos/, how: "request" });
  await keepSeen("seen", "ab", new ArrayBuffer(3));
  assert.equal(disk.ends.length, 2, "no room is no reason to open it again");
  disk.ends.length = 0;
});

test("what cannot be read says so in a word, not in a browser's number", async () => {
  const { dropQueued, queued } = await import("../../static/photos/shelf.js");
  const { PROBLEM } = await import("../../static/words.js");
  for (const ask of [queued, (of) => dropQueued(of, "ab")]) {
    disk.opens.push({ of: /photos-mute/, error: new DOMException("closing", "InvalidStateError"), forEver: true });     // its code is 11
    const error = await ask("mute").then(() => null, (one) => one);
    disk.opens.length = 0;
    assert.ok(PROBLEM[error.code], String(error.code));
    assert.doesNotMatch(PROBLEM[error.code], /saved/i, "nothing was to be saved");
  }
});
