// What a phone sends, and what it does with each kind of answer.
import assert from "node:assert/strict";
import test, { beforeEach } from "node:test";
import { piecesOf } from "../../static/kept/hand-over.js";
import { newBox, putIn } from "../../static/sync/box.js";
import { keep, known, newCopy, takeIntoCopy } from "../../static/sync/copy.js";
import { takeAnswer, writeRequest } from "../../static/sync/exchange.js";

const VESSEL = "00000000-0000-4000-8000-0000000000aa";
const EPOCH = "00000000000000e1";
const NOW = 1_800_000_000_000;
const BODY = {
  part: "part/00000000-0000-4000-8000-000000000001",
  locker: "locker/00000000-0000-4000-8000-000000000002", lot: "", q: 1000,
};
const idOf = (number) => `00000000-0000-4000-8000-${String(number).padStart(12, "0")}`;

let box;
let copy;

function tap(number, clock = NOW) {
  return putIn(box, { id: idOf(number), kind: "took", body: BODY }, known(copy), clock);
}

function envelope(number, dev = "b0000002") {
  return {
    ...tapped(number), dev, at: `01a3185c5000.${String(number).padStart(4, "0")}.${dev}`, g: 0,
    pos: { [EPOCH]: number }, mac: "0".repeat(32),
  };
}

const tapped = (number) => ({
  id: idOf(number), n: number, kind: "took", v: 1, t: NOW, seen: null, after: "", body: BODY,
});

function answering(facts) {
  return {
    dev: "a0000001", clock: "good", results: [], need: [], held: [], changes: [], relayed: [],
    cursor: "c1", seen: { epoch: EPOCH, seq: 0 }, epochs: [[EPOCH, null]], more: false, now: NOW,
    boot: "boot", next_n: 1, ...facts,
  };
}

const ask = (clock = NOW) => writeRequest(box, copy, VESSEL, clock);

function take(request, facts) {
  const answer = answering(facts);
  takeIntoCopy(copy, request, answer);
  return takeAnswer(box, copy, request, answer, () => "inst-2");
}

beforeEach(() => {
  box = newBox("a0000001", "inst-1");
  copy = newCopy();
});

test("a doubtful clock marks all that is still unsent, and nothing that was taken", () => {
  tap(1);
  const request = ask();
  tap(2);
  const seal = { dev: "a0000001", n: 1, at: "01a3185c5000.0000.a0000001", g: 1, pos: { [EPOCH]: 1 },
    mac: "0".repeat(32) };
  const results = [{ n: 1, id: idOf(1), result: "ok", seq: 1, sealed: seal }];
  assert.equal(take(request, { clock: "doubt", results }), true);
  assert.deepEqual([...box.waiting.values()].map((change) => [change.n, change.g]), [[2, 1]]);
  assert.equal(copy.rows.get(idOf(1)).envelope.at, seal.at);
});

test("a clock that went back below an earlier tap is told until a sync is complete", () => {
  tap(1);
  tap(2, NOW - 60_000);
  const request = ask();
  assert.equal(request.stepped, true);
  box.waiting.clear();
  assert.equal(take(request, {}), false);
  assert.equal(ask(NOW + 1).stepped, false);
  assert.equal(box.off_prev, 0);
});

test("a change names what its author had seen, and the greatest stamp of it", () => {
  take(ask(), { changes: [{ seq: 7, envelope: envelope(7) }], seen: { epoch: EPOCH, seq: 7 } });
  const change = tap(1);
  assert.deepEqual(change.seen, { epoch: EPOCH, seq: 7 });
  assert.equal(change.after, "01a3185c5000.0007.b0000002");
});

test("new changes wait until a new copy is whole and all was brought back", () => {
  for (let number = 1; number <= 600; number += 1) keep(copy, envelope(number), number);
  tap(900);
  const first = ask();
  assert.equal(take(first, { reset: true, more: true, cursor: "n1" }), true);
  assert.deepEqual([ask().ops, ask().relay], [[], []]);
  take(ask(), { cursor: "n2" });
  const sent = [];
  for (let round = 0; round < 2; round += 1) {
    const request = ask();
    assert.deepEqual(request.ops, []);
    sent.push(...request.relay.map((one) => one.id));
    assert.equal(take(request, { cursor: `r${round}` }), true);
  }
  assert.equal(new Set(sent).size, 600);
  assert.deepEqual(ask().ops.map((op) => op.id), [idOf(900)]);
});

test("a fork numbers the unsent anew, under another inst, and keeps their ids", () => {
  tap(1);
  tap(2);
  takeAnswer(box, copy, ask(), { stop: "fork", dev: "c0000003", next_n: 1 }, () => "inst-2");
  assert.deepEqual([...box.waiting.values()].map((one) => [one.n, one.id]),
    [[1, idOf(1)], [2, idOf(2)]]);
  assert.deepEqual([box.dev, box.inst, box.made], ["c0000003", "inst-2", 2]);
});

