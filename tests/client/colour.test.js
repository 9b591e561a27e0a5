// Contrast by the formula of WCAG 2.2 (relative luminance, contrast ratio), from the colours
// as they stand in vars.css. Limits: 4.5 for text (1.4.3), 3 for edges of controls (1.4.11);
// Deck keeps 7 for text, since glare eats contrast (common practice, no source).
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test from "node:test";

const css = readFileSync(new URL("../../static/styles/vars.css", import.meta.url), "utf8");

function lights() {
  const found = {};
  for (const [, head, body] of css.matchAll(/([^{}]+)\{([^}]*)\}/g)) {
    const light = /data-light="(\w+)"/.exec(head);
    if (!light) continue;
    found[light[1]] = Object.fromEntries([...body.matchAll(/--([\w-]+):\s*(#[0-9A-F]{6})/gi)]
      .map(([, name, colour]) => [name, colour]));
  }
  return found;
}

function luminance(colour) {
  const [r, g, b] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16) / 255)
    .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(one, other) {
  const [dark, bright] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (bright + 0.05) / (dark + 0.05);
}

const TEXTS = ["text", "quiet", "action", "good", "watch", "stop", "ask", "aside"];

test("the formula gives 21 for black on white and 1 for a colour on itself", () => {
  assert.equal(contrast("#000000", "#FFFFFF"), 21);
  assert.equal(contrast("#123456", "#123456"), 1);
});

test("all three lights are there", () => {
  assert.deepEqual(Object.keys(lights()).sort(), ["below", "deck", "night"]);
});

for (const [light, colours] of Object.entries(lights())) {
  test(`in ${light} all text and edges stand out from page and panel`, () => {
    const least = light === "deck" ? 7 : 4.5;
    for (const ground of ["page", "panel"]) {
      for (const name of TEXTS) {
        const found = contrast(colours[name], colours[ground]);
        assert.ok(found >= least, `${name} on ${ground}: ${found.toFixed(2)}`);
      }
      const edge = contrast(colours.line, colours[ground]);
      assert.ok(edge >= 3, `line on ${ground}: ${edge.toFixed(2)}`);
    }
  });
  if (light !== "night") {
    test(`in ${light} text on filled buttons and chips stands out`, () => {
      assert.ok(contrast(colours["on-action"], colours.action) >= 4.5);
      assert.ok(contrast(colours["on-stop"], colours.stop) >= 4.5);
    });
  }
}

test("Night is red on black and nothing else", () => {
  for (const [name, colour] of Object.entries(lights().night)) {
    const [r, g, b] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));
    assert.ok(colour === "#000000" || (r > 4 * g && b === 0), `${name} ${colour}`);
  }
});
