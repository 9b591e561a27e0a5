/**
 * The slip that goes with a loan between two vessels, and the one that comes back with it.
 * Mirrors spares/domain/slip.py. The seal only finds damage on the way.
 */

import { isDate } from "../sync/checks.js";
import { InvalidInput } from "./errors.js";

const VERSION = 1;
const KINDS = ["loan", "return"];
const MOST_LINES = 100;
const GREATEST_Q = 10 ** 9;
const LONGEST = 200;
const NAMES = ["spares_slip", "kind", "loan", "lender", "borrower", "on", "part", "lines", "seal"];
const PART = ["name", "maker", "number", "kind", "unit"];
const LENDER = ["id", "mark", "name"];
const LINE = ["q", "condition", "expires"];
const CONDITIONS = [null, "new", "used-good", "suspect"];
const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const PRINTABLE = /^(?: |[^\p{C}\p{Z}])*$/u;

const only = (of, names) => Object.fromEntries(names.map((name) => [name, of[name] ?? null]));

/** Write a slip; `q` of each line in thousandths of the part's unit. */
export async function sealed(kind, loan, lender, borrower, on, part, lines) {
  const bare = { spares_slip: VERSION, kind, loan, lender: only(lender, LENDER), borrower, on,
    part: only(part, PART), lines: lines.map((line) => only(line, LINE)) };
  return { ...bare, seal: await sealOf(bare) };
}

/**
 * Give the lines of a return, one for each time, in thousandths; of too many the first as one. So a later slip
 * begins as an earlier one does, and of two that are taken in apart what both tell of is known by how far it goes.
 */
export function asLines(given) {
  const first = Math.max(given.length - MOST_LINES + 1, 1);
  return [given.slice(0, first).reduce((all, q) => all + q, 0), ...given.slice(first)];
}

/** Take a slip as it came; throws InvalidInput where it is none, of a later version, or damaged. */
export async function readSlip(slip) {
  if (!isPlain(slip) || !("spares_slip" in slip)) throw InvalidInput.at("#/slip", "this is no slip of a loan");
  if (slip.spares_slip !== VERSION) throw InvalidInput.at("#/slip/spares_slip", "a slip of another version");
  const { seal, ...bare } = slip;
  if (!hasOnly(slip, NAMES) || seal !== await sealOf(bare)) {
    throw InvalidInput.at("#/slip/seal", "the slip was damaged or changed on its way");
  }
  check(slip);
  return slip;
}

/** Give how much a slip speaks of, in thousandths. */
export const quantityOf = ({ lines }) => lines.reduce((sum, line) => sum + line.q, 0);

function check(slip) {
  const said = {
    kind: KINDS.includes(slip.kind), loan: UUID.test(slip.loan), lender: hasTexts(slip.lender, LENDER),
    borrower: isText(slip.borrower), on: isText(slip.on), part: hasTexts(slip.part, PART) && Boolean(slip.part.name),
    lines: Array.isArray(slip.lines) && slip.lines.length > 0 && slip.lines.length <= MOST_LINES && slip.lines.every(isLine),
  };
  for (const [name, isGood] of Object.entries(said)) {
    if (!isGood) throw InvalidInput.at(`#/slip/${name}`, "this is not as a slip has it");
  }
}

const isPlain = (value) => value !== null && typeof value === "object" && !Array.isArray(value);
const hasOnly = (value, names) => isPlain(value) && Object.keys(value).sort().join() === [...names].sort().join();
const isText = (value) => typeof value === "string" && [...value].length <= LONGEST && PRINTABLE.test(value);
const hasTexts = (value, names) => hasOnly(value, names)
  && Object.values(value).every((one) => one === null || isText(one));
const isLine = (line) => hasOnly(line, LINE) && Number.isInteger(line.q) && line.q > 0 && line.q <= GREATEST_Q
  && CONDITIONS.includes(line.condition) && (line.expires === null || isADay(line.expires));

function isADay(text) {
  try {
    isDate(text, "#/expires");
    return true;
  } catch {
    return false;
  }
}

async function sealOf(bare) {
  const sum = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(written(bare)));
  return [...new Uint8Array(sum)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Write plain JSON with sorted names and no other than ASCII characters, as Python's `json` does. */
function written(value) {
  if (Array.isArray(value)) return `[${value.map(written).join(",")}]`;
  if (isPlain(value)) return `{${Object.keys(value).sort().map((name) => `${ascii(name)}:${written(value[name])}`).join(",")}}`;
  return typeof value === "string" ? ascii(value) : JSON.stringify(value);
}

const ascii = (text) => JSON.stringify(text)
  .replace(/[^ -~]/g, (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, "0")}`);
