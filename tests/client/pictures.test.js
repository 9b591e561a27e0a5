// Pictures: the numbers behind them, worked out by hand, and that each has its words and table.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { dayAfter } from "../../static/dates.js";
import { hoursCurves, hoursPicture, hoursTable } from "../../static/pictures/hours-curves.js";
import { ofHundred, protectionPicture, protectionTable, stairs } from "../../static/pictures/protection-curve.js";
import { linear, roundTicks } from "../../static/pictures/scale.js";
import { grouped, lanes, timeLine, timeLineTable } from "../../static/pictures/time-line.js";

const trip = { departs_on: "2027-05-03", returns_on: "2027-07-05", days: 63 };
const restock = { trip, hours: { ENG: 210, HBR: 190 }, history_unknown: ["S04"], stops: [{ day: 30, lines: [] }],
  services: [
    { service: "S01", what: "change oil and filter", machine: "ENG", before: 0, days: [8, 53] },
    { service: "S04", what: "renew belt", machine: "ENG", before: 1, days: [] },
    { service: "S22", what: "renew impeller", machine: "HBR", before: 1, days: [63], due_on_arrival: true }] };

/** Draw a component through to plain elements and give them all. */
function elements(node) {
  if (Array.isArray(node)) return node.flatMap(elements);
  if (node === null || typeof node !== "object") return [];
  if (typeof node.type === "function" && node.type.name) return elements(node.type(node.props));
  return [node, ...elements(node.props?.children)];
}
const words = (node) => (Array.isArray(node) ? node.map(words).join("") : node === null || node === undefined || node === false ? ""
  : typeof node === "object" ? words(typeof node.type === "function" && node.type.name ? node.type(node.props) : node.props?.children) : String(node));

test("a scale meets both ends, and round numbers lie inside them", () => {
  const x = linear(0, 63, 40, 340);
  assert.deepEqual([x(0), x(63), x(21)], [40, 340, 140]);
  assert.deepEqual(roundTicks(0, 500, 3), [0, 200, 400]);
  assert.deepEqual(roundTicks(0.75, 1, 4), [0.8, 0.9, 1]);
  assert.equal(dayAfter("2027-02-27", 2), "2027-03-01");
});

test("the time line has a lane a machine, and what is due before leaving stands in front", () => {
  const found = lanes(restock);
  assert.deepEqual(found.map((lane) => [lane.machine, lane.doings.map((one) => [one.service, one.day, one.kind])]), [
    ["ENG", [["S04", null, "unknown"], ["S01", 8, "trip"], ["S01", 53, "trip"]]],
    ["HBR", [["S22", null, "before"], ["S22", 63, "arrival"]]]]);
  assert.equal(found[0].doings[1].on, "2027-05-11");      // 3 May and 8 days
});

test("the table of the time line says every square of the picture", () => {
  const { head, rows } = timeLineTable(restock, { ENG: "Main engine" });
  assert.equal(head.length, 4);
  assert.deepEqual(rows.map((row) => row.slice(0, 3)), [
    ["Main engine", "S04 renew belt", "before leaving"],
    ["Main engine", "S01 change oil and filter", "11 May 2027"],
    ["Main engine", "S01 change oil and filter", "25 June 2027"],
    ["HBR", "S22 renew impeller", "before leaving"], ["HBR", "S22 renew impeller", "5 July 2027"]]);
});

test("marks that would cover one another become one with a number", () => {
  const groups = grouped([{ day: 1 }, { day: 2 }, { day: 40 }], (one) => one.day * 5, 17);
  assert.deepEqual(groups.map((one) => [one.x, one.doings.length]), [[5, 2], [200, 1]]);
});

test("a curve starts where the clock stands, meets the interval, and falls to nothing", () => {
  // 210 h in 63 days is 10/3 h a day. 120 h used of 150: the rest of 30 h takes 9 days, so on day
  // index 8; the next 150 h take 45 days, to the end of day index 53; 30 h are left for the way home.
  const [curve] = hoursCurves({ ...restock, services: [restock.services[0]] },
    [{ service: "S01", every_hours: 150, hours_left: 30 }]);
  assert.equal(curve.start_h, 120);
  const peaks = curve.points.filter(([, hours], at) => curve.points[at + 1]?.[1] === 0 && hours > 1);
  assert.deepEqual(peaks.map(([day, hours]) => [Math.round(day * 1000) / 1000, Math.round(hours * 1000) / 1000]), [[9, 150], [54, 150]]);
  assert.ok(Math.abs(curve.points.at(-1)[1] - 30) < 1e-6);
});

