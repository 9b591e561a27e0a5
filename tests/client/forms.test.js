// Forms: what is sent, and which field a fault names.
import assert from "node:assert/strict";
import test from "node:test";
import { readDone } from "../../static/pieces/done-form.js";
import { readExchange } from "../../static/pieces/exchange.js";
import { readMove } from "../../static/pieces/move-form.js";
import { offersFrom, sheetRows } from "../../static/pieces/sheet.js";
import { showDays } from "../../static/dates.js";
import { shareText } from "../../static/pieces/share-list.js";
import { sumText } from "../../static/pieces/trip-short.js";
import { groupLines, listText, stateText } from "../../static/pieces/trip-lines.js";
import { faultsOf } from "../../static/pieces/candidate.js";
import { readReading } from "../../static/views/reading.js";
import { readAccept } from "../../static/pieces/accept-form.js";
import { unknownFuel } from "../../static/pieces/trip-asides.js";
import { effectText } from "../../static/pieces/trip-effect.js";
import { faultsFrom } from "../../static/pieces/trip-form.js";
import { readKit, spentText } from "../../static/pieces/trip-kit.js";
import { protectionTexts } from "../../static/pieces/trip-protection.js";
import { changesOf, readTrip, withWaiting } from "../../static/pieces/trip-read.js";
import { editValues, hoursPerDay, usualValues } from "../../static/pieces/trip-values.js";
import { KIT, PICTURE } from "../../static/words.js";

const none = { day: "", month: "", year: "" };
const typed = { quantity: "2", locker: "L17", to: "", who: "", expires: none, condition: "new", note: "" };
const part = { no: "P034", unit: "pcs" };

test("a movement sends what its kind needs and no more", () => {
  assert.deepEqual(readMove("landed", part, { ...typed, note: " worn " }).body,
    { part: "P034", quantity: 2, locker: "L17", note: "worn" });
  assert.deepEqual(readMove("moved", part, { ...typed, to: "L03" }).body,
    { part: "P034", quantity: 2, from: "L17", to: "L03" });
  assert.deepEqual(readMove("lent", part, { ...typed, who: " Neighbour " }).body,
    { part: "P034", quantity: 2, locker: "L17", who: "Neighbour" });
  const dated = { ...typed, expires: { day: "", month: "6", year: "2031" }, condition: "used-good" };
  assert.deepEqual(readMove("put", part, dated).body,
    { part: "P034", quantity: 2, locker: "L17", condition: "used-good", expires: "2031-06" });
});

test("a movement names the field that is missing", () => {
  assert.deepEqual(Object.keys(readMove("moved", part, { ...typed, quantity: "x", locker: "" }).faults),
    ["quantity", "locker", "to"]);
  assert.deepEqual(Object.keys(readMove("lent", part, typed).faults), ["who"]);
  assert.equal(readMove("put", part, { ...typed, quantity: "0" }).faults.quantity, "too-small");
  assert.deepEqual(readMove("counted", part, { ...typed, quantity: "0" }).faults, {});
});

test("a service done may have a day cut to the year, hours are optional", () => {
  const values = { at: { ...none, year: "2023" }, hours: "", kit: false, by: "", note: "" };
  assert.deepEqual(readDone("S22", values), { faults: {}, body: { service: "S22", at: "2023", kit: false } });
  assert.deepEqual(readDone("S22", { ...values, failed: ["P037"] }).body.failed, ["P037"]);
  assert.deepEqual(readDone("S22", { ...values, at: none, hours: "x" }).faults, { at: "empty", hours: "not-a-number" });
});

test("a doubtful reading needs a reason, only when it was asked for", () => {
  const values = { hours: "603,0", at: { day: "5", month: "1", year: "2027" }, because: " " };
  assert.deepEqual(readReading("HYD", values, false), { faults: {}, body: { machine: "HYD", hours: 603, at: "2027-01-05" } });
  assert.deepEqual(readReading("HYD", values, true).faults, { because: "empty" });
  assert.equal(readReading("HYD", { ...values, because: "read wrong" }, true).body.because, "read wrong");
});

