// Choosing a locker: the focus stays with what takes the place of the pressed button, and L1 waits for L17.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const lockers = [["L1", "Forepeak"], ["L17", "Drawer"], ["L2", "Bench"]].map(([no, name]) => ({ id: no, no, name, code: null }));
globalThis.fetch = async () => ({ ok: true, status: 200, json: async () => ({ lockers }) });

const { LockerPicker } = await import("../../static/pieces/picker.js");
const { useState } = await import("../../static/vendor/hooks.js");
const { html } = await import("../../static/pieces/html.js");
const { PICK } = await import("../../static/words.js");

const Form = () => {
  const [locker, setLocker] = useState("");
  return html`<${LockerPicker} label="Locker" name="locker" value=${locker} onValue=${setLocker} />`;
};
const focused = () => document.activeElement;

test("a number that begins another one is chosen by hand, and so can both be", async () => {
  const page = await show(Form);
  await drawn();
  page.type("locker", "L1");
  await drawn();
  assert.ok(!page.find(PICK.change));
  assert.ok(page.find("L1 Forepeak") && page.find("L17 Drawer"));
  page.type("locker", "L17");
  await drawn();
  assert.ok(page.find(PICK.change));
  page.end();
});

test("the focus goes with the choice", async () => {
  const page = await show(Form);
  await drawn();
  page.type("locker", "ben");
  await drawn();
  const option = page.find("L2 Bench");
  option.focus();
  page.press("L2 Bench");
  await drawn();
  assert.equal(focused().textContent.trim(), PICK.change);
  page.press(PICK.change);
  await drawn();
  assert.equal(focused().localName, "input");
  page.end();
});
