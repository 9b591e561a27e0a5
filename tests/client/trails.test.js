// A broken piece on the phone: what is sent, which field a fault names, where the mark stands.
import assert from "node:assert/strict";
import test from "node:test";
import { stateOf } from "../../static/domain/trail.js";
import { leftText, stoppedBy } from "../../static/pieces/do-not-run.js";
import { readFirstRun } from "../../static/pieces/trail-first-run.js";
import { readAcceptance, readCount } from "../../static/pieces/trail-close.js";
import { readPlace } from "../../static/pieces/trail-order.js";
import { sealText } from "../../static/pieces/trail-place.js";
import { chosenPlaces, readBegin } from "../../static/views/trail-new.js";

const flow = { flow: "note-1", places: [
  { name: "strainer", opens: "", seal: "", point: null, upstream: true },
  { name: "oil cooler", opens: "hose", seal: "", point: null, upstream: false },
  { name: "cap", opens: "", seal: "gasket", point: "HBR-06", upstream: false }] };
const typed = { what: " blade ", missing: "1", of_pieces: "", by: "", point: "", off: [] };

test("a trail begins with the places downstream, and with those that were ticked", () => {
  assert.deepEqual(readBegin("HBR", typed, flow, "2027-03-15"), { faults: {}, body: { machine: "HBR", what: "blade", missing: 1,
    at: "2027-03-15", places: [{ name: "oil cooler", opens: "hose" }, { name: "cap", seal: "gasket", point: "HBR-06" }] } });
  assert.deepEqual(chosenPlaces(flow, ["cap", "+strainer"]).map((one) => one.name), ["strainer", "oil cooler"]);
});

test("how many are missing may be left empty, for nobody knows; else it is whole and no more than there were", () => {
  assert.deepEqual(readCount({ missing: "", of_pieces: "" }), { faults: {}, body: {} });
  assert.deepEqual(readCount({ missing: "2", of_pieces: "6" }), { faults: {}, body: { missing: 2, of_pieces: 6 } });
  assert.deepEqual(readCount({ missing: "7", of_pieces: "6" }).faults, { missing: "more-than-all" });
  assert.deepEqual(readCount({ missing: "0", of_pieces: "1,5" }).faults, { missing: "too-small", of_pieces: "not-whole" });
  assert.deepEqual(Object.keys(readBegin("HBR", { ...typed, what: " ", missing: "x" }, flow, "2027-03-15").faults), ["missing", "what"]);
});

test("pieces stay missing only with name and reason; a place needs its name", () => {
  assert.deepEqual(readAcceptance("HBR-T1", { by: "Tove", why: " " }, "2027-03-15").faults, { why: "empty" });
  assert.deepEqual(readAcceptance("HBR-T1", { by: " Tove ", why: "flushed" }, "2027-03-15").body,
    { trail: "HBR-T1", by: "Tove", why: "flushed", at: "2027-03-15" });
  assert.deepEqual(readPlace("HBR-T1", null, { name: " ", opens: "", seal: "", before: "" }).faults, { name: "empty" });
});

test("the first run afterwards tells flow or temperature, or both", () => {
  const typed_run = { flow: " as before ", temperature_c: "82,5", by: "" };
  assert.deepEqual(readFirstRun("HBR-T1", typed_run, "2027-03-15"), { faults: {}, body: { trail: "HBR-T1", at: "2027-03-15",
    flow: "as before", temperature_c: 82.5 } });
  assert.deepEqual(readFirstRun("HBR-T1", { ...typed_run, flow: "", temperature_c: "" }, "2027-03-15").faults, { flow: "empty" });
  assert.deepEqual(readFirstRun("HBR-T1", { ...typed_run, temperature_c: "hot" }, "2027-03-15").faults, { temperature_c: "not-a-number" });
});

test("the mark stands at the machine of each open trail and nowhere else", () => {
  const trails = [{ no: "HBR-T1" }, { no: "HBR-T2" }, { no: "ENG-T1" }];
  const stopped = stoppedBy({ trails, do_not_run: [{ machine: "HBR", trails: ["HBR-T1", "HBR-T2"] }] });
  assert.deepEqual([...stopped], [["HBR", trails.slice(0, 2)]]);
  assert.equal(stoppedBy(null).size, 0);
});

test("what is missing is told, also where nobody knows or a number is wrong", () => {
  const told = (missing, found) => leftText({ missing, of_pieces: 6, found, left: missing === null ? null : missing - found });
  assert.equal(told(2, 1), "2 of 6 missing, 1 found, 1 not found");
  assert.match(told(null, 1), /^Nobody knows/);
  assert.match(told(1, 2), /wrong$/);
});

test("a seal names its locker, and how many are missing", () => {
  const part = { part: "P040", name: "Gasket", unit: "pcs", needed: 2, usable: 1, where: [
    { locker: "L04", name: "Drawer", quantity: 1, aboard: true }, { locker: "L03", name: "Shed", quantity: 5, aboard: false }] };
  assert.equal(sealText(part), "2 × P040 Gasket: 1 in L04 Drawer, 1 missing");
  assert.equal(sealText({ ...part, where: [], usable: 0 }), "2 × P040 Gasket: none aboard");
  assert.equal(sealText({ ...part, needed: 1 }), "1 × P040 Gasket: 1 in L04 Drawer");
});

test("two phones that differ close a trail only where each of them would", () => {
  const said = { missing: [1], looks: [[{ found: 1 }]], accepted: [null], gone: false, disputed: [] };
  assert.equal(stateOf(said), "found");
  assert.equal(stateOf({ ...said, missing: [1, 2] }), "open");
  assert.equal(stateOf({ ...said, looks: [[{ found: 1 }, { found: 2 }]] }), "open");
  assert.equal(stateOf({ ...said, disputed: ["what"] }), "open");
  const accepted = { by: "Tove", why: "seen", pieces: 1 };
  assert.equal(stateOf({ ...said, missing: [1, 2], accepted: [accepted] }), "accepted");
  assert.equal(stateOf({ ...said, missing: [1, 2], accepted: [accepted, null] }), "open");
});
