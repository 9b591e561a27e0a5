// The due list of before, with days gone by and with what was done and read since.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { addMonths, dueNow } from "../../static/domain/due_now.js";
import { shownOn } from "../../static/domain/meter.js";

const line = (facts) => ({ service: "S1", what: "oil", machine: "ENG", points: [], state: "done", due_on: null, due_at_hours: null,
  hours_left: null, days_left: null, estimated: false, last: null, every_hours: null, every_months: null, remarks: [], ...facts });
const nothing = { done: [], read: new Set(), gone: new Map(), shown: new Map() };
const redo = (service, facts = {}, today = "2027-03-15") =>
  dueNow({ today: "2027-03-15", services: [service] }, { ...nothing, ...facts }, today).services[0];

test("months end where the month does", () => {
  assert.equal(addMonths("2026-08-31", 6), "2027-02-28");
  assert.equal(addMonths("2027-11-30", 3), "2028-02-29");
  assert.equal(addMonths("2027-03-15", 12), "2028-03-15");
});

test("a service by date comes due while the phone is away", () => {
  const yearly = line({ every_months: 12, last: { date: "2026-05-01", hours: null }, due_on: "2027-05-01", days_left: 47 });
  assert.equal(redo(yearly).state, "done");
  assert.deepEqual(["2027-04-01", "2027-05-01", "2027-05-02"].map((day) => redo(yearly, {}, day).state), ["coming", "due", "overdue"]);
  assert.equal(redo(yearly, {}, "2027-05-02").days_left, -1);
});

test("a reading brings a service by hours nearer, and nine tenths of it is coming", () => {
  const hourly = line({ every_hours: 100, last: { date: "2027-01-01", hours: 500 }, due_at_hours: 600, hours_left: 50 });
  const at = (hours) => redo(hourly, { read: new Set(["ENG"]), shown: new Map([["ENG", hours]]) });
  assert.deepEqual([589.9, 590, 600, 600.1].map((hours) => at(hours).state), ["done", "coming", "due", "overdue"]);
  assert.equal(at(589.9).hours_left, 10.1);
});

test("work that nobody could date before is known once it was done here", () => {
  const unknown = line({ state: "history-unknown", every_hours: 100, every_months: 6 });
  const done = [{ service: "S1", date: "2027-03-15", hours: 612.5, at_hours: 612.5, first_hours: null }];
  const now = redo(unknown, { done, shown: new Map([["ENG", 612.5]]) });
  assert.deepEqual([now.state, now.due_at_hours, now.hours_left, now.due_on], ["done", 712.5, 100, "2027-09-15"]);
  const noCounter = redo(unknown, { done: [{ ...done[0], hours: null, at_hours: null }] });
  assert.equal(noCounter.state, "history-unknown", "its hours are not known");
});

test("work of an earlier day than the last one known changes nothing", () => {
  const known = line({ every_months: 12, last: { date: "2027-03-01", hours: null }, due_on: "2028-03-01", days_left: 352 });
  assert.deepEqual(redo(known, { done: [{ service: "S1", date: "2026-03-01", hours: null, at_hours: null }] }), known);
});

test("a counter between two readings is told in proportion, and not across a new counter", () => {
  const read = [{ on: "2027-01-01", minutes: 0 }, { on: "2027-01-11", minutes: 6000 }];
  assert.deepEqual(["2026-12-31", "2027-01-01", "2027-01-04", "2027-02-01"].map((on) => shownOn(read, on)), [null, 0, 1800, 6000]);
  assert.equal(shownOn([read[0], { on: "2027-01-11", minutes: 0, new_counter: true }], "2027-01-04"), null);
});

test("what nobody can date is counted from a baseline of this phone, and never good", () => {
  const line = { service: "S33", what: "renew impeller", machine: "BLG", points: [], state: "history-unknown", due_on: null,
    due_at_hours: null, hours_left: null, days_left: null, estimated: false, from_baseline: false, last: null, every_hours: null,
    every_months: 12, remarks: [] };
  const due = { today: "2027-03-15", until: null, baseline_on: null, services: [line] };
  const nothing = { done: [], shown: new Map(), read: new Set(), gone: new Map() };
  const on = (date, today) => dueNow(due, { ...nothing, baseline: { date, hours_of: () => null } }, today).services[0];
  // twelve months from 1 March 2027, by the calendar
  assert.deepEqual([on("2027-03-01", "2027-03-15").state, on("2027-03-01", "2027-03-15").due_on], ["history-unknown", "2028-03-01"]);
  assert.equal(on("2027-03-01", "2028-03-01").state, "due");
  assert.equal(on("2027-03-01", "2028-03-02").state, "overdue");
  const counted = dueNow(due, { ...nothing, baseline: { date: "2027-03-01", hours_of: () => null } }, "2027-03-15");
  const weeks = dueNow(counted, { ...nothing, baseline: { date: "2027-03-01", hours_of: () => null } }, "2028-03-02");
  assert.deepEqual([weeks.services[0].state, weeks.services[0].days_left], ["overdue", -1]);
  assert.equal(dueNow(counted, { ...nothing, baseline: { date: null, hours_of: () => null } }, "2027-03-15").services[0].due_on, null);
});

test("a day of the calendar that passes while the phone is away is said to have been", () => {
  const half = line({ state: "history-unknown", last: { date: "2026-04-01", hours: null }, every_hours: 250, every_months: 12,
    remarks: ["done on 2026-04-01, but nobody knows what its counter showed then; by the calendar it is due on 2027-04-01"] });
  const words = (today) => redo(half, {}, today).remarks[0].split("; ")[1];
  assert.deepEqual(["2027-04-01", "2027-04-02"].map(words),
    ["by the calendar it is due on 2027-04-01", "by the calendar it was due on 2027-04-01"]);
});

const { today: ON, cases: TOLD, without_interval: BARE } = JSON.parse(readFileSync(new URL("../vectors/due/told.json", import.meta.url)));

for (const { what, service, done, readings, baseline_on, again, told } of [...TOLD, ...BARE]) {
  test(`as the server tells it: ${what}`, () => {
    const read = readings.map(({ on, h }) => ({ on, minutes: h * 60 }));
    const hoursOn = (on) => { const minutes = on && shownOn(read, on); return minutes === null || minutes === undefined ? null : minutes / 60; };
    const before = line({ state: again ? "not-wanted" : "history-unknown", every_hours: service.every_h ?? null, every_months: service.every_months ?? null });
    const work = done ? [{ service: "S1", date: done.on, hours: done.at_h ?? null, at_hours: done.at_h ?? hoursOn(done.on),
      first_hours: service.first_h ?? null }] : [];
    const shown = new Map(readings.length ? [["ENG", readings.at(-1).h]] : []);
    const baseline = baseline_on ? { date: baseline_on, hours_of: () => hoursOn(baseline_on) } : undefined;
    const gone = new Map(again ? [["S1", false]] : []);
    const first_of = () => service.first_h ?? null;
    // where its place is fitted again, the answer of before was counted from the same baseline
    const kept = { today: ON, baseline_on: again ? baseline_on ?? null : null, services: [before] };
    const now = dueNow(kept, { ...nothing, done: work, shown, gone, baseline, first_of }, ON).services[0];
    const { due_at_hours: due_at_h, state, due_on, days_left, hours_left, remarks } = now;
    assert.deepEqual({ state, due_on, days_left, hours_left, due_at_h, remarks }, told);
  });
}