test("where the days of running are told, the curve follows them", () => {
  // The counter stands at 1000 h when leaving, the service was done at 960 h; all 20 h run on the last two days.
  const curves = [{ machine: "A", counter: true, points: [{ day: 0, hours: 1000 }, { day: 8, hours: 1000 }, { day: 10, hours: 1020 }] }];
  const [curve] = hoursCurves({ trip: { ...trip, days: 10 }, hours: { A: 20 }, curves,
    services: [{ service: "S", machine: "A", before: 0, days: [8] }] }, [{ service: "S", every_hours: 45, due_at_hours: 1005, hours_left: 7 }]);
  assert.equal(curve.start_h, 40);
  assert.deepEqual(curve.points.find(([, hours]) => hours === 45), [8.5, 45]);
  assert.deepEqual(curve.points.at(-1), [10, 15]);
});

test("a service by the calendar falls on its day below its interval", () => {
  const [curve] = hoursCurves({ trip: { ...trip, days: 10 }, hours: { A: 10 },
    services: [{ service: "S", machine: "A", before: 0, days: [4] }] }, [{ service: "S", every_hours: 100, hours_left: 80 }]);
  const top = Math.max(...curve.points.map(([, hours]) => hours));
  assert.equal(top, 24);                                  // 20 h used, four days of 1 h
  assert.equal(curve.points.at(-1)[1], 6);
});

test("no curve is drawn where nobody knows the hours, and before leaving it starts from nothing", () => {
  const due = [{ service: "S04", every_hours: 1000, hours_left: null }, { service: "S01", every_hours: 150, hours_left: null }];
  const curves = hoursCurves(restock, due);
  assert.deepEqual(curves.map((one) => [one.service, one.start_h]), [["S04", 0]]);
  assert.deepEqual(hoursTable(curves, trip).rows, [["ENG", "S04 renew belt", "1000.0 h", "0.0 h", "0", "210.0 h"]]);
});

test("protection is cut, never rounded up, and is stairs: it holds until the next piece is paid", () => {
  const curve = [{ cost: 0, protection: 0.5 }, { cost: 40, protection: 0.75 }, { cost: 100, protection: 0.9 }];
  assert.deepEqual(stairs(curve), [[0, 0.5], [40, 0.5], [40, 0.75], [100, 0.75], [100, 0.9]]);
});

test("a protection is said in trips of a hundred as the server says it", () => {
  const { cases } = JSON.parse(readFileSync(new URL("../vectors/trip/of_hundred.json", import.meta.url)));
  assert.ok(cases.length > 30);
  for (const [share, said] of cases) assert.equal(ofHundred(share), said, String(share));
});

test("every picture has a title, a description, one ink, and a table of as many rows as points", () => {
  const kit = { curve: [{ cost: 0, mass_kg: 0, protection: 0.5 }, { cost: 40, mass_kg: null, protection: 0.75 }],
    spent: { cost: 40 }, reached: 0.75, upper_bound: 0.8 };
  assert.equal(protectionTable(kit, "EUR").rows.length, kit.curve.length);
  const curves = hoursCurves(restock, [{ service: "S04", every_hours: 1000 }]);
  for (const picture of [timeLine(restock), hoursPicture(curves, trip), protectionPicture(kit, { unit: "EUR" })]) {
    const all = elements(picture);
    for (const needed of ["title", "desc"]) assert.ok(words(all.find((one) => one.type === needed)).length > 10);
    for (const { props } of all) {
      for (const ink of [props.fill, props.stroke]) assert.ok([undefined, "none", "currentColor"].includes(ink), ink);
      for (const [name, value] of Object.entries(props)) assert.ok(!String(value).includes("NaN"), name);
    }
  }
});
