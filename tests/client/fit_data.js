// The data of the fit check and the sourced cases, for the tests that run on node.

import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { openBook } from "../../static/domain/fit/sheets.js";
import { checkFit } from "../../static/domain/fit/verdict.js";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const CASES = "../vectors/fit/";

function written() {
  if (process.env.FIT_DATA) return readFileSync(process.env.FIT_DATA, "utf8");
  return execFileSync(process.env.PYTHON ?? "python3", ["-m", "tests.client.fit_data"],
    { cwd: here("../.."), encoding: "utf8", maxBuffer: 2 ** 26 });
}

/** What the phone opens once. */
export const book = openBook(JSON.parse(written()));

/** Every sourced case, with the name of its kind. */
export const cases = readdirSync(here(CASES)).sort().filter((name) => name.endsWith(".json"))
  .flatMap((name) => JSON.parse(readFileSync(here(CASES + name), "utf8")).cases
    .map((one) => ({ ...one, kind: name.replace(".json", "") })));

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
