// Changes that wait go in the order in which they were made, whichever tab they are of.
import assert from "node:assert/strict";
import test, { beforeEach } from "node:test";
import { answer, asked, begin, disk, net, taken, window } from "./outbox_page.js";

const { newId } = await import("../../static/api.js");
const { drop, outbox, record, send, sendWaiting } = await import("../../static/outbox.js");
const { vessel } = await import("../../static/state.js");

beforeEach(begin);

const amounts = () => asked.map(({ body }) => [body.part, body.quantity]);

test("what was made later does not come into the log before what waits", async () => {
  net.answers = ["lost", taken(), taken()];
  await record("do/took", { part: "P034", quantity: 1 }, "Took 1");
  assert.equal((await record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")).state, "recorded");
  assert.deepEqual(amounts(), [["P034", 1], ["P034", 1], ["P034", 4]]);
  assert.equal(outbox.value.length, 0);
});

test("behind what the boat's computer has no time for, what was made later waits too", async () => {
  const busy = () => answer(503, { type: "/problems/store-busy" });
  net.answers = [busy(), busy(), busy(), taken(), taken()];
  await record("do/took", { part: "P034", quantity: 1 }, "Took 1");
  assert.equal((await record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")).state, "waiting");
  await sendWaiting();
  await send(outbox.value[1]);         // by its button
  assert.deepEqual(amounts(), [...Array(4).fill(["P034", 1]), ["P034", 4]]);
});

test("taps of one moment come in the order in which they were made, and one silence answers them all", async () => {
  let silent;
  net.answers = [new Promise((resolve) => { silent = () => resolve("lost"); }), taken(), taken()];
  const both = [record("do/took", { part: "P034", quantity: 1 }, "Took 1"),
    record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")];
  setTimeout(() => silent(), 100);
  assert.deepEqual((await Promise.all(both)).map(({ state }) => state), ["waiting", "waiting"]);
  await sendWaiting();
  assert.deepEqual(amounts(), [["P034", 1], ["P034", 1], ["P034", 4]]);
});

test("a page that is looked at again and again while she is silent asks her once more, not each time", async () => {
  let silent;
  net.answers = [new Promise((resolve) => { silent = () => resolve("lost"); }), "lost", "lost", "lost", taken()];
  const done = record("do/took", { part: "P034", quantity: 1 }, "Took 1");
  while (!asked.length) await new Promise((resolve) => { setTimeout(resolve, 5); });
  const looks = [sendWaiting(), sendWaiting(), sendWaiting()];
  silent();
  await Promise.all([done, ...looks]);
  assert.equal(asked.length, 2);
  await sendWaiting();
  assert.equal(asked.length, 3);
});

test("what another tab is sending is not called recorded before it is", async () => {
  net.answers = ["lost"];
  await record("do/took", { part: "P034" }, "Took 1");
  const locks = { request: async (_name, _how, work) => work(null) };       // held by the other tab
  Object.defineProperty(globalThis, "navigator", { value: { locks }, configurable: true });
  try {
    assert.equal((await send(outbox.value[0])).error?.code, "no-answer");
  } finally {
    delete globalThis.navigator;
  }
});

test("a full phone's tab takes nothing out that another tab put in meanwhile", async () => {
  let silent;
  net.answers = [new Promise((resolve) => { silent = () => resolve("lost"); })];
  disk.isFull = true;
  const done = record("do/took", { part: "A" }, "ours");
  setTimeout(() => {
    disk.isFull = false;
    disk.setItem("spares.outbox", JSON.stringify([{ change_id: newId(), path: "do/took", body: { part: "B" }, text: "theirs",
      problem: { code: "no-answer", detail: "" } }]));
    silent();
  }, 100);
  await done;
  assert.deepEqual(JSON.parse(disk.getItem("spares.outbox")).map((one) => one.text), ["theirs"]);
});

test("what other tabs did on the disk counts for one that found no room there", async () => {
  net.answers = ["lost", "lost", "lost"];
  await record("do/took", { part: "A" }, "sent by another");
  const [entry] = outbox.value;
  disk.isFull = true;
  await send(entry);                     // notes why it waits: no room for that
  disk.isFull = false;
  disk.setItem("spares.outbox", "[]");
  await send(entry);
  assert.equal(asked.length, 2);
  await record("do/took", { part: "B" }, "more");
  assert.deepEqual(outbox.value.map((one) => one.text), ["more"]);
});

test("a page that comes back from where the browser put it aside shows what waits now", async () => {
  net.answers = ["lost"];
  await record("do/took", { part: "A" }, "Took A");
  disk.setItem("spares.outbox", "[]");
  window.dispatchEvent(Object.assign(new Event("pageshow"), { persisted: true }));
  assert.equal(outbox.value.length, 0);
});

test("a request on which the boat's computer breaks each time holds nothing else up for ever", async () => {
  const broken = () => answer(500, null);
  net.answers = [broken(), broken(), taken(), broken(), taken()];
  await record("do/done", { service: "S1" }, "Done");
  assert.equal((await record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")).state, "recorded");
  assert.equal((await record("do/counted", { part: "P035", quantity: 1 }, "Counted 1")).state, "recorded");
  assert.deepEqual(outbox.value.map((one) => [one.text, one.problem.code]), [["Done", "server-fault"]]);
});

test("what waits for a request that another tab is sending is sent a little later", async (t) => {
  net.answers = [taken()];
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const theirs = { change_id: newId(), path: "do/took", body: {}, text: "theirs", vessel: vessel.value, problem: null };
  disk.setItem("spares.outbox", JSON.stringify([theirs]));
  const locks = { request: async (name, _how, work) => work(name.endsWith(theirs.change_id) ? null : {}) };
  Object.defineProperty(globalThis, "navigator", { value: { locks }, configurable: true });
  try {
    assert.equal((await record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")).state, "waiting");
    drop(theirs.change_id);             // the other tab is through
    t.mock.timers.tick(60_000);
    for (let turn = 0; turn < 20; turn += 1) await new Promise((resolve) => { setImmediate(resolve); });
    assert.deepEqual(amounts(), [["P034", 4]]);
  } finally {
    delete globalThis.navigator;
  }
});