test("an exchange names both lockers, and no old place where nothing sat", () => {
  const fitted = { part: "P007", name: "Coolant pump" };
  assert.deepEqual(readExchange("ENG-04", "P008", fitted, { from: "L05", old: "locker", old_to: "L25" }).body,
    { point: "ENG-04", part: "P008", from: "L05", old_to: "L25" });
  assert.deepEqual(readExchange("ENG-04", "P008", fitted, { from: "", old: "landed", old_to: "" }).body,
    { point: "ENG-04", part: "P008", old_to: "landed" });
  assert.deepEqual(readExchange("ENG-04", "P008", fitted, { from: "", old: "landed", why: "failed" }).body,
    { point: "ENG-04", part: "P008", old_to: "landed", why: "failed" });
  assert.deepEqual(readExchange("ENG-04", "P008", fitted, { from: "", old: "locker", old_to: "" }).faults, { old_to: "choose-one" });
  assert.deepEqual(readExchange("ENG-04", "P008", fitted, { from: "", old: "", old_to: "" }).faults, { old: "choose-one" });
  assert.deepEqual(readExchange("ENG-04", "P008", null, { from: "L05", old: "landed", old_to: "" }).body,
    { point: "ENG-04", part: "P008", from: "L05" });
});

test("a new trip takes the last trip's hours a day, and keeps what was typed over them", () => {
  const last = { hours: { ENG: 210, HBR: 190 }, days: 63, departs_on: "2027-05-03", returns_on: "2027-07-05" };
  const values = { ...usualValues(null), name: " Round ", leave: { day: "1", month: "8", year: "2027" },
    back: { day: "31", month: "8", year: "2027" }, hours: { HBR: "80,5" } };
  const machines = [{ no: "ENG" }, { no: "HBR" }, { no: "AIR" }];
  const { faults, days, body } = readTrip(values, machines, hoursPerDay(last));
  assert.deepEqual(faults, {});
  assert.equal(days, 30);
  assert.deepEqual(body, { name: "Round", departs_on: "2027-08-01", returns_on: "2027-08-31", hours: { ENG: 100, HBR: 80.5 } });
  assert.deepEqual(hoursPerDay(null), {});
});

test("a trip that ends before it begins is refused beside the field", () => {
  const values = { ...usualValues(null), leave: { day: "2", month: "8", year: "2027" }, back: { day: "1", month: "8", year: "2027" } };
  assert.deepEqual(Object.keys(readTrip(values, [], {}).faults), ["back"]);
});

const asTyped = { ...usualValues(null), leave: { day: "1", month: "4", year: "2027" }, back: { day: "13", month: "4", year: "2027" } };

test("a machine's running is said one way only: legs and charging take it out of the hours", () => {
  const values = { ...asTyped, hours: { ENG: "80", HBR: "20", AIR: "3" },
    legs: [{ distance_nm: "60", speed_kn: "6", motor: "50", machines: ["ENG"], day: { day: "3", month: "4", year: "2027" } }],
    energy: { ...asTyped.energy, how: "plain", machine: "HBR", use_kwh: "8,2", charger_kw: "3.2" } };
  const { faults, covered, body } = readTrip(values, [{ no: "ENG" }, { no: "HBR" }, { no: "AIR" }], {});
  assert.deepEqual(faults, {});
  assert.deepEqual([...covered], ["ENG", "HBR"]);
  assert.deepEqual(body, { name: null, departs_on: "2027-04-01", returns_on: "2027-04-13", hours: { AIR: 3 },
    legs: [{ distance_nm: 60, speed_kn: 6, machines: ["ENG"], motor_share: 0.5, day: 2 }],
    energy: { machine: "HBR", use_kwh: 8.2, charger_kw: 3.2 } });
});

test("charging by a machine that is not chosen yet covers none", () => {
  const values = { ...asTyped, energy: { ...asTyped.energy, how: "plain", machine: "", use_kwh: "8", charger_kw: "3" } };
  assert.deepEqual([...readTrip(values, [{ no: "HBR" }], {}).covered], []);
});

test("a new trip has what the form does not show as the last one had it", () => {
  const last = { ready_days: 2, hours_before_departure: "none", count_failures: false, prices: null, border: "north" };
  const { body } = readTrip({ ...asTyped, carried: usualValues(last).carried }, [], {});
  assert.deepEqual(body, { ready_days: 2, hours_before_departure: "none", count_failures: false, name: null,
    departs_on: "2027-04-01", returns_on: "2027-04-13", hours: {} });
});

