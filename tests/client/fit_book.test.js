// What the phone finds in its copy of the fit points, and what it says of a part it does not know.

import assert from "node:assert/strict";
import { test } from "node:test";
import { findIn, judgeIn, machineIn, partIn, pointIn, requestFor } from "../../static/domain/fit/fit_book.js";
import { book } from "./fit_data.js";

const bore = { attr: "bore", value: "16.0", unit: "mm" };
const diameter = { attr: "outside_diameter", value: 65, tol: 0.5 };
const copy = {
  as_of: "2027-03-15",
  machines: [{ type: "machine", no: "GEN", name: "Harbour set", code: "DYF7", model: "LW 9" }],
  points: [{ type: "point", no: "GEN-04", id: "a1", name: "pump impeller", machine: "GEN",
    machine_name: "Harbour set", kind: null, place: { wet: true }, asks: [bore, diameter],
    spares: [{ no: "P2", state: "low", usable: 1, tags: [], where: [] }], cautions: [],
    candidates: [{ part: "P2", links: [{ role: "takes", proof: "measured" }], companions: {},
      would_strand: [{ part: "P9" }], no_longer_needed: [], notes: ["new stock"] }] }],
  parts: [{ id: "b2", no: "P2", name: "Impeller, rubber", maker: "Ohm", number: "12-8",
    kind: "impeller", offers: { bore: { value: "16" }, outside_diameter: { value: 65.2 } } },
  { id: "b3", no: "P3", name: "Impéller, other", maker: null, number: null, kind: "impeller",
    offers: {} }],
};
const judge = (body, today = "2027-03-15") => judgeIn(copy, book, body, today);

test("machines, points and parts are found by number, code, id and beginnings of words", () => {
  assert.equal(machineIn(copy, "dyf7").points.length, 1);
  assert.equal(pointIn(copy, "gen-04").no, "GEN-04");
  assert.equal(partIn(copy, "12-8").no, "P2");
  const found = (text) => findIn(copy, text).hits.map((hit) => hit.no);
  assert.deepEqual(found("imp har"), ["GEN-04"]);
  assert.deepEqual(found("impeller"), ["GEN-04", "P2", "P3"]);
  assert.deepEqual(found("GEN"), ["GEN"]);
  assert.deepEqual(found("rope"), []);
  assert.equal(findIn(copy, "P2").hits[0].fits[0].point, "GEN-04");
});

test("what is asked stands in the order of the kind's sheet, the part's kind where the point has none", () => {
  const request = requestFor(book, copy.points[0], copy.parts[0]);
  assert.equal(request.kind, "impeller");
  assert.deepEqual(request.requires.map((one) => one.attr), ["outside_diameter", "bore"]);
});

test("a place of no recorded kind is measured as what sits there", () => {
  const holds = { ...copy.points[0], fitted: { part: "P3" } };
  const request = requestFor(book, holds, null, {}, partIn(copy, "P3"));
  assert.equal(request.kind, "impeller");
  const answer = judgeIn({ ...copy, points: [holds] }, book, { point: "GEN-04", offers: {} }, "2027-03-15");
  assert.equal(answer.kind, "impeller");
});

test("what was measured stands in for what is recorded", () => {
  assert.equal(judge({ point: "GEN-04", part: "P2" }).verdict, "fits");
  const worn = judge({ point: "GEN-04", part: "P2", offers: { outside_diameter: 64 } });
  assert.equal(worn.verdict, "does-not-fit");
});

test("a part that nothing ties to the place gets no claim of what it would strand", () => {
  const tied = judge({ point: "GEN-04", part: "P2" });
  assert.deepEqual([tied.would_strand.length, tied.notes.length, tied.count.usable], [1, 1, 1]);
  const other = judge({ point: "GEN-04", part: "P3" });
  assert.deepEqual([other.would_strand, other.count, other.verdict], [[], null, "not-known-yet"]);
});

test("what is not in the copy is refused by name", () => {
  const refused = (body, pointer) => assert.throws(() => judge(body), (error) => (
    error.errors[0].pointer === pointer));
  refused({ point: "GEN-99", part: "P2" }, "#/point");
  refused({ point: "GEN-04", part: "P99" }, "#/part");
  refused({ point: "GEN-04" }, "#/part");
});

test("an empty sheet says what to measure, how it is drawn and what a seat is met by", () => {
  const kinded = { ...copy, points: [{ ...copy.points[0], kind: "impeller" }] };
  const empty = judgeIn(kinded, book, { point: "GEN-04", offers: {} }, "2027-03-15");
  assert.deepEqual([empty.verdict, empty.to_measure], ["not-known-yet", ["outside_diameter", "bore"]]);
  assert.deepEqual(empty.rows.slice(0, 2).map((row) => row.drawing), ["impeller", "impeller"]);
  const seat = { ...copy.points[0], kind: "pump-seal", asks: [{ attr: "seat_depth", value: 8, unit: "mm" }] };
  const [row] = judgeIn({ ...copy, points: [seat] }, book, { point: "GEN-04", offers: {} }, "2027-03-15").rows;
  assert.deepEqual([row.attr, row.offered_as, row.drawing], ["seat_depth", "width", "lip-seal"]);
});
