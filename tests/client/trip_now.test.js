// A trip's list with the counts of now, worked out by hand.
import assert from "node:assert/strict";
import test from "node:test";
import { withCountsOfNow } from "../../static/domain/trip_now.js";

const line = (facts) => ({ part: "P034", state: "enough", minimum: 2, usable: 2, short: 0, buy: 0, lead_days: 10,
  cost: { amount: "0.00", currency: "EUR" }, order_by: null, late_days: 0,
  where: [{ locker: "L17", quantity: 2, aboard: true, condition: "new" }, { locker: "L25", quantity: 1, aboard: false, condition: "new" }], ...facts });
const restock = (...lines) => ({ trip: { departs_on: "2027-05-03", ready_days: 2 }, lines });
const move = (kind, facts) => ({ kind, body: { part: "P034", locker: "L17", quantity: 1, ...facts } });
const now = (one, ...moves) => withCountsOfNow(restock(one), moves, "2027-03-15").lines[0];
const figures = ({ usable, short, buy, state, order_by }) => [usable, short, buy, state, order_by];

test("what is taken makes a line short, with the day to order by", () => {
  // 3 May less 10 days on the way and 2 to look at it is 21 April.
  assert.deepEqual(figures(now(line(), move("took"))), [1, 1, 1, "order-by", "2027-04-21"]);
  assert.deepEqual(figures(now(line({ lead_days: 60 }), move("lent"))), [1, 1, 1, "too-late", "2027-03-02"]);
  assert.equal(now(line({ lead_days: 60 }), move("lent")).late_days, 13);
  assert.equal(now(line({ lead_days: null }), move("landed")).state, "short");
});

test("what is put there makes up what is short, in packs and money", () => {
  const short = line({ usable: 0, short: 2, buy: 5, pack: 5, state: "order-by", order_by: "2027-04-21",
    cost: { amount: "12.50", currency: "EUR" }, minimum: 6 });
  const one = now(short, move("put"));
  assert.deepEqual(figures(one), [1, 5, 5, "order-by", "2027-04-21"]);
  assert.deepEqual(one.cost, { amount: "12.50", currency: "EUR" });
  assert.deepEqual(figures(now(short, move("put", { quantity: 6 }))), [6, 0, 0, "enough", null]);
});

test("a count sets what lies there, after what was taken before it", () => {
  assert.deepEqual(figures(now(line(), move("took"), move("counted", { quantity: 4 }))), [4, 0, 0, "enough", null]);
  assert.deepEqual(figures(now(line(), move("counted", { quantity: 0 }))), [0, 2, 2, "order-by", "2027-04-21"]);
});

test("what moves between two lockers aboard changes nothing, what goes ashore does", () => {
  assert.equal(now(line(), move("moved", { from: "L17", to: "L03" })).usable, 2);
  assert.equal(now(line(), move("moved", { from: "L17", to: "L25" })).usable, 1);
  assert.equal(now(line(), move("moved", { from: "L25", to: "L17" })).usable, 3);
});

test("suspect pieces and other parts count for nothing; accepted stays accepted", () => {
  assert.equal(now(line(), move("put", { condition: "suspect" })).usable, 2);
  assert.equal(now(line(), move("took", { part: "P035" })).redone, undefined);
  assert.equal(now(line({ state: "accepted", usable: 0, short: 2 }), move("took")).state, "accepted");
});

test("thousandths of litres stay exact", () => {
  const oil = line({ minimum: 0.3, usable: 0.3, where: [{ locker: "L17", quantity: 0.3, aboard: true }] });
  assert.equal(now(oil, move("took", { quantity: 0.1 })).usable, 0.2);
});
