// Changes are never lost and never counted twice.
import assert from "node:assert/strict";
import test, { beforeEach } from "node:test";
import { answer, asked, begin, disk, net, refused, taken } from "./outbox_page.js";

const { getJson, newId } = await import("../../static/api.js");
const { keeper } = await import("../../static/kept/kept.js");
const { outbox, record, send, sendWaiting } = await import("../../static/outbox.js");
const { recall } = await import("../../static/phone-store.js");
const { lastChange, revision, setVessel, vessel } = await import("../../static/state.js");

beforeEach(begin);

test("a recorded change leaves the outbox, can be undone and makes the screen ask again", async () => {
  net.answers = [taken()];
  const before = revision.value;
  const done = await record("do/took", { part: "P034", locker: "L17", quantity: 1 }, "Took 1");
  assert.equal(done.state, "recorded");
  assert.equal(outbox.value.length, 0);
  assert.deepEqual(lastChange.value, { change: "c1", text: "Took 1 of P034 from L17" });
  assert.equal(revision.value, before + 1);
  assert.match(asked[0].url, /^\/api\/do\/took/);
});

test("without an answer the change stays, is kept on the phone, and goes again with the same id", async () => {
  net.answers = ["lost", "lost", taken()];
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
  net.answers = [refused()];
  const done = await record("do/took", { locker: "L99" }, "Took 1");
  assert.equal(done.state, "refused");
  assert.deepEqual(outbox.value[0].problem, { code: "invalid-input", detail: "locker: none is called L99" });
  await sendWaiting();
  assert.equal(asked.length, 1);
});

test("a refused form keeps its text itself and gets the fields that are named", async () => {
  net.answers = [refused()];
  const done = await record("do/put", {}, "Put 1", { form: true });
  assert.equal(done.state, "refused");
  assert.equal(done.error.errors[0].pointer, "#/locker");
  assert.equal(outbox.value.length, 0);
});

test("a server that broke down counts as one to ask again", async () => {
  net.answers = [answer(500, { type: "about:blank" }), taken()];
  assert.equal((await record("do/took", {}, "Took 1")).state, "waiting");
  assert.equal((await send(outbox.value[0])).error, null);
});

test("an answer that breaks off behind its head is none: the change stays and goes again", async () => {
  const broken = { ok: true, status: 200, json: async () => { throw new TypeError("network"); } };
  net.answers = [broken, taken()];
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
  net.answers = ["lost", "lost", "lost"];
  await record("do/took", { part: "A" }, "Took A");
  await record("do/took", { part: "B" }, "Took B");
  await sendWaiting();
  assert.equal(asked.length, 3);
  assert.equal(outbox.value.length, 2);
});

test("after an undo nothing is offered for undoing", async () => {
  net.answers = [taken(), answer(200, { undone: "c1", text: "Undid: Took 1" })];
  await record("do/took", {}, "Took 1");
  await record("do/undo", { change: "c1" }, "Undo");
  assert.equal(lastChange.value, null);
});

test("what was recorded aboard another vessel is not offered for undoing aboard this one", async () => {
  net.answers = ["lost", answer(200, { change: "c2", text: "Took 1 aboard this one" }), taken()];
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
  net.answers = ["lost", taken("Took 1 at last")];
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
  net.answers = ["lost"];
  disk.isFull = true;
  const done = await record("do/put", {}, "Put 1", { form: true });
  disk.isFull = false;
  assert.equal(done.error.code, "phone-full");
  assert.equal(outbox.value.length, 0);
});

for (const form of [false, true]) {
  test(`what a full phone sent and heard nothing of goes again with the same id, ${form ? "from its form" : "by its button"}`, async () => {
    net.answers = ["lost", taken()];
    disk.isFull = true;
    await record("do/took", { part: "P035", quantity: 2 }, "Took 2", { form });
    disk.isFull = false;
    if (form) await record("do/took", { part: "P035", quantity: 2 }, "Took 2", { form });
    else await send(outbox.value[0]);
    assert.equal(outbox.value.length, 0);
    assert.equal(asked.length, 2);
    assert.equal(asked[0].body.change_id, asked[1].body.change_id);
    net.answers = [taken()];
    await record("do/took", { part: "P035", quantity: 2 }, "Took 2", { form });     // and the next one is another
    assert.notEqual(asked[2].body.change_id, asked[0].body.change_id);
  });
}

test("a full phone sends all the same while the boat's computer answers", async () => {
  net.answers = [taken()];
  disk.isFull = true;
  assert.equal((await record("do/took", {}, "Took 1")).state, "recorded");
  disk.isFull = false;
});

test("a request of another tab is neither lost nor wiped by this one", async () => {
  net.answers = ["lost", "lost", taken("theirs"), taken("ours"), "lost"];
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
  net.answers = ["lost"];
  await record("do/took", { part: "A" }, "Took A");
  const [entry] = outbox.value;
  disk.setItem("spares.outbox", "[]");
  assert.deepEqual(await send(entry), { answer: null, error: null });
  assert.equal(asked.length, 1);
});

test("a request says how it is asked, and how its form is opened again", async () => {
  net.answers = ["lost"];
  const mend = { draft: "trip.x", values: { name: "Out" }, to: ["restock", "T1", "edit"] };
  await record("trips/T1", { name: "Out" }, "Changed", { method: "PATCH", mend });
  assert.deepEqual(recall("outbox").map((one) => [one.method, one.mend]), [["PATCH", mend]]);
});

test("ids are UUIDs of version 7, which begin with the time and end in chance", () => {
  // 14:22:22 on 22 February 2022 at -05:00, the moment of the examples of RFC 9562's drafts.
  const id = newId(globalThis.crypto, 1645557742000);
  assert.match(id, /^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  assert.notEqual(newId(globalThis.crypto, 1645557742000), id);
  for (const wrong of [-5, 0, 2 ** 48, 8.64e15]) {        // a clock may say anything
    assert.match(newId(globalThis.crypto, wrong), /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  }
});

for (const [code, status] of [["store-damaged", 503], ["store-busy", 503], ["disk-full", 507]]) {
  test(`a change that meets ${code} waits, and goes again with the same id`, async () => {
    net.answers = [answer(status, { type: `/problems/${code}`, detail: "look at the boat's computer" }), taken()];
    const done = await record("do/took", { part: "P034" }, "Took 1");
    assert.equal(done.state, "waiting");
    assert.equal(outbox.value[0].problem.code, code);
    await sendWaiting();
    assert.equal(outbox.value.length, 0);
    assert.equal(asked[0].body.change_id, asked[1].body.change_id);
  });
}

test("why a change of this phone was refused stands there by the code that has a word", () => {
  const change = { id: newId(), as: "refused", code: "not_allowed", say: "no right", body: {},
    text: { path: "do/took", body: {}, text: "Took 1" } };
  keeper.value = { listed: () => [change] };
  assert.deepEqual(outbox.value.map(({ problem }) => problem), [{ code: "not-allowed", detail: "no right" }]);
  keeper.value = null;
});
