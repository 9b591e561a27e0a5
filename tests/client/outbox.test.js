// Changes are never lost and never counted twice.
import assert from "node:assert/strict";
import test, { beforeEach } from "node:test";

const window = new EventTarget();
globalThis.addEventListener = (name, hear) => window.addEventListener(name, hear);
const { getJson, newId } = await import("../../static/api.js");
const { drop, outbox, record, send, sendWaiting } = await import("../../static/outbox.js");
const { recall } = await import("../../static/phone-store.js");
const { lastChange, revision, setLastChange, setVessel, vessel } = await import("../../static/state.js");

const asked = [];
let answers;

/** A browser's storage, which can be full. */
const disk = { kept: new Map(), isFull: false,
  getItem(key) { return this.kept.get(key) ?? null; },
  setItem(key, text) {
    if (this.isFull) throw new DOMException("full", "QuotaExceededError");
    this.kept.set(key, text);
  },
  removeItem(key) { this.kept.delete(key); } };
globalThis.localStorage = disk;

function answer(status, body) {
  return { ok: status < 400, status, json: async () => body };
}

globalThis.fetch = async (url, options) => {
  asked.push({ url, body: JSON.parse(options.body) });
  const next = await answers.shift();
  if (next === "lost") throw new TypeError("network");
  return next;
};

const taken = (text = "Took 1 of P034 from L17") => answer(200, { change: "c1", text, was_new: true });
const refused = () => answer(422, { type: "/problems/invalid-input", detail: "locker: none is called L99",
  errors: [{ pointer: "#/locker", detail: "not found" }] });

beforeEach(() => {
  asked.length = 0;
  for (const entry of outbox.value) drop(entry.change_id);
  setLastChange(null);
});

test("a recorded change leaves the outbox, can be undone and makes the screen ask again", async () => {
  answers = [taken()];
  const before = revision.value;
  const done = await record("do/took", { part: "P034", locker: "L17", quantity: 1 }, "Took 1");
  assert.equal(done.state, "recorded");
  assert.equal(outbox.value.length, 0);
  assert.deepEqual(lastChange.value, { change: "c1", text: "Took 1 of P034 from L17" });
  assert.equal(revision.value, before + 1);
  assert.match(asked[0].url, /^\/api\/do\/took/);
});

test("without an answer the change stays, is kept on the phone, and goes again with the same id", async () => {
  answers = ["lost", "lost", taken()];
  const done = await record("do/took", { part: "P034" }, "Took 1");
  assert.equal(done.state, "waiting");
  assert.equal(outbox.value[0].problem.code, "no-answer");
  assert.equal(recall("outbox")[0].change_id, outbox.value[0].change_id);
  await sendWaiting();
  await sendWaiting();
  assert.equal(outbox.value.length, 0);
  assert.equal(new Set(asked.map((one) => one.body.change_id)).size, 1);
  assert.equal(asked.length, 3);
});

test("a refused change stays in sight with the reason, and is not sent again by itself", async () => {
  answers = [refused()];
  const done = await record("do/took", { locker: "L99" }, "Took 1");
  assert.equal(done.state, "refused");
  assert.deepEqual(outbox.value[0].problem, { code: "invalid-input", detail: "locker: none is called L99" });
  await sendWaiting();
  assert.equal(asked.length, 1);
});

test("a refused form keeps its text itself and gets the fields that are named", async () => {
  answers = [refused()];
  const done = await record("do/put", {}, "Put 1", { form: true });
  assert.equal(done.state, "refused");
  assert.equal(done.error.errors[0].pointer, "#/locker");
  assert.equal(outbox.value.length, 0);
});

test("a server that broke down counts as one to ask again", async () => {
  answers = [answer(500, { type: "about:blank" }), taken()];
  assert.equal((await record("do/took", {}, "Took 1")).state, "waiting");
  assert.equal((await send(outbox.value[0])).error, null);
});

test("an answer that breaks off behind its head is none: the change stays and goes again", async () => {
  const broken = { ok: true, status: 200, json: async () => { throw new TypeError("network"); } };
  answers = [broken, taken()];
  const done = await record("do/took", { part: "P034" }, "Took 1", { form: true });
  assert.equal(done.state, "waiting");
  await sendWaiting();
  assert.equal(outbox.value.length, 0);
  assert.equal(asked[0].body.change_id, asked[1].body.change_id);
});

