// What lines say about places, counts and fits.
import assert from "node:assert/strict";
import test from "node:test";
import { chooseHere, countText, whyText } from "../../static/pieces/answer-card.js";
import { byLocker, fitsText, quantityText, whereText } from "../../static/pieces/lines.js";
import { lockersFor } from "../../static/pieces/picker.js";
import { rowsInOrder } from "../../static/pieces/verdict.js";
import { treeOf } from "../../static/views/machine.js";
import { groupServices } from "../../static/views/work.js";

const cell = (locker, quantity, more = {}) => ({ locker, name: `name of ${locker}`, code: "EMJR", quantity,
  low: quantity, high: quantity, counted: true, aboard: true, reachable: true, condition: "new", expires: null, ...more });
const impeller = { no: "P037", unit: "pcs", state: "enough", tags: [],
  fits: [{ point: "HBR-04", name: "pump impeller", machine: "HBR", machine_name: "Harbour set, diesel, 9 kW 230 V",
    role: "takes", proof: "makers-list", live: true }],
  where: [cell("L17", 1, { expires: "2031-06-30" }), cell("L03", 1, { expires: "2031-06-30" })] };

test("lots of one locker are one place, their counts added", () => {
  const places = byLocker([cell("L05", 1), cell("L05", 2, { condition: "used-good" }), cell("L06", 4)]);
  assert.deepEqual(places.map((place) => [place.locker, place.quantity, place.lots.length]), [["L05", 3, 2], ["L06", 4, 1]]);
  assert.equal(byLocker([cell("L05", 1), cell("L05", 0, { counted: false })])[0].counted, false);
});

test("a count in doubt shows its range, a missing one says so", () => {
  assert.equal(quantityText(cell("L05", 2, { low: 1, high: 2 }), "pcs"), "1 to 2");
  assert.equal(quantityText(cell("L05", 0, { counted: false }), "pcs"), "not counted here");
  assert.equal(quantityText(cell("L05", 5), "L"), "5 L");
});

test("the card says locker, counts and why as one reads them", () => {
  const places = byLocker(impeller.where);
  const here = chooseHere(places, null);
  assert.equal(here.locker, "L17");
  assert.equal(countText(impeller, places, here), "1 here, 1 in L03");
  assert.equal(whyText(impeller, here), "maker's list · new · until June 2031");
  assert.equal(fitsText(impeller), "Harbour set · pump impeller");
  assert.equal(chooseHere(places, "L03").locker, "L03");
});

test("pieces ashore or lent are not offered first and say where they are", () => {
  const where = [cell("L25", 1, { aboard: false }), cell("L03", 2)];
  assert.equal(chooseHere(byLocker(where), null).locker, "L03");
  assert.equal(whereText({ where, unit: "pcs" }), "1 in L25 (ashore), 2 in L03");
  assert.equal(whereText({ where: [], unit: "pcs" }), "No place aboard");
  assert.equal(whereText({ where: [cell("LENT1", 1, { aboard: false, lent_to: "Anna" }), cell("L03", 2)], unit: "pcs" }), "1 lent, 2 in L03");
  assert.equal(chooseHere([], null), null);
});

test("a place that is empty says so, and one that this phone does not know is not said to be none", () => {
  const [here, other] = byLocker([cell("L17", 0), cell("L03", 1)]);
  assert.equal(countText({ unit: "pcs" }, [here, other], here), "none here, 1 in L03");
  assert.equal(whereText({ no: "P037", name: "Impeller" }), "Place not known on this phone");
  assert.equal(fitsText({ no: "P037", name: "Impeller" }), "");
});

test("a stranded part and one whose fits nobody wrote down are told apart", () => {
  const dead = { ...impeller.fits[0], live: false };
  assert.equal(fitsText({ fits: [dead], tags: ["stranded"] }), "Fits nothing as fitted today");
  assert.equal(fitsText({ fits: [], tags: [] }), "Fits not recorded");
});

test("a part tried and refused is not said to fit", () => {
  const fits = [{ ...impeller.fits[0], proof: "tried-no", name: "drive belt" }, impeller.fits[0]];
  assert.equal(fitsText({ fits, tags: [] }), "Harbour set · pump impeller");
});

test("lockers are found by number, by code and by words", () => {
  const lockers = [{ no: "L03", name: "Engine room, starboard drawer: seals", code: "F3JE" },
    { no: "L17", name: "Forepeak, box on frame 6: harbour set", code: "EMJR" }];
  assert.deepEqual(lockersFor(lockers, "l17").map((one) => one.no), ["L17"]);
  assert.deepEqual(lockersFor(lockers, "em-jr").map((one) => one.no), ["L17"]);
  assert.deepEqual(lockersFor(lockers, "draw eng").map((one) => one.no), ["L03"]);
  assert.equal(lockersFor(lockers, "EMRJ").length, 0);
});

test("the row that rules out stands first, what matches last", () => {
  const rows = ["match", "advisory", "unknown", "stop", "change"].map((outcome) => ({ outcome }));
  assert.deepEqual(rowsInOrder(rows).map((row) => row.outcome), ["stop", "unknown", "change", "advisory", "match"]);
});

test("fit points stand under the one they sit on", () => {
  const tree = treeOf([{ no: "A", parent: null }, { no: "B", parent: "A" }, { no: "C", parent: "B" }, { no: "D", parent: "gone" }]);
  assert.deepEqual(tree.map((node) => node.point.no), ["A", "D"]);
  assert.equal(tree[0].inside[0].inside[0].point.no, "C");
});

test("services are grouped, overdue before due and unknown apart", () => {
  const states = ["done", "due", "history-unknown", "overdue", "coming", "not-wanted", "a-new-state"];
  const groups = groupServices(states.map((state) => ({ state })));
  const shown = (name) => groups[name].map((service) => service.state);
  assert.deepEqual([shown("due"), shown("unknown"), shown("coming"), shown("later")],
    [["overdue", "due"], ["history-unknown"], ["coming"], ["done", "not-wanted", "a-new-state"]]);
});