test("faults of a trip name the field in its row", () => {
  const values = { ...asTyped, hours: { ENG: "x" },
    legs: [{ distance_nm: "60", speed_kn: "0", motor: "120", machines: [], day: { day: "1", month: "5", year: "2027" } }],
    water: { ...asTyped.water, machine: "WMK" },
    stops: [{ name: " ", day: { day: "5", month: "4", year: "2027" }, sells: "all", bunkers: false }] };
  assert.deepEqual(readTrip(values, [{ no: "ENG" }], {}).faults, {
    "hours.ENG": "not-a-number", "legs.0.speed_kn": "too-small", "legs.0.motor": "too-large", "legs.0.day": "not-in-trip",
    "legs.0.machines": "choose-one", "water.crew": "empty", "water.litres_per_person": "empty", "water.output_l_per_h": "empty",
    "stops.0.name": "empty" });
});

test("what the boat's computer does not take stands beside its field", () => {
  const errors = [{ pointer: "#/legs/2/speed_kn", detail: "is too fast" }, { pointer: "#/at_anchor/days", detail: "too many" }, { detail: "?" }];
  assert.deepEqual(faultsFrom({ errors }), { "legs.2.speed_kn": "is too fast", "anchor.days": "too many" });
});

test("a risk is taken by somebody with a name", () => {
  assert.deepEqual(readAccept("T1", "P014", { by: " ", note: "" }, "2027-03-15").faults, { by: "empty" });
  assert.deepEqual(readAccept("T1", "P014", { by: " Anna ", note: "old ones do" }, "2027-03-15").body,
    { trip: "T1", part: "P014", by: "Anna", at: "2027-03-15", note: "old ones do" });
});

test("the last change is said in hours and pieces", () => {
  const effect = { hours: [["HBR", 12]], pieces: [{ part: "P034", name: "Lube oil filter", change: 1 }, { part: "P035", name: "Fuel filter", change: -2 }] };
  assert.equal(effectText(effect, { HBR: "Harbour set" }), "+12 h Harbour set, 1 more Lube oil filter (P034), 2 fewer Fuel filter (P035)");
  assert.equal(effectText({ hours: [["ENG", -16.567], ["HBR", 0.04]], pieces: [] }, {}), "−16.6 h ENG");
  assert.equal(effectText({ hours: [], pieces: [] }, {}), "no difference");
});

test("a kit is asked for by money, by mass, by both, or by a protection", () => {
  const values = { by: "money", level: "0.97", cost: "200", mass_kg: "2,5" };
  assert.equal(readKit(values).query.toString(), "cost=200&mass_kg=2.5");
  assert.equal(readKit({ ...values, by: "level" }).query.toString(), "level=0.97");
  assert.equal(readKit(values, { cost: 818.1, mass_kg: 0 }).query.toString(), "cost=1018.1&mass_kg=2.5");
  assert.equal(spentText({ spent: { cost: 878.9, currency: "EUR", mass_kg: 0.4 }, sure: { cost: 818, mass_kg: 0 } }), "60.90 EUR, 0.4 kg");
  assert.deepEqual(readKit({ ...values, cost: " ", mass_kg: "" }).faults, { cost: "empty" });
  assert.deepEqual(readKit({ ...values, cost: "-5" }).faults, { cost: "too-small" });
});

test("a trip that is changed comes back as it was, and what is cleared is said as nothing", () => {
  const trip = { no: "T1", name: "Round", departs_on: "2027-04-01", returns_on: "2027-04-13", days: 12, hours: { AIR: 3 }, crew: 2,
    legs: [{ name: "out", distance_nm: 60, speed_kn: 6, machines: ["ENG"], motor_share: 0.5, day: 2, manoeuvring_h: 1 }],
    at_anchor: { days: 4, run: [{ machine: "HTR", hours_per_day: 2 }] },
    energy: { machine: "HBR", loads: [{ name: "fridge", watts: 60, hours_per_day: 12, count: 2, ac: true }],
      solar: { peak_w: 250, sun_hours: 4.2, derate: 0.7 }, bank: { volts: 12, ah: 500, from: 0.55, to: 0.85, knee: 0.8 },
      charger: { net_a: 70 }, generator: { rated_kw: 6, load: 0.4, fuel_l_per_h: 1.1 } },
    water: { machine: "WMK", litres_per_person: 12, output_l_per_h: 60, needs_generator: true }, fuel: { tank_l: 400, reserve: "0.2" },
    stops: [{ name: "Quay", arrives_on: "2027-04-06", leaves_on: "2027-04-07", parts: ["P001"], sellers: [], bunkers: true }],
    limits: { cost: 200, currency: "EUR" }, protection: { A: 0.99, B: 0.9 } };
  const machines = ["AIR", "ENG", "HBR", "WMK", "HTR"].map((no) => ({ no }));
  const { faults, body } = readTrip(editValues(trip), machines, {}, { was: trip });
  assert.deepEqual(faults, {});
  const { no, days, ...same } = trip;
  assert.deepEqual(body, same);
  const cleared = { ...editValues(trip), legs: [], hours: { AIR: "" }, energy: usualValues(null).energy };
  const { body: less } = readTrip(cleared, machines, {}, { was: trip });
  assert.deepEqual([less.legs, less.energy, less.hours], [null, null, { AIR: null }]);
});

