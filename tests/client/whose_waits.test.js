// What waits for one vessel says nothing on another's pages, whose parts and trips bear the same numbers.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const trips = { trips: [{ id: "b1", no: "T1", name: "Home", departs_on: "2027-05-01", returns_on: "2027-05-09" }] };
globalThis.fetch = async (url) => {
  if (!String(url).includes("/trips")) throw new TypeError("network");
  return { ok: true, json: async () => (String(url).includes("/T1") ? { ...trips.trips[0], hours: {} } : trips) };
};

const { asked } = await import("../../static/asked-box.js");
const { setVessel, summary } = await import("../../static/state.js");
const { RestockView } = await import("../../static/views/restock.js");
const { withWaiting } = await import("../../static/pieces/trip-read.js");
const outbox = await import("../../static/outbox.js");

const planned = { change_id: "c1", path: "trips", body: { name: "Round the island", departs_on: "2027-06-01", returns_on: "2027-06-08" },
  text: "New trip", vessel: "AAA", problem: { code: "no-answer", detail: "" } };
const changed = { change_id: "c2", path: "trips/T1", body: { name: "Away" }, text: "Changed", vessel: "AAA", problem: null };

test("a trip that is planned aboard one vessel is not listed aboard another", async () => {
  asked.value = [planned, changed];
  setVessel("AAA");
  const own = await show(RestockView);
  await drawn();
  assert.match(own.text(), /Round the island/);
  own.end();
  setVessel("BBB");
  const other = await show(RestockView);
  await drawn();
  assert.match(other.text(), /Home/);
  assert.doesNotMatch(other.text(), /Round the island/);
  other.end();
  assert.equal(withWaiting(trips.trips[0], (outbox.outboxHere ?? outbox.outbox).value).name, "Home");
});

test("until the summary of the vessel now chosen is here, that of the one before is not shown", () => {
  setVessel("AAA");
  summary.value = { vessel: { mark: "AAA", name: "Anna" } };
  setVessel("AAA");
  assert.equal(summary.value?.vessel.name, "Anna");
  setVessel("BBB");
  assert.equal(summary.value, null);
});
