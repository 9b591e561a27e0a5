// Addresses inside the page.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";
import { PLACES, href, parseRoute } from "../../static/routes.js";
import { PLACE, TITLE } from "../../static/words.js";

test("an address is read back as it was made, whatever stands in it", () => {
  for (const name of ["P034", "a/b", "100 %", "ü?&=#", "..", "%2F"]) {
    const found = parseRoute(href(["part", name], { at: name }));
    assert.equal(found.view, "part");
    assert.equal(found.params.part, name);
    assert.equal(found.query.at, name);
  }
});

test("a printed label's address opens the find page with its text", () => {
  const found = parseRoute("#/l/TGL:LEMJR");
  assert.deepEqual([found.view, found.place, found.params.label], ["find", "find", "TGL:LEMJR"]);
});

test("what leads nowhere is the find page", () => {
  for (const hash of ["", "#", "#/", "#/nowhere", "#/fit/a/b/c/d", "#/%E0%A4%A"]) {
    assert.equal(parseRoute(hash).view, "find", hash);
  }
});

test("every place of the bar has an address, a word and a view", () => {
  for (const place of PLACES) {
    assert.equal(parseRoute(href([place])).place, place);
    assert.ok(PLACE[place]);
  }
});

test("every view has a title and a module", () => {
  const app = readFileSync(new URL("../../static/views.js", import.meta.url), "utf8");
  const views = [...app.matchAll(/import\("\.\/views\/([a-z-]+)\.js"\)/g)].map(([, name]) => name);
  assert.deepEqual(Object.keys(TITLE).sort(), ["find", ...views].sort());
});
