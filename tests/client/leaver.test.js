// One who has left the crew opens the app anew: first the phone hands in, only then it forgets its copy.
import assert from "node:assert/strict";
import test from "node:test";

const revoked = { type: "/problems/stopped", title: "Stopped", status: 403, detail: "this device has left the crew", stop: "revoked" };
const done = [];
globalThis.fetch = async () => new Response(JSON.stringify(revoked),
  { status: 403, headers: { "Content-Type": "application/problem+json" } });

const { keepFile, recallFile } = await import("../../static/phone-files.js");
const { recall } = await import("../../static/phone-store.js");
const { lastChange, setLastChange } = await import("../../static/state.js");
const { device, exchange, keeper, startKeeping } = await import("../../static/kept/kept.js");

test("a leaver's phone asks what is lacking before it forgets what only it may still have", async () => {
  device.value = { dev: "a0000001", role: "crew", vessel: { id: "v", mark: "TGL" } };
  keeper.value = { vessel: "v", mark: "TGL", waiting: () => [], listed: () => [], seen: () => null,
    askAboutHeld: async () => done.push("asked about what waits"),
    // As the exchange does when nothing is lacking there: the server turns it away.
    sync: async () => {
      done.push("asked");
      throw Object.assign(new Error("stopped"), { code: "stopped", facts: { stop: "revoked" } });
    },
    wipe: async () => done.push("forgot") };
  await startKeeping();
  assert.deepEqual(done, ["asked about what waits", "asked", "forgot"]);
  assert.equal(exchange.value.stop, "revoked");
});

test("what it kept beside its copy, her fit points, her lists, what was done last, is forgotten as well", async () => {
  setLastChange({ change: "one", text: "Took 1 of P034 from L17" });
  await keepFile("fit/points.json TGL", { bytes: new ArrayBuffer(8) });
  await startKeeping();
  assert.equal(await recallFile("fit/points.json TGL"), null);
  assert.deepEqual([lastChange.value, recall("last_change")], [null, null]);
});
