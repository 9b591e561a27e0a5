// The short list as a table and as a file, and what each answer to a doubt leads to.
import assert from "node:assert/strict";
import test from "node:test";
import { countsAfter } from "../../static/pieces/doubt.js";
import { listTable } from "../../static/pieces/trip-lines.js";
import { shareFile } from "../../static/save-text.js";

const line = (part, state, order_by, more = {}) => ({ part, name: `name ${part}`, maker: "Fennholt", number: "FH 1",
  state, order_by, buy: 2, short: 2, minimum: 3, usable: 1, ...more });

test("the list as a table follows RFC 4180 and holds no formula", () => {
  const one = line("P2", "order-by", "2027-04-26", { name: "Hose, 19 mm \"soft\"", maker: "=1+1", number: "-", seller: "Quay", buy: 1.5 });
  const head = "Quantity,Name,Maker,Number,Order by,Seller,Number aboard";
  assert.equal(listTable({ lines: [one, line("P1", "enough", null)] }, "."),
    `${head}\r\n1.5,"Hose, 19 mm ""soft""",'=1+1,'-,2027-04-26,Quay,P2\r\n`);
  assert.equal(listTable({ lines: [] }, ","), `${head.replaceAll(",", ";")}\r\n`);
});

test("each answer to a doubt tells the count that it leads to, where it alone decides", () => {
  const here = (...lots) => ({ lots });
  const cell = (low, high, more = {}) => ({ low, quantity: high, high, doubts: ["x"], ...more });
  assert.deepEqual(countsAfter({ delta: -2000 }, here(cell(1, 3))), { before: 3, after: 1 });
  assert.deepEqual(countsAfter({ delta: 2000 }, here(cell(3, 5))), { before: 3, after: 5 });
  for (const [found, place] of [[undefined, here(cell(1, 3))], [{ delta: -2000 }, here(cell(1, 3), cell(2, 2))],
    [{ delta: -2000 }, here(cell(1, 3, { doubts: ["x", "y"] }))], [{ delta: -2000 }, here(cell(1, 3, { rivals: ["z"] }))]]) {
    assert.equal(countsAfter(found, place), null);
  }
});

test("a file goes through the share sheet where that takes files, else it is saved", async () => {
  const [blob, kept, given] = [new Blob(["x"], { type: "text/csv" }), [], []];
  const keep = (what, name) => kept.push([what, name]);
  const sheet = { canShare: ({ files }) => files[0].name === "T1.csv", share: async ({ files }) => given.push(files[0].type) };
  assert.equal(await shareFile(blob, "T1.csv", sheet, keep), "shared");
  assert.deepEqual([given, kept], [["text/csv"], []]);
  const closed = { ...sheet, share: async () => { throw Object.assign(new Error("closed"), { name: "AbortError" }); } };
  assert.equal(await shareFile(blob, "T1.csv", closed, keep), "shared", "who closes the sheet wants no file either");
  for (const device of [{}, { canShare: () => false }, { ...sheet, share: async () => { throw new Error("no"); } }]) {
    assert.equal(await shareFile(blob, "T1.csv", device, keep), "saved");
  }
  assert.deepEqual(kept, Array(3).fill([blob, "T1.csv"]));
});
