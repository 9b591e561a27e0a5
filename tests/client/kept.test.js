// What a phone makes of its copy: changes from the screens, and the counts of now in old answers.
import assert from "node:assert/strict";
import test from "node:test";
import { valueText, whoText } from "../../static/pieces/apart.js";
import { apartOf } from "../../static/kept/apart.js";
import { indexOf, openAboard } from "../../static/kept/aboard.js";
import { partsTouched, withCountsOfNow } from "../../static/kept/counts.js";
import { liveOf } from "../../static/kept/live.js";
import { machineBegun } from "../../static/kept/machines.js";
import { placesOf } from "../../static/kept/places.js";
import { unsettledOf } from "../../static/kept/unsettled.js";
import { draftsFor } from "../../static/kept/verbs.js";
import { effectHere } from "../../static/pieces/doubt.js";
import { whereText } from "../../static/pieces/lines.js";

const EPOCH = "00000000000000e1";
const TODAY = "2027-03-15";
const uuid = (number) => `00000000-0000-4000-8000-${String(number).padStart(12, "0")}`;
const PART = `part/${uuid(1)}`;
const [NEAR, FAR] = [2, 3].map((number) => `locker/${uuid(number)}`);
const DATED = `lot/${uuid(4)}`;

/** One device's log, a minute between entries. */
function logOf(bodies, { dev = "a0000001", from = 1 } = {}) {
  return bodies.map(([kind, body], place) => {
    const seq = from + place;
    return { id: uuid(100 + seq), dev, n: seq, kind, g: 0, seen: null, pos: { [EPOCH]: seq },
      at: `${(seq * 60_000).toString(16).padStart(12, "0")}.0000.${dev}`, body };
  });
}

const set = (doc, f) => ["set", { doc, f, base: {} }];
const BEGUN = logOf([
  set(PART, { no: "P1", name: "Impeller", unit: "pcs" }), set(NEAR, { no: "L1", name: "box" }),
  set(FAR, { no: "L2", name: "drawer", aboard: false }),
  set(DATED, { part: PART, condition: "new", expires: "2027-06" }),
  ["put", { part: PART, locker: NEAR, lot: "", q: 2000 }],
  ["put", { part: PART, locker: NEAR, lot: DATED, q: 1000 }],
]);
const make = (aboard, path, body, id = uuid(900)) => draftsFor(path, body, id, { aboard, today: TODAY });
const asEntries = (drafts, from) => logOf(drafts.map(({ kind, body }) => [kind, body]), { from })
  .map((entry, place) => ({ ...entry, id: drafts[place].id }));

test("pieces that go out of date first are taken first, and the act is taken back as a whole", () => {
  const drafts = make(openAboard(indexOf(BEGUN)), "do/took", { part: "P1", locker: "L1", quantity: 2 });
  assert.deepEqual(drafts.map(({ body }) => [body.lot, body.q, body.batch]),
    [[DATED, 1000, uuid(900)], ["", 1000, uuid(900)]]);
  const waiting = asEntries(drafts, 7);
  const aboard = openAboard(indexOf(BEGUN), waiting);
  assert.deepEqual(aboard.cellsOf(PART).map((cell) => [cell.lot, cell.quantity]), [["", 1000], [DATED, 0]]);
  const undo = make(aboard, "do/undo", { change: drafts[0].id }, uuid(901));
  assert.deepEqual(undo.map(({ kind, body }) => [kind, body.of]).sort(),
    drafts.map(({ id }) => ["void", id]).sort());
  const back = openAboard(indexOf(BEGUN), [...waiting, ...asEntries(undo, 9)]);
  assert.deepEqual(back.cellsOf(PART).map((cell) => cell.quantity), [2000, 1000]);
});