test("a seller's sum says of how many lines the price is not known", () => {
  const [a, b, c, d] = [{ cost: { amount: "12.50", currency: "EUR" }, buy: 1 }, { cost: { amount: "7.00", currency: "EUR" }, buy: 2 },
    { cost: null, buy: 1 }, { cost: null, buy: 0 }];
  assert.equal(sumText([a, b]), "19.50 EUR");
  assert.equal(sumText([a, c]), "12.50 EUR, 1 without a price");
  assert.equal(sumText([c, { ...c }]), "2 without a price");
  assert.equal(sumText([a, d]), "12.50 EUR");       // nothing of it is bought
  assert.equal(sumText([d]), "");
});

test("days in a sentence are written as elsewhere on the phone", () => {
  assert.equal(showDays("S01 (ENG): 1 on day 8, 2027-05-11: ENG has run 150 h since 2027-05-03"),
    "S01 (ENG): 1 on day 8, 11 May 2027: ENG has run 150 h since 3 May 2027");
  assert.equal(showDays("KR 2027-13-01 and FH 12027-05-11 stay"), "KR 2027-13-01 and FH 12027-05-11 stay");
});

test("protection is said up to the harbour where more can be bought", () => {
  const restock = { lines: [], protection: { reached: 0.913, reached_bought: 0.97, until: "Grimvik" } };
  assert.deepEqual(protectionTexts(restock), [
    "Of 100 such trips, 91 need nothing against breakdown until Grimvik that is not aboard.", "With this list bought: 97."]);
  const whole = { lines: [], protection: { reached: 0.913, until: null } };
  assert.deepEqual(protectionTexts(whole), ["Of 100 such trips, 91 need nothing against breakdown that is not aboard."]);
  assert.deepEqual([0.99, null].map((reached_a) => protectionTexts({ lines: [], protection: { reached: 1, reached_a } })[1]),
    ["Counting only what stops the trip (A): 99.", "Nothing that stops the trip (A) is counted in it."]);
  assert.equal(KIT.reached("91", "97", "Grimvik"), "With what is due bought: 91 of 100 trips until Grimvik. With this kit: 97.");
  assert.match(PICTURE.protection_key("Grimvik"), /breakdown until Grimvik that is not aboard/);
});

test("an engine beyond its fuel table is named with the leg, another one as a whole", () => {
  assert.deepEqual(unknownFuel({ missing: ["ENG", "WIN"],
    too_fast: [{ machine: "ENG", leg: 2, speed_kn: 8.5, table_ends_kn: 7 }, { machine: "ENG", leg: 3, speed_kn: 8, table_ends_kn: 7 }] }), [
    { no: "ENG", text: "What ENG burns at 8.5 kn on leg 2 is not known, and not counted: its table ends at 7 kn" },
    { no: "ENG", text: "What ENG burns at 8 kn on leg 3 is not known, and not counted: its table ends at 7 kn" },
    { no: "WIN", text: "What WIN burns is not known, and not counted" }]);
  assert.deepEqual(unknownFuel({ fuel_l: 3 }), []);
});

test("a leg by hours is read from its fields, not from what it was", () => {
  const trip = { no: "T1", name: "Round", departs_on: "2027-04-01", returns_on: "2027-04-13", days: 12, hours: {},
    legs: [{ name: "calm", hours: 5.5, speed_kn: 5, machines: ["ENG"], day: 3, manoeuvring_h: 0.25 }, { hours: 2, machines: ["ENG"] }] };
  const values = editValues(trip);
  assert.deepEqual(values.legs.map((leg) => leg.hours), ["5.5", "2"]);
  assert.deepEqual(readTrip(values, [], {}, { was: trip }).body.legs, trip.legs);
  const [calm, harbour] = values.legs;
  const changed = { ...values, legs: [{ ...calm, hours: "7,5", speed_kn: "6", machines: ["ENG", "GBX"],
    day: { day: "3", month: "4", year: "2027" } }, { ...harbour, hours: "", distance_nm: "12", speed_kn: "6" }] };
  assert.deepEqual(readTrip(changed, [], {}, { was: trip }).body.legs, [
    { name: "calm", hours: 7.5, speed_kn: 6, machines: ["ENG", "GBX"], manoeuvring_h: 0.25, day: 2 },
    { distance_nm: 12, speed_kn: 6, motor_share: 1, machines: ["ENG"] }]);
  const emptied = { ...values, legs: [{ ...calm, hours: "", speed_kn: "" }] };
  assert.equal(readTrip(emptied, [], {}, { was: trip }).body.legs, null);
});

