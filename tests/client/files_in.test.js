// Files in: what was put right is not lost to a slow answer, and a file may be chosen again.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

const asked = [];
globalThis.fetch = (url, more) => new Promise((resolve, reject) => {
  asked.push({ url: new URL(String(url), "https://boat.local"), more, give: (body) => resolve({ ok: true, status: 200, json: async () => body }), fail: () => reject(new TypeError("network")) });
});

const { MovingIn } = await import("../../static/pieces/moving-in.js");
const { FilesView } = await import("../../static/views/files.js");
const { FILES, PROBLEM } = await import("../../static/words.js");

const named = (name) => (one) => one.getAttribute("name") === name || one.name === name;
async function choose(page, name, file) {
  const field = page.find(named(name));
  field.value = `C:\\fakepath\\${file.name}`;
  field.files = [file];
  page.send(field, "click");
  assert.equal(field.value, "", "the same file again would be no change");
  page.send(field, "change");
  await drawn();
}
const columns = (first, second) => [first, second].map((field, at) => ({ heading: `Column ${at}`, field, mark: null, order: null, examples: [] }));
const looked = (some) => ({ columns: some, fields: ["name", "maker", "number"], lines: [], notes: [], new_lockers: [], rows: 2, good: 2, look_at: 0,
  skip: 0, coming: 2, not_shown: 0 });

test("a second column that is put right at once does not undo the first", async () => {
  const page = await show(MovingIn);
  await choose(page, "sheet", { name: "spares.csv" });
  asked.at(-1).give(looked(columns("name", null)));
  await drawn();
  const pick = async (at, field) => {
    const list = page.find(named(`column-${at}`));
    list.value = field;
    page.send(list, "change");
    await drawn();
  };
  await pick(0, "maker");
  await pick(1, "number");
  const said = JSON.parse(asked.at(-1).url.searchParams.get("columns")).map(({ field }) => field);
  assert.deepEqual(said, ["maker", "number"]);
  asked.at(-1).give(looked(columns("maker", "number")));
  await drawn();
  asked.at(-2).give(looked(columns("maker", null)));       // the slow one comes last
  await drawn();
  const shown = page.all((one) => one.localName === "select").map((list) => list.childNodes.find((one) => one.getAttribute("selected") !== null)?.value ?? "");
  assert.deepEqual(shown.slice(0, 2), ["maker", "number"]);
  page.end();
});

test("tables that could not be brought in can be brought in with another press", async () => {
  const page = await show(FilesView);
  asked.length = 0;
  await choose(page, "file", { name: "vessel.zip" });
  asked.at(-1).give({ look: true, vessel: "TGL", changes: 3, things: { part: 3 } });
  await drawn();
  page.press(FILES.bring(3));
  await drawn();
  asked.at(-1).fail();
  await drawn();
  assert.ok(page.text().includes(PROBLEM["no-answer"]));
  assert.ok(page.find(FILES.bring(3)), "the button is still there");
  page.end();
});