test("a slip of two lots that is taken in on two phones is counted once", () => {
  const slip = { kind: "loan", loan: uuid(800), lender: { id: uuid(801), name: "HESTEREJE" }, on: "2027-03-14",
    part: { name: "Impeller", unit: "pcs" }, lines: [{ q: 1000, expires: "2031-06" }, { q: 3000 }] };
  const aboard = [...BEGUN, ...logOf([set(`vessel/${uuid(7)}`, { mark: "TGL" })], { from: 7 })];
  const [one, other] = [uuid(900), uuid(901)].map((id) =>
    make(openAboard(indexOf(aboard)), "do/slip-in", { slip, locker: "L1" }, id).filter(({ kind }) => kind === "put"));
  assert.deepEqual(one.map(({ body }) => body.q), [1000, 3000]);
  assert.deepEqual(one.map(({ id }) => id), other.map(({ id }) => id));
  // Undone by mistake, it is taken in again, once.
  const taken = logOf([...one.map(({ kind, body }) => [kind, body]), ...one.map(({ id }) => ["void", { of: id }])], { from: 8 })
    .map((entry, place) => ({ ...entry, id: one[place]?.id ?? entry.id }));
  const again = (log) => make(openAboard(indexOf([...aboard, ...log])), "do/slip-in", { slip, locker: "L1" }, uuid(902));
  assert.deepEqual(again(taken.slice(0, 2)), []);
  const anew = again(taken).filter(({ kind }) => kind === "put");
  assert.deepEqual(anew.map(({ body }) => body.q), [1000, 3000]);
  assert.ok(!anew.some(({ id }) => one.some((before) => before.id === id)));
});

test("an answer of before shows where pieces lie now, aboard or not", () => {
  const moved = asEntries(make(openAboard(indexOf(BEGUN)), "do/moved",
    { part: "P1", from: "L1", to: "L2", quantity: 1, lot: "" }), 7);
  const aboard = openAboard(indexOf(BEGUN), moved);
  assert.deepEqual([...partsTouched(aboard, moved)], [PART]);
  const place = { locker: "L1", locker_id: uuid(2), name: "box", code: null, lent_to: null, low: 2, high: 2,
    flags: [], doubts: [], rivals: [], condition: "new", counted: true, aboard: true, reachable: true };
  const before = { type: "part", id: uuid(1), no: "P1", state: "enough", need: 3, usable: 3, aboard: 3,
    where: [{ ...place, quantity: 1, lot: DATED, expires: "2027-06" },
      { ...place, quantity: 2, lot: null, expires: null }] };
  const now = withCountsOfNow(before, { aboard, waiting: moved, parts: null, today: TODAY });
  assert.deepEqual(now.where.map((one) => [one.locker, one.quantity, one.aboard]),
    [["L1", 1, true], ["L1", 1, true], ["L2", 1, false]]);
  assert.deepEqual([now.usable, now.aboard, now.state], [2, 2, "low"]);
});

test("what stands of one sort is what stands of all, looked through for that sort", () => {
  const more = logOf([["put", { part: PART, locker: FAR, lot: "", q: 3000 }], ["void", { of: uuid(105) }],
    ["restamp", { of: uuid(107), at: `${(9 * 60_000).toString(16).padStart(12, "0")}.0000.a0000001` }],
    ["reading", { machine: `machine/${uuid(5)}`, date: "2027-03-01", minutes: 60 }]], { from: 7 });
  const aboard = openAboard(indexOf([...BEGUN, ...more]), [{ ...BEGUN[5], dev: "a0000002" }]);
  const all = aboard.live();
  assert.ok(all.length < BEGUN.length + more.length);
  for (const kind of ["set", "put", "reading", "took"]) {
    assert.deepEqual(liveOf(aboard, kind), all.filter((one) => one.kind === kind));
  }
});