test("a leg that changes from hours to miles leaves its manoeuvring behind", () => {
  const leg = { hours: 4, machines: ["ENG"], manoeuvring_h: 1 };
  const [shown] = usualValues({ legs: [leg] }).legs;
  const miles = { ...asTyped, legs: [{ ...shown, hours: "", distance_nm: "24", speed_kn: "6" }] };
  assert.deepEqual(readTrip(miles, [], {}).body.legs, [{ distance_nm: 24, speed_kn: 6, motor_share: 1, machines: ["ENG"] }]);
});

test("miles and hours on one leg are refused beside the hours", () => {
  const values = { ...asTyped, legs: [{ distance_nm: "20", speed_kn: "5", hours: "4", motor: "100", machines: ["ENG"], day: none }] };
  assert.deepEqual(readTrip(values, [], {}).faults, { "legs.0.hours": "miles-or-hours" });
});

test("a new trip has the legs of the last one without their days", () => {
  const last = { departs_on: "2027-04-01", returns_on: "2027-06-30", legs: [{ hours: 6, machines: ["ENG"], day: 80 },
    { distance_nm: 30, speed_kn: 6, machines: ["ENG"], motor_share: 1, day: 70 }] };
  const values = { ...asTyped, legs: usualValues(last).legs };
  const { faults, body } = readTrip(values, [], {});
  assert.deepEqual(faults, {});
  assert.deepEqual(body.legs, [{ hours: 6, machines: ["ENG"] }, { distance_nm: 30, speed_kn: 6, motor_share: 1, machines: ["ENG"] }]);
});

test("a harbour shows all that is sold there, and nothing sold is not everything", () => {
  const day = { arrives_on: "2027-04-06" };
  const trip = { no: "T1", name: "Round", departs_on: "2027-04-01", returns_on: "2027-04-13", days: 12, hours: {}, stops: [
    { name: "Quay", ...day, kinds: ["impeller", "drive-belt"], bunkers: false }, { name: "Pontoon", ...day, bunkers: true }] };
  const values = editValues(trip);
  assert.deepEqual(values.stops.map((stop) => [stop.sells, stop.kinds]), [["some", "impeller, drive-belt"], ["none", ""]]);
  const { faults, body } = readTrip(values, [], {}, { was: trip });
  assert.deepEqual(faults, {});
  assert.deepEqual(body.stops, [{ name: "Quay", ...day, sellers: [], parts: [], kinds: ["impeller", "drive-belt"], bunkers: false },
    { name: "Pontoon", ...day, bunkers: true }]);
  const typed = { ...values, stops: [{ ...values.stops[0], kinds: "filter" }] };
  assert.deepEqual(readTrip(typed, [], {}, { was: trip }).body.stops[0].kinds, ["filter"]);
  const some = { ...values, stops: [{ ...values.stops[0], kinds: " " }] };
  assert.deepEqual(readTrip(some, [], {}).faults, { "stops.0.sells": "say-which" });
});

test("a measuring sheet asks in the order that rules out, and offers what was typed", () => {
  const answer = { to_measure: ["pilot_diameter", "rotation", "bolt_circle"], rows: [
    { attr: "bolt_circle", label: "Bolt circle", outcome: "unknown", required: "92.0 mm" },
    { attr: "rotation", label: "Rotation", outcome: "unknown", required: "cw" },
    { attr: "pilot_diameter", label: "Pilot", outcome: "unknown", required: "61.95 mm" }] };
  assert.deepEqual(sheetRows(answer).map((row) => row.key),
    ["pilot_diameter", "rotation.value", "rotation.seen_from", "bolt_circle"]);
  assert.deepEqual(offersFrom({ pilot_diameter: " 61,98 ", bolt_circle: "", "rotation.value": "cw",
    "rotation.seen_from": "shaft-end" }), { pilot_diameter: "61,98", rotation: { value: "cw", seen_from: "shaft-end" } });
  assert.deepEqual(offersFrom({ "rotation.seen_from": "shaft-end" }), {}, "a side alone is no measurement");
  assert.deepEqual(offersFrom({ "come-from": "measured", bore: "16", "rotation.value": "cw" }),
    { bore: { value: "16", origin: { how: "measured" } },
      rotation: { value: "cw", origin: { how: "measured" } } });
});

