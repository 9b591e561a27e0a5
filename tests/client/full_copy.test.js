// A full phone gives the room it held back to the copy of the log too, before it says that it is full.
import assert from "node:assert/strict";
import { register } from "node:module";
import test from "node:test";

const asModule = (text) => `data:text/javascript,${encodeURIComponent(text)}`;
register(asModule(`
  export const resolve = (name, context, next) => context.parentURL?.endsWith("/kept/open.js") && name.endsWith("/idb.js")
    ? { url: ${JSON.stringify(asModule("export const openDB = async (name) => disk.open(name);"))}, shortCircuit: true }
    : next(name, context);`));

const full = () => Object.assign(new Error("full"), { name: "QuotaExceededError" });
let hasRoomHeldBack;
const rows = new Map();
/** Databases of which nothing can be written as long as the room is held back. */
globalThis.disk = {
  open: (name) => ({
    name, close: () => {}, clear: async () => {},
    delete: async (store, key) => { if (key === "room") hasRoomHeldBack = false; },
    transaction: () => {
      const put = async (value, key) => {
        if (hasRoomHeldBack) throw full();
        rows.set(key, value);
      };
      const tx = { abort: () => {}, objectStore: () => ({ put, clear: async () => rows.clear(), delete: async (key) => rows.delete(key) }) };
      // Decided when the work was asked for, as a transaction that ends itself.
      tx.done = new Promise((resolve, reject) => { setTimeout(() => (hasRoomHeldBack ? reject(full()) : resolve()), 5); });
      return tx;
    },
  }),
};

test("what was pulled is kept whole once room was made", async () => {
  const { saveCopy } = await import("../../static/kept/copy-store.js");
  const { keep, newCopy } = await import("../../static/sync/copy.js");
  hasRoomHeldBack = true;
  const copy = newCopy();
  keep(copy, { id: "one", at: "a" }, 1);
  await saveCopy("v", copy);
  assert.equal(hasRoomHeldBack, false);
  assert.deepEqual([...rows.keys()], ["one", "copy"]);
});