test("a doubt is settled against the count that holds", () => {
  const counted = logOf([["counted", { part: PART, locker: NEAR, lot: "", q: 2000 }]], { from: 7 });
  const taken = { ...logOf([["took", { part: PART, locker: NEAR, lot: "", q: 1000 }]],
    { dev: "b0000002", from: 8 })[0], n: 1, seen: { epoch: EPOCH, seq: 6 } };
  const aboard = openAboard(indexOf([...BEGUN, ...counted, taken]));
  const [cell] = aboard.cellsOf(PART);
  assert.deepEqual([cell.low, cell.quantity, cell.high, cell.doubts], [1000, 1000, 2000, [taken.id]]);
  const [settle] = make(aboard, "do/settle", { change: taken.id, side: "before" });
  assert.deepEqual(settle.body, { of: taken.id, count: counted[0].id, side: "before" });
  const after = openAboard(indexOf([...BEGUN, ...counted, taken]), asEntries([settle], 9));
  assert.deepEqual(after.cellsOf(PART)[0].quantity, 2000);
});

test("a doubt about a part that was merged is settled against the count of its own pile", () => {
  const other = `part/${uuid(8)}`;
  const counted = logOf([["counted", { part: other, locker: NEAR, lot: "", q: 5000 }]], { from: 7 });
  const taken = { ...logOf([["took", { part: other, locker: NEAR, lot: "", q: 2000 }]],
    { dev: "b0000002", from: 8 })[0], n: 1, seen: { epoch: EPOCH, seq: 6 } };
  const later = logOf([["counted", { part: PART, locker: NEAR, lot: "", q: 2000 }], ["same", { keep: PART, drop: other }]], { from: 9 });
  const log = [...BEGUN, ...counted, taken, ...later];
  const [cell] = openAboard(indexOf(log)).cellsOf(PART);
  assert.deepEqual([cell.low, cell.high, cell.doubts], [5000, 7000, [taken.id]]);
  const [settle] = make(openAboard(indexOf(log)), "do/settle", { change: taken.id, side: "after" });
  assert.equal(settle.body.count, counted[0].id);
  const [after] = openAboard(indexOf(log), asEntries([settle], 11)).cellsOf(PART);
  assert.deepEqual([after.low, after.high, after.doubts], [5000, 5000, []]);
});

test("what was moved is answered at the end that was asked about, and at no other", () => {
  const counted = logOf([[NEAR, 5000], [FAR, 3000]].map(([locker, q]) => ["counted", { part: PART, locker, lot: "", q }]), { from: 7 });
  const moved = { ...logOf([["moved", { part: PART, from: NEAR, to: FAR, lot: "", q: 1000 }]],
    { dev: "b0000002", from: 9 })[0], n: 1, seen: { epoch: EPOCH, seq: 6 } };
  const aboard = openAboard(indexOf([...BEGUN, ...counted, moved]));
  const asked = (more) => make(aboard, "do/settle", { change: moved.id, side: "before", ...more });
  for (const [place, locker] of ["L1", "L2"].entries()) {
    assert.equal(asked({ part: "P1", locker })[0].body.count, counted[place].id);
  }
  assert.equal(asked({}), null, "the boat's computer says which is to be named");
});

test("a pack that was opened is told by what it did to the part that is looked at", () => {
  const packs = `part/${uuid(8)}`;
  const opened = { kind: "convert", body: { out: [{ part: packs, locker: NEAR, lot: "", q: 1000 }],
    in: [{ part: PART, locker: NEAR, lot: "", q: 10000 }] } };
  const aboard = openAboard(indexOf(BEGUN));
  const here = { locker_id: uuid(2) };
  assert.deepEqual([PART, packs].map((part) => effectHere(aboard, opened, { id: part.slice(5) }, here, { lot: null }).delta),
    [10000, -1000]);
});

