// While an answer is on its way nothing is judged by it, and what was on screen stays.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const asked = [];
globalThis.fetch = (url) => new Promise((resolve) => {
  asked.push({ path: String(url).replace("/api/", ""), give: (body) => resolve({ ok: true, status: 200, json: async () => body }) });
});
const give = async (path, body) => {
  asked.filter((one) => one.path === path).forEach((one) => one.give(body));
  await drawn();
};

const { route } = await import("../../static/state.js");
const { parseRoute } = await import("../../static/routes.js");
const { ChangesView } = await import("../../static/views/changes.js");
const { LearnView } = await import("../../static/views/learn.js");
const { ABOARD, LEARN } = await import("../../static/words.js");

test("what was read of the log stays while more of it comes", async () => {
  const changes = Array.from({ length: 50 }, (_, at) => ({ id: `c${at}`, text: `Took ${at}`, at: "2027-05-01T10:00:00Z" }));
  const page = await show(ChangesView);
  await give("changes?limit=50", { changes });
  page.press(ABOARD.more_parts);
  await drawn();
  assert.match(page.text(), /Took 49/);
  await give("changes?limit=100", { changes: [...changes, { id: "c50", text: "Took 50", at: "2027-05-01T10:00:00Z" }] });
  assert.match(page.text(), /Took 50/);
  page.end();
});

test("a child's count is compared with the list, not with nothing", async () => {
  route.value = parseRoute("#/work/S22/learn");
  const line = { part: "P034", name: "Filter", needed: 1, unit: "pcs", take: [{ locker: "L17", name: "Forepeak", code: "EMJR", quantity: 1 }] };
  const card = { service: "S22", what: "Oil", cautions: [], shut_off: [], kit: [line], steps: [], after: [] };
  const page = await show(LearnView);
  await give("services/S22/card", card);
  for (let turn = 0; turn < 8 && !page.find((one) => one.getAttribute("name") === "count" || one.name === "count"); turn += 1) {
    page.press(LEARN.next);
    await drawn();
  }
  page.type("count", "3");
  await drawn();
  page.submit();
  await drawn();
  assert.ok(!page.text().includes(LEARN.other("0")), page.text());
  await give("lockers/L17", { lines: [{ no: "P034", quantity: 3 }] });
  page.submit();
  await drawn();
  assert.ok(page.text().includes(LEARN.right("3")));
  page.end();
});
