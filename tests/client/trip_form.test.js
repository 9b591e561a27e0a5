// The form of a trip: what is folded away, and whose hours are asked for.
import assert from "node:assert/strict";
import test from "node:test";
import { foldsTold } from "../../static/pieces/trip-folds.js";
import { readTrip } from "../../static/pieces/trip-read.js";
import { NO_LEG, usualValues } from "../../static/pieces/trip-values.js";

const asTyped = { ...usualValues(null), leave: { day: "1", month: "4", year: "2027" }, back: { day: "13", month: "4", year: "2027" } };

test("a machine that goes by the hours of one that is worked out is not asked for its own", () => {
  const values = { ...asTyped, legs: [{ ...NO_LEG, distance_nm: "60", speed_kn: "6", machines: ["ENG"] }] };
  const machines = [{ no: "ENG" }, { no: "GBX", counter_of: "ENG" }];
  assert.deepEqual([...readTrip(values, machines, {}).covered], ["ENG", "GBX"]);
  const typed = readTrip({ ...values, hours: { GBX: "7" } }, machines, {});
  assert.deepEqual([[...typed.covered], typed.body.hours], [["ENG"], { GBX: 7 }]);
});

test("the headings of a trip's form say what stands in it", () => {
  const machines = [{ no: "WMK", name: "Watermaker" }, { no: "HBR", name: "Harbour set" }];
  const empty = foldsTold(usualValues(null), machines);
  assert.deepEqual(Object.values(empty), ["", "", "", "", "", ""]);
  const values = usualValues({ legs: [{ distance_nm: 84, speed_kn: 7, machines: [] }, { hours: 3, machines: [] }],
    at_anchor: { days: 10, run: [] }, crew: 4, water: { machine: "WMK" }, fuel: { tank_l: 600 },
    energy: { machine: "HBR", use_kwh: 8.2 } });
  assert.deepEqual(foldsTold(values, machines), { legs: "2 legs, 84 nm", anchor: "10 days", energy: "Harbour set",
    water: "4 people, Watermaker", stops: "", limits: "600 L" });
});