test("a place that may be empty is shown as long as nobody knows", () => {
  const other = `part/${uuid(8)}`;
  const counted = logOf([["counted", { part: other, locker: NEAR, lot: "", q: 1000 }]], { from: 7 });
  const taken = { ...logOf([["took", { part: other, locker: NEAR, lot: "", q: 1000 }]],
    { dev: "b0000002", from: 8 })[0], n: 1, seen: { epoch: EPOCH, seq: 6 } };
  const aboard = openAboard(indexOf([...BEGUN, ...counted, taken]));
  const where = placesOf(aboard, other);
  assert.deepEqual(where.map(({ quantity, low, high }) => [quantity, low, high]), [[0, 0, 1]]);
  const locker = { type: "locker", id: uuid(2), lines: [] };
  const now = withCountsOfNow(locker, { aboard, waiting: [], parts: new Set([other]), today: TODAY });
  assert.deepEqual(now.lines.map(({ id, high, doubts }) => [id, high, doubts]), [[uuid(8), 1, [taken.id]]]);
  assert.match(whereText({ where, unit: "pcs" }), /0.*1.*L1/);
});

test("an entry that comes again under its id replaces the one before", () => {
  const index = indexOf(BEGUN);
  assert.equal(openAboard(index).get(PART).name, "Impeller");
  const renamed = logOf([["set", { doc: PART, f: { name: "Pump impeller" }, base: { name: [BEGUN[0].id] } }]],
    { from: 7 });
  const grown = indexOf([...BEGUN, ...renamed, renamed[0]]);
  assert.equal(openAboard(grown).get(PART).name, "Pump impeller");
  assert.equal(grown.entries.size, BEGUN.length + 1);
});

test("a machine that began here is in the list with its fit points, until it is taken back as a whole", () => {
  const known = { id: "outboard", name: "Outboard", no: "OUT", counter: "none", hazards: "petrol, rotating", source: "no source",
    points: [{ name: "spark plug", kind: "spark-plug", weight: "A" }, { name: "shear pin", kind: "pin", weight: "B" }],
    services: [{ what: "look at the plug", at: 1, every_months: 12 }, { what: "new pin", at: 2, every_months: 12 }] };
  const vessel = logOf([set(`vessel/${uuid(7)}`, { mark: "TGL" })], { from: 7 });
  const index = indexOf([...BEGUN, ...vessel]);
  const body = { starter: "outboard", name: "", place: "stern", points: [2] };
  const drafts = draftsFor("begin/machine", body, uuid(900), { aboard: openAboard(index), today: TODAY, dev: "k3f7a2xq", known });
  assert.deepEqual(drafts.map(({ body: { f } }) => f.no), ["OUT-K3F", "OUT-K3F-01", "S01-K3F"]);
  const waiting = asEntries(drafts, 8);
  const aboard = openAboard(index, waiting);
  const list = (now, rows) => withCountsOfNow({ machines: [] }, { aboard: now, waiting: rows, parts: null, today: TODAY }).machines;
  assert.deepEqual(list(aboard, waiting).map(({ no, name, place, points }) => [no, name, place, points]), [["OUT-K3F", "Outboard", "stern", 1]]);
  const begun = machineBegun(aboard, list(aboard, waiting)[0].code);          // found by its label too
  assert.deepEqual([begun.points.map(({ name }) => name), begun.hazards, begun.services], [["shear pin"], ["petrol", "rotating"], ["S01-K3F"]]);
  const back = make(aboard, "do/undo", { change: drafts[0].id }, uuid(901));
  const rows = [...waiting, ...asEntries(back, 11)];
  const now = openAboard(index, rows);
  assert.deepEqual([list(now, rows), machineBegun(now, "OUT-K3F"), now.all("point"), now.all("service")], [[], null, [], []]);
});

