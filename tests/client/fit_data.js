// The data of the fit check and the sourced cases, for the tests that run on node.

import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { openBook } from "../../static/domain/fit/sheets.js";
import { checkFit } from "../../static/domain/fit/verdict.js";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const CASES = "../vectors/fit/";

const told = (module) => execFileSync(process.env.PYTHON ?? "python3", ["-m", `tests.client.${module}`],
  { cwd: here("../.."), encoding: "utf8", maxBuffer: 2 ** 26 });
const written = () => (process.env.FIT_DATA ? readFileSync(process.env.FIT_DATA, "utf8") : told("fit_data"));

/** What the phone opens once. */
export const book = openBook(JSON.parse(written()));

/** Every sourced case, with the name of its kind. */
export const cases = readdirSync(here(CASES)).sort().filter((name) => name.endsWith(".json"))
  .flatMap((name) => JSON.parse(readFileSync(here(CASES + name), "utf8")).cases
    .map((one) => ({ ...one, kind: name.replace(".json", "") })));

/** The cases, their neighbours and random requests; what cannot be read is left out. */
export function everything() {
  const more = JSON.parse(told("fit_neighbours")).map((given, n) => ({ given, kind: given.kind, name: `request ${n}` }));
  return [...cases, ...more.filter(({ given }) => {
    try {
      return Boolean(fit(given) && fit({ ...given, offers: {}, links: [] }));
    } catch (error) {
      if (error.code !== "invalid-input") throw error;
      return false;
    }
  })];
}

export const fit = (request) => checkFit(request, book, "2026-11-25");

/** A small random generator (mulberry32), so that a failure can be seen again by its seed. */
export function randomFrom(seed) {
  let state = seed;
  const next = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (low, high) => low + Math.floor(next() * (high - low + 1));
  return { whole, pick: (list) => list[whole(0, list.length - 1)] };
}