test("a requirement of the seat asks for what the part has", () => {
  const answer = { rows: [{ attr: "seat_depth", offered_as: "width", label: "Seat depth", required: "8 mm" }] };
  assert.deepEqual(sheetRows(answer).map((row) => row.key), ["width"]);
});

test("a measurement that cannot be read is named at its field", () => {
  assert.deepEqual(faultsOf({ errors: [{ pointer: "#/offers/bolt_circle/value", detail: "not a length" }] }),
    { bolt_circle: "not a length" });
  assert.deepEqual(faultsOf(null), {});
});

const line = (no, state, order_by, more = {}) => ({ part: no, name: `name ${no}`, maker: "Fennholt", number: "FH 1",
  state, order_by, buy: 2, short: 2, minimum: 3, usable: 1, ...more });

test("the short list stands by order-by date, too late first, unknown lead time last", () => {
  const lines = [line("P9", "short", null), line("P2", "order-by", "2027-04-26"), line("P1", "enough", null),
    line("P4", "order-by", "2027-04-17"), line("P3", "too-late", "2027-03-10"), line("P5", "cannot-say", null)];
  const groups = groupLines(lines);
  assert.deepEqual(groups.missing.map((one) => one.part), ["P3", "P4", "P2", "P9"]);
  assert.deepEqual([groups.cannot_say.length, groups.enough.length, groups.accepted.length], [1, 1, 0]);
  assert.deepEqual(groups.missing.map(stateText), ["Too late", "Order by 17 Apr", "Order by 26 Apr", "Short 2"]);
});

test("the shared text holds quantity, name, maker's number and date of each short line", () => {
  const text = listText({ trip: { name: "Round", departs_on: "2027-05-03", returns_on: "2027-07-05" },
    lines: [line("P2", "order-by", "2027-04-26"), line("P1", "enough", null)] });
  assert.match(text, /2 x name P2, Fennholt FH 1 \(order by 26 April 2027\)/);
  assert.ok(!text.includes("name P1"));
});

test("the shared text leaves out what the trip's limit leaves unbought", () => {
  const text = listText({ trip: { name: "Round", departs_on: "2027-05-03", returns_on: "2027-07-05" },
    lines: [line("P2", "order-by", "2027-04-26"), line("P3", "order-by", "2027-04-27", { buy: 0 })] });
  assert.match(text, /2 x name P2/);
  assert.ok(!text.includes("name P3"));
});

test("sharing falls back to copying, then to text to mark", async () => {
  const refuse = async () => { throw new Error("no"); };
  assert.equal(await shareText("x", { share: async () => {} }), "shared");
  assert.equal(await shareText("x", { clipboard: { writeText: async () => {} } }), "copied");
  assert.equal(await shareText("x", { share: refuse, clipboard: { writeText: refuse } }), "by-hand");
  assert.equal(await shareText("x", {}), "by-hand");
});

test("a changed trip says only what differs, and a waiting change is what the next one starts from", () => {
  const trip = { no: "T1", departs_on: "2027-05-01", returns_on: "2027-06-01", hours: { ENG: 40, HBR: 90 } };
  const before = { name: "North", departs_on: "2027-05-01", returns_on: "2027-06-01", hours: { ENG: 40, HBR: 90 } };
  const asked = changesOf({ ...before, returns_on: "2027-06-08", hours: { ENG: 50, HBR: 90 } }, before);
  assert.deepEqual(asked, { returns_on: "2027-06-08", hours: { ENG: 50 } });
  assert.deepEqual(changesOf(before, before), {});
  const entries = [{ path: "trips/T1", body: asked }, { path: "trips/T1", body: { hours: { HBR: null } } }, { path: "trips/T2", body: { name: "x" } }];
  assert.deepEqual(withWaiting(trip, entries), { ...trip, returns_on: "2027-06-08", hours: { ENG: 50 } });
});