test("what two wrote apart is shown without the boat's computer, until one is kept on this phone", () => {
  const wrote = (dev, from, f) => logOf([set(PART, f)], { dev, from });
  const log = [...BEGUN, ...wrote("b0000002", 7, { seller: "by post", note: "old", pack: 2500 }),
    ...wrote("c0000003", 8, { seller: "yard", note: "old", pack: null })];
  const before = { type: "part", id: uuid(1), apart: [{ field: "seller", values: [
    { change: uuid(107), value: "by post", text: "by post", at: "1970-01-01T00:07:00Z", device: "b0000002", by: "Anna" },
    { change: uuid(999), value: "none", text: "none", at: "1970-01-01T00:09:00Z", device: "d0000004", by: "Ole" }] }] };
  const now = (waiting, told) => withCountsOfNow(told, { aboard: openAboard(indexOf(log), waiting), waiting, parts: null, today: TODAY }).apart;
  // What the copy does not have yet stays as it was told; names come from what was told.
  assert.deepEqual(now([], before).map(({ field, values }) => [field, values.map(({ text, by }) => [text, by])]),
    [["pack", [["2.5", "Anna"], [null, undefined]]], ["seller", [["by post", "Anna"], ["none", "Ole"]]]]);
  const bare = { ...before, apart: [] };
  const [, seller] = now([], bare);
  assert.deepEqual(seller.values.map(({ text, device, at }) => [text, device, at]),
    [["by post", "b0000002", "1970-01-01T00:07:00.000Z"], ["yard", "c0000003", "1970-01-01T00:08:00.000Z"]]);
  const asked = (fields) => make(openAboard(indexOf(log)), "documents", { kind: "part", doc: PART, fields });
  assert.equal(asked({ seller: "somebody else" }), null);     // nobody wrote it: the boat's computer is asked
  const [draft] = asked({ seller: "by post" });
  assert.deepEqual(draft.body, { doc: PART, f: { seller: "by post" }, base: { seller: [uuid(107), uuid(108)] } });
  const waiting = asEntries([draft], 9);
  assert.deepEqual(now(waiting, bare).map(({ field }) => field), ["pack"]);
  const [undo] = make(openAboard(indexOf(log), waiting), "do/undo", { change: draft.id }, uuid(901));
  assert.deepEqual(apartOf(openAboard(indexOf(log), [...waiting, ...asEntries([undo], 10)]), PART).map(({ field }) => field), ["pack"]);
});

test("what was changed while it was off the books is listed here, and either way out settles it on this phone", async () => {
  const knew = (entries) => entries.map((entry) => ({ ...entry, n: 1, seen: { epoch: EPOCH, seq: 6 } }));
  const gone = knew(logOf([set(PART, { gone: true })], { dev: "b0000002", from: 7 }));
  const wrote = knew(logOf([set(PART, { seller: "yard", note: "old" })], { dev: "c0000003", from: 8 }));
  for (const later of [[...gone, ...wrote], [...wrote, ...gone]]) {      // whichever comes first
    const index = indexOf([...BEGUN, ...later]);
    const now = (waiting) => unsettledOf(openAboard(index, waiting));
    const [thing] = (await now([])).gone;
    assert.deepEqual([thing.no, thing.gone.device, thing.wrote.map(({ field, text, device }) => [field, text, device])],
      ["P1", "b0000002", [["note", "old", "c0000003"], ["seller", "yard", "c0000003"]]]);
    assert.deepEqual((await now([])).gone_but_there[0].lying, [{ part: "P1", name: "Impeller", locker: "L1", quantity: 3 }]);
    for (const [fields, isThere] of [[{ gone: false }, true], [{ gone: true }, false]]) {
      const [draft] = make(openAboard(index), "documents", { kind: "part", doc: PART, fields });
      assert.deepEqual(draft.body, { doc: PART, f: fields, base: { gone: [gone[0].id] } });
      const made = asEntries([draft], 9).map((entry) => ({ ...entry, seen: { epoch: EPOCH, seq: 8 }, pos: {} }));
      const after = await now(made);
      assert.deepEqual([after.gone, Boolean(openAboard(index, made).get(PART))], [[], isThere]);
      assert.equal(after.gone_but_there.length, isThere ? 0 : 1);
    }
    assert.equal((await now([])).gone.length, 1);       // what waits here is not taken for what is in the log
    const taken = asEntries([{ id: uuid(902), kind: "set", body: { doc: `part/${uuid(9)}`, f: { no: "P1" }, base: {} } }], 9);
    assert.equal(make(openAboard(index, taken), "documents", { kind: "part", doc: PART, fields: { gone: false } }), null);
  }
});

