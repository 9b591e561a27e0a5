// Wet glass touches twice: what takes something for good, or says that a place was looked at, takes one touch as one.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

let now = 10_000;
globalThis.performance.now = () => now;
const sent = [];
globalThis.fetch = async (url, { body } = {}) => {
  sent.push([String(url), body && JSON.parse(body)]);
  throw new TypeError("network");
};

const { asked } = await import("../../static/asked-box.js");
const { OutboxBar } = await import("../../static/pieces/bars.js");
const { TrailPlace } = await import("../../static/pieces/trail-place.js");
const { SAY, TRAIL } = await import("../../static/words.js");

const waiting = { change_id: "c1", path: "do/took", body: { part: "P034", locker: "L17", quantity: 1 }, text: "Took 1", method: "POST",
  vessel: null, problem: { code: "not-found", detail: "" } };

test("a change that waits is dropped by two touches on purpose, not by one of a wet finger", async () => {
  asked.value = [waiting];
  const page = await show(OutboxBar);
  page.press(SAY.drop);
  await drawn();
  now += 80;
  page.press(SAY.drop_asked);
  await drawn();
  assert.deepEqual(asked.value.map(({ change_id: id }) => id), ["c1"]);
  now += 900;
  page.press(SAY.drop_asked);
  await drawn();
  assert.equal(page.find(SAY.drop_asked), undefined);
  page.end();
});

test("of two touches at once only one place of a trail is said to be looked at", async () => {
  const place = (number) => ({ place: `p${number}`, number, name: `Place ${number}`, state: "not-looked", found: 0, looks: [], parts: [] });
  const trail = { no: "T1", next: "p1", do_not_run: true, missing: 1 };
  const [first, second] = [await show(TrailPlace, { trail, place: place(1), by: "" }), await show(TrailPlace, { trail, place: place(2), by: "" })];
  now += 5000;
  first.press(TRAIL.nothing);
  now += 100;                   // the next place has moved up under the finger
  second.press(TRAIL.nothing);
  await new Promise((resolve) => { setTimeout(resolve, 150); });       // it is painted first
  const looks = sent.filter(([url]) => url.includes("do/trail-look")).map(([, body]) => body.place);
  assert.deepEqual(looks, ["p1"]);
  first.end();
  second.end();
});
