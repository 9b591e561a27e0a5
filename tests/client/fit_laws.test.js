// What holds of every fit check on the phone, whatever is asked and offered.

import assert from "node:assert/strict";
import { test } from "node:test";
import { book, everything, fit, randomFrom } from "./fit_data.js";

const cases = everything();
assert.ok(cases.length > 2000, "cases, neighbours and random requests");
const RANK = { fits: 3, "fits-with-changes": 2, "not-known-yet": 1, "does-not-fit": 0 };
const KINDS = [...new Set(cases.map((one) => one.kind))];
const LENGTHS = KINDS.flatMap((kind) => [...book.sheet(kind).attributes.values()]
  .filter((line) => line.type === "quantity" && line.unit === "mm" && !line.judge && !line.seat)
  .map((line) => ({ kind, line })));
const TOLERATED = LENGTHS.filter(({ line }) => line.cmp === "tol" && line.tol_wide === null);
const CODES = ["code", "flange_code", "key_width"];      // what they stand for is put in their place
const DERIVED_FROM = { shaft_diameter: "section", housing_bore: "section", max_flow: "flow",
  bolt_circle: "hole_spacing", hole_spacing: "bolt_circle", bolt_thread: "bolt_hole",
  engagement: "length", hand: "thread" };
const copy = (value) => JSON.parse(JSON.stringify(value));

/** Try a law on random cases; a failure tells the seed. */
function law(name, hold, times = 250) {
  test(name, () => {
    for (let seed = 1; seed <= times; seed += 1) {
      try {
        hold(randomFrom(seed));
      } catch (error) {
        error.message = `seed ${seed}: ${error.message}`;
        throw error;
      }
    }
  });
}

const oneRow = (kind, asked, offered) => fit({ kind, requires: [asked],
  offers: { [asked.attr]: offered } });

law("a verdict never improves when a known value is taken from the part", (random) => {
  const { given } = random.pick(cases);
  const asked = new Set(given.requires.map((one) => one.attr));
  // without the value itself, what a code says of it or what it follows from comes to light
  const offered = new Set(Object.keys(given.offers ?? {}));
  const removable = [...offered].filter((attr) => asked.has(attr)
    && ![...CODES, DERIVED_FROM[attr]].some((other) => offered.has(other)));
  if (!removable.length) return;
  const less = copy(given);
  delete less.offers[random.pick(removable)];
  // what was ruled out by the removed value may become not known, never better than that
  assert.ok(RANK[fit(less).verdict] <= Math.max(RANK[fit(given).verdict], RANK["not-known-yet"]));
});

law("a requirement without value never gives fits where it decides", (random) => {
  const { given } = random.pick(cases);
  const rows = new Map(fit(given).rows.map((row) => [row.attr, row]));
  const deciding = given.requires.filter((one) => rows.has(one.attr)
    && rows.get(one.attr).severity !== "advisory");
  if (!deciding.length) return;
  const gone = random.pick(deciding);
  const unknown = { ...given, requires: given.requires.map((one) => (
    one === gone ? { ...one, value: null } : one)) };
  assert.ok(RANK[fit(unknown).verdict] <= RANK["not-known-yet"]);
});

test("nothing offered never gives fits where something is asked", () => {
  for (const { given, name } of cases) {
    // a worn groove is the shaft's own, and is judged without a part
    if (given.requires.some((one) => one.attr === "shaft_groove")) continue;
    const bare = { ...given, offers: {}, links: [] };
    assert.ok(RANK[fit(bare).verdict] <= RANK["not-known-yet"], name);
  }
});

test("the verdict follows the precedence of its rows", () => {
  for (const { given, name } of cases) {
    const answer = fit(given);
    const outcomes = answer.rows.map((row) => row.outcome);
    const open = answer.rows.some((row) => row.outcome === "unknown" && row.severity !== "advisory");
    if (outcomes.includes("stop")) assert.equal(answer.verdict, "does-not-fit", name);
    else if (open) assert.equal(answer.verdict, "not-known-yet", name);
    else if (outcomes.includes("change") && answer.verdict !== "not-known-yet") {
      assert.equal(answer.verdict, "fits-with-changes", name);
    }
  }
});

