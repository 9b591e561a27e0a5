// What a form asks of its writer is the role aboard the vessel that the page is about, not that of the phone's own.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

globalThis.fetch = async (url) => {
  if (!String(url).includes("photos")) throw new TypeError("network");
  return { ok: true, json: async () => ({ photos: [], marked_on: [] }) };
};
const { device } = await import("../../static/kept/kept.js");
const { setVessel } = await import("../../static/state.js");
const { KitBag } = await import("../../static/pieces/kit-bag.js");
const { Photos } = await import("../../static/pieces/photos.js");
const { BAG, PHOTO } = await import("../../static/words.js");

const bag = { state: "not-begun", lines: [], locker: "BAG-S1" };

async function offered(own, other) {
  device.value = { role: own, vessel: { id: "a", mark: "AAA" }, vessels: [{ id: "b", mark: "BBB", role: other }], grants: [] };
  setVessel("BBB");
  const [kit, photos] = [await show(KitBag, { service: "S1", bag }), await show(Photos, { of: "part/p1", name: "Filter" })];
  await drawn();
  const found = [kit.text().includes(BAG.gather), photos.text().includes(PHOTO.take)];
  kit.end();
  photos.end();
  device.value = null;
  return found;
}

test("a guest of its own vessel who is crew here gathers kits and takes photos", async () => {
  assert.deepEqual(await offered("guest", "crew"), [true, true]);
});

test("crew of its own vessel who is a guest here is shown no form that would be refused", async () => {
  assert.deepEqual(await offered("crew", "guest"), [false, false]);
});
