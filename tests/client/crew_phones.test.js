// Pairing and leaving: a hiccup of the net is no refusal, and what was not taken is said.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const answers = new Map();
const sent = [];
globalThis.fetch = async (url, { method = "GET", body: text } = {}) => {
  if (text) sent.push([method, String(url).replace("/api/", "").split("?")[0], JSON.parse(text)]);
  const found = answers.get(`${method} ${String(url).replace("/api/", "").split("?")[0]}`);
  if (!found) throw new TypeError("network");
  const { status = 200, body } = found;
  return { ok: status < 400, status, json: async () => body };
};
const ticks = [];
const plain = globalThis.setInterval;
globalThis.setInterval = (work, ms) => (ms === 2000 ? ticks.push(work) : plain(work, ms));

const { PhoneView } = await import("../../static/views/phone.js");
const { PeopleView } = await import("../../static/views/people.js");
const { KEPT, PEOPLE, PROBLEM } = await import("../../static/words.js");

test("a phone that waits for the skipper goes on waiting when the net fails for a moment", async () => {
  answers.set("POST pair", { status: 202, body: { claim: "k", digits: "4711" } });
  const page = await show(PhoneView);
  page.type("code", "123456");
  page.type("name", "Anna");
  await drawn();
  page.submit();
  await drawn();
  assert.match(page.text(), /4711/);
  await ticks.at(-1)();         // nobody answers
  await drawn();
  assert.match(page.text(), /4711/);
  answers.set("POST pair/collect", { body: { state: "claimed" } });
  await ticks.at(-1)();
  await drawn();
  assert.ok(page.text().includes(KEPT.waiting_skipper) && !page.text().includes(PROBLEM["no-answer"]));
  answers.set("POST pair/collect", { status: 429, body: { type: "https://spares.invalid/problems/stopped", detail: "", stop: "slow_down" } });
  await ticks.at(-1)();
  await drawn();
  assert.match(page.text(), /4711/);
  const over = { type: "https://spares.invalid/problems/not-allowed", detail: "over", stop: "pairing_over" };
  answers.set("POST pair/collect", { status: 403, body: over });
  await ticks.at(-1)();
  await drawn();
  assert.doesNotMatch(page.text(), /4711/);
  page.end();
});

test("a phone that could not be reported as lost is still in the crew, and that is said", async () => {
  const phone = { dev: "b1", name: "Ole", role: "crew", state: "paired", lost_numbers: [], also: [], held: 0 };
  answers.set("GET devices", { body: { devices: [phone] } });
  answers.set("GET held", { body: { held: [] } });
  const page = await show(PeopleView);
  let now = 0;
  globalThis.performance.now = () => now += 1000;
  page.press(PEOPLE.lose);
  await drawn();
  page.press(PEOPLE.lose_asked);
  await drawn();
  assert.ok(page.text().includes(PROBLEM["no-answer"]), page.text());
  page.end();
});

/** Tap a radio button or a tick, as `name` or as [name, value]. */
async function choose(page, name, value) {
  const one = page.find((each) => each.getAttribute("name") === name && (!value || each.getAttribute("value") === value || each.value === value));
  one.checked = true;
  page.send(one, "change");
  await drawn();
}

test("the skipper lets a new guest take, and no other role is asked about it", async () => {
  answers.set("GET devices", { body: { devices: [] } });
  answers.set("GET held", { body: { held: [] } });
  answers.set("POST pairings", { status: 201, body: { pairing: "p", state: "open", code: "4711", url: null, qr_svg: null } });
  const page = await show(PeopleView);
  assert.ok(!page.find((one) => one.getAttribute("name") === "may-take"));
  await choose(page, "role", "guest");
  await choose(page, "may-take");
  page.press(PEOPLE.new_code);
  await drawn();
  assert.deepEqual(sent.at(-1), ["POST", "pairings", { role: "guest", name: "", grants: ["take"] }]);
  page.end();
});

test("the skipper lowers the role of a phone, and lets a guest take afterwards", async () => {
  const phone = { dev: "b1", name: "Ole", role: "crew", grants: [], state: "paired", lost_numbers: [], also: [], held: 0 };
  answers.set("GET devices", { body: { devices: [phone] } });
  answers.set("PATCH devices/b1", { body: phone });
  const page = await show(PeopleView);
  await choose(page, "rights-b1", "guest");
  await choose(page, "may-take-b1");
  page.send(page.find((one) => one.dataset.form === "rights" || one.getAttribute("data-form") === "rights"), "submit");
  await drawn();
  assert.deepEqual(sent.at(-1), ["PATCH", "devices/b1", { role: "guest", grants: ["take"] }]);
  page.end();
});
