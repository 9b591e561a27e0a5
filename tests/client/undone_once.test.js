// Undo on the list of changes: pressed again it asks once, and what is refused is said at its line.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const disk = new Map();
globalThis.localStorage = { getItem: (key) => disk.get(key) ?? null, setItem: (key, text) => disk.set(key, text), removeItem: (key) => disk.delete(key) };
let now = 10_000;
globalThis.performance.now = () => now;
const line = (id) => ({ id, text: `Took 1 of ${id}`, at: "2027-03-15T10:00:00Z", undone: false, can_undo: true });
let answer = null;      // what the boat's computer says to an undo; null: nothing
globalThis.fetch = async (url, { body } = {}) => {
  if (!body) return { ok: true, json: async () => ({ changes: [line("P034"), line("P037")] }) };
  if (!answer) throw new TypeError("network");
  return answer;
};
const soon = () => new Promise((resolve) => { setTimeout(resolve, 160); });     // it is painted first

const { asked, takeOut } = await import("../../static/asked-box.js");
const { ChangesView } = await import("../../static/views/changes.js");
const { SAY } = await import("../../static/words.js");

const undoAt = (page, at) => page.all((one) => one.localName === "button" && one.textContent.trim() === SAY.undo)[at];
async function press(page, at) {
  const button = undoAt(page, at);
  if (!button.disabled) page.send(button, "click");
  await soon();
}
function takeAllOut() {
  for (const { change_id: id } of asked.value) takeOut(id);
}

test("pressed twice while the boat's computer is away, it waits once, also when the page was left between", async () => {
  const page = await show(ChangesView);
  await press(page, 0);
  now += 5000;
  await press(page, 0);
  page.end();
  const later = await show(ChangesView);
  now += 5000;
  await press(later, 0);
  later.end();
  assert.deepEqual(asked.value.map(({ path, body }) => [path, body.change]), [["do/undo", "P034"]]);
});

test("a second touch of a wet finger takes nothing else back", async () => {
  takeAllOut();
  const page = await show(ChangesView);
  now += 5000;
  await press(page, 0);
  now += 100;
  await press(page, 1);
  page.end();
  assert.deepEqual(asked.value.map(({ body }) => body.change), ["P034"]);
});

test("what is refused is said at its line and leaves nothing behind", async () => {
  takeAllOut();
  answer = { ok: false, status: 409, json: async () => ({ code: "conflict", detail: "it is undone already" }) };
  const page = await show(ChangesView);
  now += 5000;
  await press(page, 1);
  await drawn();
  assert.deepEqual(asked.value, []);
  assert.ok(page.find((one) => one.getAttribute("role") === "alert").closest("li").textContent.includes("P037"));
  assert.equal(undoAt(page, 1).disabled, false);
  page.end();
});