test("a trial that failed outranks everything else", () => {
  for (const { given, name } of cases) {
    const links = ["tried-no", "makers-list"].map((proof) => ({ role: "takes", proof }));
    assert.equal(fit({ ...given, links }).verdict, "does-not-fit", name);
  }
});

law("a looser tolerance never turns a match into a mismatch", (random) => {
  const { kind, line } = random.pick(TOLERATED);
  const [wanted, tol, more, u] = [random.whole(1000, 200000), random.whole(0, 2000),
    random.whole(0, 2000), random.whole(0, 500)];
  const have = wanted + random.whole(-3000, 3000);
  const outcomes = [tol, tol + more].map((size) => oneRow(kind,
    { attr: line.code, value: wanted / 1000, tol: size / 1000 },
    { value: have / 1000, u: u / 1000 }).rows[0].outcome);
  const order = ["match", "unknown", "advisory", "change", "stop"];
  assert.ok(order.indexOf(outcomes[1]) <= order.indexOf(outcomes[0]), `${line.code} ${outcomes}`);
});

law("inch and millimetre agree", (random) => {
  const { kind, line } = random.pick(LENGTHS);
  const [wanted, tol, u] = [random.whole(1, 4000), random.whole(0, 200), random.whole(0, 40)];
  const have = Math.max(1, wanted + random.whole(-250, 250));
  const answers = [["in", (n) => `${n}/1000`], ["mm", (n) => `${n * 254}/10000`]]
    .map(([unit, size]) => oneRow(kind, { attr: line.code, value: size(wanted), unit,
      ...(line.cmp === "tol" ? { tol: size(tol) } : {}) }, { value: size(have), unit, u: size(u) }));
  assert.deepEqual(...answers.map((one) => [one.verdict, one.rows[0].outcome]));
});

law("a number at the very limit is inside, converted elsewhere or not", (random) => {
  const { kind, line } = random.pick(TOLERATED);
  const [wanted, tol] = [random.whole(1000, 200000), random.whole(0, 900)];
  const have = wanted + random.pick([-1, 1]) * tol;
  for (const unit of ["mm", "cm"]) {
    const size = (thousandths) => thousandths / (unit === "mm" ? 1000 : 10000);
    const answer = oneRow(kind, { attr: line.code, value: size(wanted), tol: size(tol), unit },
      { value: size(have), unit });
    assert.equal(answer.rows[0].outcome, "match", `${line.code} ${unit}`);
  }
});

law("the order of the requirements does not matter", (random) => {
  const { given } = random.pick(cases);
  const shuffled = { ...given, requires: [...given.requires].sort(() => random.whole(0, 1) * 2 - 1) };
  const [one, other] = [fit(given), fit(shuffled)];
  assert.equal(one.verdict, other.verdict);
  assert.deepEqual([...one.to_measure].sort(), [...other.to_measure].sort());
}, 100);

test("what cannot be read is refused by name", () => {
  const refused = (request, pointer) => assert.throws(() => fit(request), (error) => (
    error.code === "invalid-input" && error.errors[0].pointer === pointer));
  refused({ kind: "kettle" }, "#/kind");
  refused({ kind: "impeller", colour: "red" }, "#/colour");
  refused({ kind: "impeller", requires: [{ attr: "wings", value: 1 }] }, "#/requires/0/attr");
  refused({ kind: "impeller", offers: { bore: { value: 1, size: 2 } } }, "#/offers/bore/size");
  refused({ kind: "impeller", requires: [{ attr: "bore", value: "wide" }], offers: { bore: 16 } },
    "#/requires/0/value");
});