test("a file of changes is brought in pieces that a request holds", () => {
  const ops = Array.from({ length: 1201 }, (_, place) => ({ n: place + 1, note: "x".repeat(1000) }));
  const pieces = piecesOf({ vessel: "v", dev: "d", now: 1, ops });
  assert.deepEqual(pieces.flatMap((piece) => piece.ops), ops);
  assert.ok(pieces.length > 1);
  for (const piece of pieces) {
    assert.ok(piece.ops.length <= 500 && JSON.stringify(piece).length < 1024 * 1024);
    assert.deepEqual([piece.vessel, piece.dev, piece.now], ["v", "d", 1]);
  }
});

test("over a poor net a request is smaller both ways, and never empty", () => {
  for (let number = 1; number <= 100; number += 1) tap(number);
  const whole = writeRequest(box, copy, VESSEL, NOW);
  const small = writeRequest(box, copy, VESSEL, NOW, 10_000);
  assert.deepEqual([whole.ops.length, whole.want], [100, 1000]);
  assert.ok(small.ops.length < 100 && JSON.stringify(small.ops).length <= 10_100 && small.want === 15);
  const least = writeRequest(box, copy, VESSEL, NOW, 1);
  assert.deepEqual([least.ops.length, least.want], [1, 1]);
});

test("a refused change is put aside with its reason, and stops no other", () => {
  tap(1);
  const refused = { n: 1, id: idOf(1), result: "refused", code: "not_allowed", say: "no right" };
  assert.equal(take(ask(), { results: [refused] }), false);
  assert.equal(box.waiting.size, 0);
  assert.equal(box.refused.get(idOf(1)).code, "not_allowed");
});

test("what waits for the skipper is asked about again, once in an exchange, where it is named no more", () => {
  tap(1);
  const held = (n) => ({ results: [{ n, id: idOf(1), result: "dup", was: "held" }] });
  assert.equal(take(ask(), held(1)), false);
  assert.equal(take(ask(), {}), true);
  assert.deepEqual(ask().ops.map((op) => [op.n, op.id]), [[2, idOf(1)]]);
  assert.equal(take(ask(), held(2)), false);
  assert.deepEqual([[...box.held.keys()], box.waiting.size, box.made], [[idOf(1)], 0, 2]);
  // Several in the order in which they were tapped, whatever the disk gave first.
  box.held = new Map([3, 2].map((number) => [idOf(number), { ...tapped(number), t: NOW + number }]));
  take(ask(), {});
  assert.deepEqual(ask().ops.map((op) => op.id), [idOf(2), idOf(3)]);
});

test("an answer about another change under the same number takes nothing out", () => {
  tap(1);
  const request = ask();
  take(request, { results: [{ n: 1, id: idOf(7), result: "held" }], dev: "c0000003", next_n: 1 });
  assert.deepEqual([...box.waiting.values()].map((one) => [one.n, one.id]), [[1, idOf(1)]]);
});

test("numbers asked for under a number that is no longer its own are not given up", () => {
  tap(1);
  box.made = 4;                          // the answer that told of the fork was lost
  take(ask(), { need: [[1, 4]], dev: "c0000003", next_n: 1 });
  assert.deepEqual([box.gone, box.made], [[], 1]);
});

test("numbers asked for are made again, brought back or given up, each by what is known", () => {
  keep(copy, envelope(1, "a0000001"), 1);
  tap(2);
  box.held.set(idOf(2), box.waiting.get(1));
  box.held.get(idOf(2)).n = 2;
  box.waiting.clear();
  box.made = 3;
  take(ask(), { need: [[1, 3]], held: [idOf(2)] });
  assert.deepEqual(copy.relay.map((one) => one.n), [1]);
  assert.deepEqual([...box.waiting.keys()], [2]);
  assert.deepEqual(box.gone, [[3, 3]]);
});

test("a request stays well below what the server takes, however long the notes are", () => {
  const note = "é".repeat(2000);
  for (let number = 1; number <= 400; number += 1) {
    putIn(box, { id: idOf(number), kind: "took", body: { ...BODY, note } }, known(copy), NOW);
  }
  const { ops } = ask();
  assert.ok(ops.length > 100 && ops.length < 400);
  assert.ok(new TextEncoder().encode(JSON.stringify(ops)).length < 900_000);
});

test("what no server would take is not put in", () => {
  assert.throws(() => putIn(box, { id: idOf(1), kind: "took", body: { ...BODY, q: 0 } },
    known(copy), NOW), (error) => error.reason === "bad_value");
  assert.deepEqual([box.made, box.waiting.size], [0, 0]);
});