test("an answer that stalls behind its head is given up, so that the next can be asked", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  let ends;
  const heard = new Promise((resolve) => { ends = resolve; });
  const { fetch } = globalThis;
  globalThis.fetch = async (_url, { signal }) => ({ ok: true, status: 200, json: () => new Promise((_, fail) => {
    signal.addEventListener("abort", () => fail(new DOMException("aborted", "AbortError")));
    ends();
  }) });
  try {
    const done = getJson("summary");
    await heard;
    t.mock.timers.tick(10 * 60_000);
    await assert.rejects(done, { code: "no-answer" });
  } finally {
    globalThis.fetch = fetch;
  }
});

test("one lost answer stops the round, the others wait their turn", async () => {
  answers = ["lost", "lost", "lost"];
  await record("do/took", { part: "A" }, "Took A");
  await record("do/took", { part: "B" }, "Took B");
  await sendWaiting();
  assert.equal(asked.length, 3);
  assert.equal(outbox.value.length, 2);
});

test("after an undo nothing is offered for undoing", async () => {
  answers = [taken(), answer(200, { undone: "c1", text: "Undid: Took 1" })];
  await record("do/took", {}, "Took 1");
  await record("do/undo", { change: "c1" }, "Undo");
  assert.equal(lastChange.value, null);
});

test("what was recorded aboard another vessel is not offered for undoing aboard this one", async () => {
  answers = ["lost", answer(200, { change: "c2", text: "Took 1 aboard this one" }), taken()];
  setVessel("AAA");
  await record("do/took", { part: "P034" }, "Took 1");
  setVessel("BBB");
  await record("do/took", { part: "P035" }, "Took 1");
  await sendWaiting();
  assert.equal(lastChange.value?.change, "c2");
  setVessel(null);
  assert.match(asked[2].url, /vessel=AAA/);
  assert.equal(outbox.value.length, 0);
});

test("what cannot be kept is said to be unsaved, stays in sight, and is recorded again by a press", async () => {
  answers = ["lost", taken("Took 1 at last")];
  disk.isFull = true;
  const done = await record("do/took", { part: "P034" }, "Took 1");
  assert.equal(done.state, "refused");
  assert.equal(done.error.code, "phone-full");
  assert.deepEqual(outbox.value.map((entry) => [entry.text, entry.problem.code, entry.unsaved]), [["Took 1", "phone-full", true]]);
  disk.isFull = false;
  await send(outbox.value[0]);
  assert.equal(outbox.value.length, 0);
  assert.equal(lastChange.value.text, "Took 1 at last");
});

test("a form that cannot be kept holds its own text", async () => {
  answers = ["lost"];
  disk.isFull = true;
  const done = await record("do/put", {}, "Put 1", { form: true });
  disk.isFull = false;
  assert.equal(done.error.code, "phone-full");
  assert.equal(outbox.value.length, 0);
});

for (const form of [false, true]) {
  test(`what a full phone sent and heard nothing of goes again with the same id, ${form ? "from its form" : "by its button"}`, async () => {
    answers = ["lost", taken()];
    disk.isFull = true;
    await record("do/took", { part: "P035", quantity: 2 }, "Took 2", { form });
    disk.isFull = false;
    if (form) await record("do/took", { part: "P035", quantity: 2 }, "Took 2", { form });
    else await send(outbox.value[0]);
    assert.equal(outbox.value.length, 0);
    assert.equal(asked.length, 2);
    assert.equal(asked[0].body.change_id, asked[1].body.change_id);
    answers = [taken()];
    await record("do/took", { part: "P035", quantity: 2 }, "Took 2", { form });     // and the next one is another
    assert.notEqual(asked[2].body.change_id, asked[0].body.change_id);
  });
}

test("a full phone sends all the same while the boat's computer answers", async () => {
  answers = [taken()];
  disk.isFull = true;
  assert.equal((await record("do/took", {}, "Took 1")).state, "recorded");
  disk.isFull = false;
});

test("a request of another tab is neither lost nor wiped by this one", async () => {
  answers = ["lost", "lost", taken("theirs"), taken("ours"), "lost"];
  await record("do/took", { part: "A" }, "ours");
  const [entry] = recall("outbox");
  const theirs = { ...entry, change_id: newId(), text: "theirs", problem: null };     // its tab was closed while it was sent
  disk.setItem("spares.outbox", JSON.stringify([theirs, entry]));
  await record("do/took", { part: "B" }, "more");
  assert.deepEqual(recall("outbox").map((one) => one.text), ["theirs", "ours", "more"]);
  await sendWaiting();
  assert.deepEqual(recall("outbox").map((one) => one.text), ["more"]);
});