test("a value that stands apart is said in words, with whose hand it was", () => {
  assert.equal(valueText("reachable", { value: false, text: "no" }), "no");
  assert.equal(valueText("seller", { value: null, text: null }), "left empty");
  assert.equal(valueText("every_minutes", { value: 15030, text: "250.5 h" }), "250.5 h");
  assert.equal(valueText("burns", { value: { at_kn: "5", l_per_h: "2.4" }, text: "" }), "2.4 L/h at 5 kn");
  const who = (more) => whoText({ at: "2027-03-15T10:00:00Z", device: "b0000002", ...more }, "a0000001").split(",")[0];
  assert.deepEqual([who({ by: "Anna" }), who({ by: null }), who({}), who({ device: "a0000001", by: "Ole" })],
    ["Anna", "The boat's computer", "Another phone", "This phone"]);
});

/** A machine and a service that the boat's computer told of, with the log that this phone has of them. */
const [ENGINE, OIL] = [`machine/${uuid(5)}`, `service/${uuid(6)}`];
const WORKED = logOf([set(ENGINE, { no: "M1", name: "Engine" }), set(OIL, { no: "S1", machine: ENGINE }),
  ["reading", { machine: ENGINE, date: "2027-01-01", minutes: 6000 }], ["reading", { machine: ENGINE, date: "2027-03-01", minutes: 9000 }],
  ["service", { service: OIL, date: "2027-03-01", minutes: 9000, lines: [] }], set(`vessel/${uuid(7)}`, { mark: "TGL" })]);
const M1 = { type: "machine", id: uuid(5), no: "M1", hours: 150, read_on: "2027-03-01",
  readings: [[103, "2027-01-01", 100], [104, "2027-03-01", 150]].map(([id, date, hours]) => ({ change: uuid(id), date, hours })) };
const S1 = { type: "service", id: uuid(6), no: "S1", done: [{ date: "2027-03-01", hours: 150, by: null, proof: null }] };

/** What the page shows of both after acts on this phone, made one after the other. */
function shownAfter(...acts) {
  const waiting = [];
  acts.forEach(([path, body], place) => waiting.push(...asEntries(make(openAboard(indexOf(WORKED), waiting), path, body, uuid(900 + place)),
    7 + waiting.length)));
  const [machine, service] = withCountsOfNow([M1, S1], { aboard: openAboard(indexOf(WORKED), waiting), waiting, parts: null, today: TODAY });
  return { hours: machine.hours, on: machine.read_on, readings: machine.readings.map((one) => one.hours), done: service.done.map((one) => one.date) };
}

test("hours and work that were undone on this phone are not shown as standing", () => {
  const before = { hours: 150, on: "2027-03-01", readings: [100, 150], done: ["2027-03-01"] };
  const read = ["do/reading", { machine: "M1", hours: "160" }];
  assert.deepEqual(shownAfter(read), { ...before, hours: 160, on: TODAY, readings: [100, 150, 160] });
  assert.deepEqual(shownAfter(read, ["do/undo", { change: uuid(900) }]), before);
  assert.deepEqual(shownAfter(["do/done", { service: "S1", kit: false }], ["do/undo", { change: uuid(900) }]), before);
  assert.deepEqual(shownAfter(["do/undo", { change: uuid(104) }]), { ...before, hours: 100, on: "2027-01-01", readings: [100] });
  assert.deepEqual(shownAfter(["do/undo", { change: uuid(105) }]), { ...before, done: [] });
  // Noted twice: of the two that say the same only the one of this phone is undone.
  const twice = ["do/done", { service: "S1", at: "2027-03-01", hours: "150", kit: false }];
  assert.deepEqual(shownAfter(twice).done, ["2027-03-01", "2027-03-01"]);
  assert.deepEqual(shownAfter(twice, ["do/undo", { change: uuid(900) }]), before);
});
