// The day on the phone, and how old the last backup is.
import assert from "node:assert/strict";
import test from "node:test";
import { backupAge } from "../../static/pieces/last-backup.js";
import { seenOn, today } from "../../static/pieces/today.js";

const at = (day) => new Date(`${day}T12:00:00`);

test("today is the boat's computer's while she answers, whatever the phone's own calendar says", () => {
  assert.equal(today(seenOn({ today: "2027-03-15" }, at("2026-01-02")), at("2026-01-02")), "2027-03-15");
  assert.equal(today(null, at("2026-01-02")), "2026-01-02");
});

test("an answer of weeks ago does not hold the day back: the phone goes on counting", () => {
  const kept = JSON.parse(JSON.stringify(seenOn({ today: "2027-03-15" }, at("2027-03-15"))));
  assert.equal(today(seenOn(kept, at("2027-04-02")), at("2027-04-02")), "2027-04-02");
  const ahead = seenOn({ today: "2027-03-15" }, at("2027-03-14"));      // the phone is a day behind her
  assert.equal(today(ahead, at("2027-03-31")), "2027-04-01");
});

test("a backup of eight days ago is old, one of seven is not, and none is told apart", () => {
  const told = (days_ago) => ({ today: "2027-03-15", backup: { days_ago, changes_since: 3, made: "", file: "" } });
  assert.deepEqual(backupAge(told(7), "2027-03-15"), { days: 7, made: "2027-03-08", changes: 3, isOld: false });
  assert.equal(backupAge(told(8), "2027-03-15").isOld, true);
  assert.equal(backupAge({ today: "2027-03-15", backup: null }, "2027-03-15"), null);
});

test("a backup grows older while the boat's computer is silent", () => {
  const kept = { today: "2027-03-15", backup: { days_ago: 1, changes_since: 0, made: "", file: "" } };
  assert.deepEqual(backupAge(kept, "2027-03-29"), { days: 15, made: "2027-03-14", changes: 0, isOld: true });
});
