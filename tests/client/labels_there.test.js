// Labels to print: where nothing has a code it is said, with the way to the first ones; a fault is not taken for nothing.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

let answer;
globalThis.fetch = async () => answer;
const { revision } = await import("../../static/state.js");
const { Labels } = await import("../../static/views/papers.js");
const { PAPER } = await import("../../static/words.js");

async function shown(status, body) {
  answer = { ok: status < 400, status, json: async () => body };
  revision.value += 1;
  const page = await show(Labels);
  await drawn();
  const links = page.all((one) => one.localName === "a").map((one) => one.getAttribute("href") ?? one.href);
  const names = page.all(() => true).map((one) => one.localName);
  const said = { text: page.text(), links, has: (name) => names.includes(name) };
  page.end();
  return said;
}

test("where the boat's computer fails, nothing is said of codes", async () => {
  const { text, has } = await shown(500, { code: "server-fault", detail: "" });
  assert.ok(!text.includes(PAPER.no_labels) && has("button"));
});

test("a store without codes says so and leads to the first lockers", async () => {
  const { text, links, has } = await shown(200, { lockers: 0, machines: 0, bags: 0 });
  assert.ok(text.includes(PAPER.no_labels));
  assert.deepEqual([links, has("select")], [["#/aboard/begin/lockers"], false]);
});

test("only what there is to print is offered", async () => {
  const { text, links, has } = await shown(200, { lockers: 10, machines: 0, bags: 0 });
  assert.ok(!text.includes(PAPER.no_labels));
  assert.deepEqual([links.length, has("select")], [1, true]);
  assert.match(links[0], /labels\/lockers\.pdf\?size=M/);
});

test("what no label can show is said before it is printed", async () => {
  const { text } = await shown(200, { lockers: 10, machines: 0, bags: 0, cannot_show: "水🛟" });
  assert.ok(text.includes(PAPER.cannot_show("水 🛟")));
});
