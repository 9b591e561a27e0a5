// What a phone keeps by name is found again after the connection to its disk died in the background.
import assert from "node:assert/strict";
import test from "node:test";
import { recallFile } from "../../static/phone-files.js";

const disk = new Map([["fit/sheets.json", { etag: "one" }]]);
const answered = (result) => {
  const request = { result };
  queueMicrotask(() => request.onsuccess());
  return request;
};
const opened = [];
const connection = () => ({ isDead: false, transaction() {
  if (this.isDead) throw new DOMException("The database connection is closing.", "InvalidStateError");
  return { objectStore: () => ({ get: (name) => answered(disk.get(name)) }) };
} });
globalThis.indexedDB = { open: () => { opened.push(connection()); return answered(opened.at(-1)); } };

test("a connection that died is opened once more", async () => {
  assert.deepEqual(await recallFile("fit/sheets.json"), { etag: "one" });
  opened[0].isDead = true;
  assert.deepEqual(await recallFile("fit/sheets.json"), { etag: "one" });
  assert.equal(opened.length, 2);
});