test("what another tab has sent meanwhile is not sent again", async () => {
  answers = ["lost"];
  await record("do/took", { part: "A" }, "Took A");
  const [entry] = outbox.value;
  disk.setItem("spares.outbox", "[]");
  assert.deepEqual(await send(entry), { answer: null, error: null });
  assert.equal(asked.length, 1);
});

test("a request says how it is asked, and how its form is opened again", async () => {
  answers = ["lost"];
  const mend = { draft: "trip.x", values: { name: "Out" }, to: ["restock", "T1", "edit"] };
  await record("trips/T1", { name: "Out" }, "Changed", { method: "PATCH", mend });
  assert.deepEqual(recall("outbox").map((one) => [one.method, one.mend]), [["PATCH", mend]]);
});

test("ids are version 4 UUIDs, with or without randomUUID", () => {
  const plain = { getRandomValues: (bytes) => globalThis.crypto.getRandomValues(bytes) };
  for (const source of [globalThis.crypto, plain]) {
    assert.match(newId(source), /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    assert.notEqual(newId(source), newId(source));
  }
});

for (const [code, status] of [["store-damaged", 503], ["store-busy", 503], ["disk-full", 507]]) {
  test(`a change that meets ${code} waits, and goes again with the same id`, async () => {
    answers = [answer(status, { type: `/problems/${code}`, detail: "look at the boat's computer" }), taken()];
    const done = await record("do/took", { part: "P034" }, "Took 1");
    assert.equal(done.state, "waiting");
    assert.equal(outbox.value[0].problem.code, code);
    await sendWaiting();
    assert.equal(outbox.value.length, 0);
    assert.equal(asked[0].body.change_id, asked[1].body.change_id);
  });
}

const amounts = () => asked.map(({ body }) => [body.part, body.quantity]);

test("what was made later does not come into the log before what waits", async () => {
  answers = ["lost", taken(), taken()];
  await record("do/took", { part: "P034", quantity: 1 }, "Took 1");
  assert.equal((await record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")).state, "recorded");
  assert.deepEqual(amounts(), [["P034", 1], ["P034", 1], ["P034", 4]]);
  assert.equal(outbox.value.length, 0);
});

test("behind what the boat's computer has no time for, what was made later waits too", async () => {
  const busy = () => answer(503, { type: "/problems/store-busy" });
  answers = [busy(), busy(), busy(), taken(), taken()];
  await record("do/took", { part: "P034", quantity: 1 }, "Took 1");
  assert.equal((await record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")).state, "waiting");
  await sendWaiting();
  await send(outbox.value[1]);         // by its button
  assert.deepEqual(amounts(), [...Array(4).fill(["P034", 1]), ["P034", 4]]);
});

test("taps of one moment come in the order in which they were made, and one silence answers them all", async () => {
  let silent;
  answers = [new Promise((resolve) => { silent = () => resolve("lost"); }), taken(), taken()];
  const both = [record("do/took", { part: "P034", quantity: 1 }, "Took 1"),
    record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")];
  setTimeout(() => silent(), 100);
  assert.deepEqual((await Promise.all(both)).map(({ state }) => state), ["waiting", "waiting"]);
  await sendWaiting();
  assert.deepEqual(amounts(), [["P034", 1], ["P034", 1], ["P034", 4]]);
});

test("what another tab is sending is not called recorded before it is", async () => {
  answers = ["lost"];
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
  answers = [new Promise((resolve) => { silent = () => resolve("lost"); })];
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
  answers = ["lost", "lost", "lost"];
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
  answers = ["lost"];
  await record("do/took", { part: "A" }, "Took A");
  disk.setItem("spares.outbox", "[]");
  window.dispatchEvent(Object.assign(new Event("pageshow"), { persisted: true }));
  assert.equal(outbox.value.length, 0);
});

test("a request on which the boat's computer breaks each time holds nothing else up for ever", async () => {
  const broken = () => answer(500, null);
  answers = [broken(), broken(), taken(), broken(), taken()];
  await record("do/done", { service: "S1" }, "Done");
  assert.equal((await record("do/counted", { part: "P034", quantity: 4 }, "Counted 4")).state, "recorded");
  assert.equal((await record("do/counted", { part: "P035", quantity: 1 }, "Counted 1")).state, "recorded");
  assert.deepEqual(outbox.value.map((one) => [one.text, one.problem.code]), [["Done", "server-fault"]]);
});

test("what waits for a request that another tab is sending is sent a little later", async (t) => {
  answers = [taken()];
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
